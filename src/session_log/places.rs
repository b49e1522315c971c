//! Names of logs and of the files beside them.

use std::path::{Path, PathBuf};

use super::clock::Moment;
use super::store::Store;

/// The longest readable part of a name, so that a whole name with `_a01.jsonl` stays within 64 characters.
const MAX_SLUG: usize = 28;

/// Makes the readable part of a file name from any text: small letters a to z, digits and hyphens, at most 28.
pub fn slug(text: &str) -> String {
    let mut slug = String::new();
    for letter in text.chars().map(|letter| letter.to_ascii_lowercase()) {
        if slug.len() == MAX_SLUG {
            break;
        }
        if letter.is_ascii_lowercase() || letter.is_ascii_digit() {
            slug.push(letter);
        } else if !slug.is_empty() && !slug.ends_with('-') {
            slug.push('-');
        }
    }
    let slug = slug.trim_end_matches('-');
    if slug.is_empty() { "session".to_owned() } else { slug.to_owned() }
}

/// The name of a new log: `20260823T121502Z_<slug>_<8 hex>.jsonl`, in UTC.
pub(super) fn log_name(now: &Moment, slug_text: &str, bits: u128) -> String {
    format!("{}_{}_{:08x}.jsonl", now.file_stamp(), slug(slug_text), bits & 0xffff_ffff)
}

/// Tells whether a name is that of a log or an amendment: `20260823T121502Z_….jsonl`.
pub fn is_log_name(name: &str) -> bool {
    let stamp = name.bytes().zip("00000000T000000Z_".bytes());
    name.len() <= 64
        && name.strip_suffix(".jsonl").is_some()
        && stamp.clone().count() == 17
        && stamp.into_iter().all(|(have, want)| if want == b'0' { have.is_ascii_digit() } else { have == want })
}

/// The readable part of a log's name.
pub(super) fn slug_of(path: &Path) -> String {
    let stem = stem_of(path);
    let parts: Vec<&str> = stem.split('_').collect();
    match parts.as_slice() {
        [_, middle @ .., _] if !middle.is_empty() => middle.join("-"),
        _ => "session".to_owned(),
    }
}

/// The lock file of a log: the same name with `.lock`.
pub(super) fn lock_path(log: &Path) -> PathBuf {
    log.with_extension("lock")
}

/// The name for a tail that is set aside: the same name with `.torn-1`, `.torn-2`, and so on.
pub(super) fn torn_path(log: &Path, number: u32) -> PathBuf {
    log.with_extension(format!("torn-{number}"))
}

/// The name of a sealed log's amendment: the same name with `_a01`; an amendment's amendment is `_a02`.
pub(super) fn amendment_path(log: &Path, number: u32) -> PathBuf {
    let stem = stem_of(log);
    let is_amendment = |tail: &str| {
        tail.len() == 4 && tail.starts_with("_a") && tail.bytes().skip(2).all(|byte| byte.is_ascii_digit())
    };
    let base = match stem.len().checked_sub(4).and_then(|at| stem.split_at_checked(at)) {
        Some((base, tail)) if is_amendment(tail) => base,
        _ => &stem,
    };
    log.with_file_name(format!("{base}_a{number:02}.jsonl"))
}

/// The folder that a log lies in.
pub(super) fn folder_of(log: &Path) -> &Path {
    log.parent().unwrap_or(Path::new(""))
}

/// Lists the logs of a folder, newest name first; nothing when the folder cannot be listed.
pub(super) fn logs_in(store: &dyn Store, folder: &Path) -> Vec<PathBuf> {
    let mut names = store.names(folder).unwrap_or_default();
    names.retain(|name| is_log_name(name));
    names.sort_unstable_by(|one, other| other.cmp(one));
    names.into_iter().map(|name| folder.join(name)).collect()
}

/// Lists the tails set aside from a log, oldest first.
pub(super) fn torn_names(store: &dyn Store, log: &Path) -> Vec<String> {
    let prefix = format!("{}.torn-", stem_of(log));
    let number = |name: &str| name.strip_prefix(&prefix).and_then(|tail| tail.parse::<u32>().ok());
    let mut names = store.names(folder_of(log)).unwrap_or_default();
    names.retain(|name| number(name).is_some());
    names.sort_by_key(|name| number(name));
    names
}

fn stem_of(path: &Path) -> String {
    path.file_stem().unwrap_or_default().to_string_lossy().into_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    const NOON: Moment = Moment { wall_ms: 1_787_487_302_114, offset_minutes: 120, steady_ms: 0 };

    #[test]
    fn names_fit_every_file_system() {
        // FAT and Windows: no colon, no case difference between two names (only T and Z are capital), no device names.
        for text in ["S1 top plate", "ÄÖÜ/..\\x:y*?\"<>|", "", "CON", "a".repeat(400).as_str(), "--", "Teil Nr. 7 (µm)"]
        {
            let name = log_name(&NOON, text, 0x0123_4567_89ab_cdef);
            assert!(name.len() <= 60, "{name}");
            assert!(is_log_name(&name), "{name}");
            let rest = name.strip_prefix("20260823T121502Z_").and_then(|rest| rest.strip_suffix("_89abcdef.jsonl"));
            let rest = rest.unwrap_or_else(|| panic!("{name}"));
            assert!(rest.bytes().all(|b| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'-'), "{name}");
            assert!(!rest.is_empty());
            assert!(amendment_path(Path::new(&name), 99).to_string_lossy().len() <= 64);
        }
        assert_eq!(slug("S1 top plate"), "s1-top-plate");
        assert_eq!(slug("  ..  "), "session");
    }

    #[test]
    fn files_beside_a_log_carry_its_name() {
        let log = Path::new("sessions/20260823T121502Z_s1_89abcdef.jsonl");
        assert_eq!(lock_path(log), Path::new("sessions/20260823T121502Z_s1_89abcdef.lock"));
        assert_eq!(torn_path(log, 2), Path::new("sessions/20260823T121502Z_s1_89abcdef.torn-2"));
        let amendment = amendment_path(log, 1);
        assert_eq!(amendment, Path::new("sessions/20260823T121502Z_s1_89abcdef_a01.jsonl"));
        assert_eq!(amendment_path(&amendment, 2), Path::new("sessions/20260823T121502Z_s1_89abcdef_a02.jsonl"));
        assert_eq!(slug_of(log), "s1");
        assert!(!is_log_name("20260823T121502Z_s1_89abcdef.lock"));
        assert!(!is_log_name("notes.jsonl"));
    }
}
