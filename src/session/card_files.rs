//! The shop's own job cards, as files in their folder.

use std::fs;
use std::io::{self, Read};
use std::path::{Path, PathBuf};

use crate::job::{self, CardFaults, JobCard};
use crate::session::write_whole;

/// A card is at most 48 KiB; a little more is read so that a larger one is known as such.
const MOST_READ: u64 = 64 * 1024;

/// What can go wrong with the file of a card.
#[derive(Debug, thiserror::Error)]
pub enum CardFileError {
    /// The file or folder.
    #[error("{path}: {error}")]
    File {
        /// The file.
        path: PathBuf,
        /// What the system said.
        error: io::Error,
    },
    /// The card.
    #[error("{path}: {faults}")]
    Card {
        /// The file.
        path: PathBuf,
        /// The faults.
        faults: CardFaults,
    },
}

/// Lists the files of the cards in a folder, by name. A folder that is not there holds none.
pub fn card_files(folder: &Path) -> Vec<PathBuf> {
    let entries = fs::read_dir(folder).map(|entries| entries.filter_map(Result::ok).map(|entry| entry.path()));
    let is_card = |path: &PathBuf| path.extension().is_some_and(|ending| ending == "json");
    let mut paths: Vec<PathBuf> = entries.map(|paths| paths.filter(is_card).collect()).unwrap_or_default();
    paths.sort();
    paths
}

/// Reads the text of a card's file, whatever it holds.
pub fn card_text(path: &Path) -> Result<String, CardFileError> {
    let failed = |error: io::Error| CardFileError::File { path: path.to_owned(), error };
    let mut text = String::new();
    fs::File::open(path).and_then(|file| file.take(MOST_READ).read_to_string(&mut text)).map_err(failed)?;
    Ok(text)
}

/// Reads a card.
pub fn read_card(path: &Path) -> Result<JobCard, CardFileError> {
    let text = card_text(path)?;
    job::read(&text).map_err(|faults| CardFileError::Card { path: path.to_owned(), faults })
}

/// Keeps the text of a card under its short name and returns the file. What stood there before is replaced as a whole.
pub fn keep_card(folder: &Path, name: &str, text: &str) -> Result<PathBuf, CardFileError> {
    let path = folder.join(format!("{name}.json"));
    fs::create_dir_all(folder)
        .and_then(|()| write_whole(&path, text))
        .map_err(|error| CardFileError::File { path: path.clone(), error })?;
    Ok(path)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_card_is_kept_found_and_replaced() {
        let home = tempfile::tempdir().unwrap();
        let folder = home.path().join("cards");
        assert!(card_files(&folder).is_empty());
        let (name, text) = job::practice_cards()[0];
        let path = keep_card(&folder, name, text).unwrap();
        keep_card(&folder, name, text).unwrap();
        assert_eq!(card_files(&folder), std::slice::from_ref(&path));
        assert_eq!(read_card(&path).unwrap().id, name);
        keep_card(&folder, name, "{").unwrap();
        assert!(matches!(read_card(&path), Err(CardFileError::Card { .. })));
        assert_eq!(card_text(&path).unwrap(), "{");
    }
}
