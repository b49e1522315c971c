//! A folder of sessions at a glance.

use std::fmt;
use std::path::{Path, PathBuf};

use crate::checklist::SlotState;
use crate::session::{review, session_name};
use crate::session_log::{Class, is_log_name};

/// Where a session stopped.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Stopped {
    /// The step, with its piece.
    pub place: String,
    /// Titles of the steps whose results are void.
    pub void: Vec<&'static str>,
}

impl fmt::Display for Stopped {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str(&self.place)?;
        if self.void.is_empty() { Ok(()) } else { write!(formatter, "; void: {}", self.void.join(", ")) }
    }
}

/// How a session stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Standing {
    /// It can be gone on with.
    Unfinished(Stopped),
    /// It is closed for good.
    Sealed,
    /// It cannot be read whole; in words why.
    Unreadable(String),
}

/// A session at a glance.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Overview {
    /// Its file.
    pub path: PathBuf,
    /// Its short name.
    pub name: String,
    /// The job's title.
    pub title: String,
    /// How it stands.
    pub standing: Standing,
    /// When its last event was recorded, as the log has it.
    pub last: String,
    /// How many events it holds.
    pub events: u64,
}

/// Lists the sessions of a folder, newest first. A folder that is not there holds none.
pub fn overviews(folder: &Path) -> std::io::Result<Vec<Overview>> {
    Ok(session_files(folder)?.iter().map(|path| overview(path)).collect())
}

/// Lists the files of the sessions of a folder, newest first, without reading them.
pub fn session_files(folder: &Path) -> std::io::Result<Vec<PathBuf>> {
    let mut paths: Vec<PathBuf> = match std::fs::read_dir(folder) {
        Ok(entries) => entries.filter_map(Result::ok).map(|entry| entry.path()).filter(|path| is_log(path)).collect(),
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => Vec::new(),
        Err(error) => return Err(error),
    };
    paths.sort_unstable_by(|one, other| other.cmp(one));
    Ok(paths)
}

fn is_log(path: &Path) -> bool {
    path.file_name().is_some_and(|name| is_log_name(&name.to_string_lossy()))
}

/// Reads one session at a glance.
pub fn overview(path: &Path) -> Overview {
    let unreadable = |why: String| Overview {
        path: path.to_owned(),
        name: session_name(path),
        title: "unreadable".to_owned(),
        standing: Standing::Unreadable(why),
        last: String::new(),
        events: 0,
    };
    let review = match review(path) {
        Ok(review) => review,
        Err(error) => return unreadable(error.to_string()),
    };
    let standing = match review.check.class {
        Class::Damaged | Class::DamagedTail => {
            Standing::Unreadable(review.check.problem.as_ref().map(|problem| problem.what.clone()).unwrap_or_default())
        }
        _ if review.check.sealed => Standing::Sealed,
        _ => Standing::Unfinished(stopped_at(&review.progress)),
    };
    Overview {
        path: path.to_owned(),
        name: session_name(path),
        title: review.progress.card().title.clone(),
        standing,
        last: review.events.last().map(|event| event.t.clone()).unwrap_or_default(),
        events: review.check.count,
    }
}

fn stopped_at(progress: &crate::checklist::Progress) -> Stopped {
    let statuses = progress.statuses();
    let is_void = |state: SlotState| state == SlotState::Void;
    let void = statuses.iter().filter(|status| is_void(status.state)).map(|status| status.slot.step.title()).collect();
    let place = match statuses.iter().find(|status| status.current) {
        None => "all steps closed, not sealed".to_owned(),
        Some(status) => match status.slot.piece {
            Some(piece) => format!("{}, piece {piece} of {}", status.slot.step.title(), progress.card().part.batch),
            None => status.slot.step.title().to_owned(),
        },
    };
    Stopped { place, void }
}
