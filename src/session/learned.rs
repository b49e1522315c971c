//! What is learned of machines: one small file a machine, read when a session starts and kept when a step closes.

use std::path::{Path, PathBuf};

use serde_json::{Map, Value, json};

use crate::checklist::{Fact, FactValue};
use crate::job::{Learned, WorkTurns};
use crate::session::{House, write_whole};

/// A profile is a few lines; more is none of ours.
const LONGEST_PROFILE: u64 = 64 * 1024;

fn file(folder: &Path, machine: &str) -> Option<PathBuf> {
    let plain = !machine.is_empty() && machine.len() <= 64;
    let plain = plain && machine.chars().all(|letter| letter.is_ascii_alphanumeric() || letter == '-');
    plain.then(|| folder.join(format!("{machine}.json")))
}

/// Reads what is known of a machine; nothing when there is no profile or it cannot be read.
pub(super) fn read(folder: &Path, machine: &str) -> Learned {
    members(folder, machine).as_ref().map(Learned::from_json).unwrap_or_default()
}

fn members(folder: &Path, machine: &str) -> Option<Map<String, Value>> {
    let path = file(folder, machine)?;
    if std::fs::metadata(&path).ok()?.len() > LONGEST_PROFILE {
        return None;
    }
    serde_json::from_slice::<Value>(&std::fs::read(path).ok()?).ok()?.as_object().cloned()
}

/// Keeps what a closed step has learned; the rest of the profile stays as it is.
pub(super) fn keep(folder: &Path, machine: &str, facts: &[Fact]) -> std::io::Result<()> {
    let known = read(folder, machine);
    let learned = facts.iter().fold(known.clone(), with);
    let Some(path) = file(folder, machine).filter(|_| learned != known) else { return Ok(()) };
    let mut profile = members(folder, machine).unwrap_or_default();
    profile.insert("schema".to_owned(), json!("setwright/machine/1"));
    profile.insert("machine".to_owned(), json!(machine));
    profile.extend(learned.to_json());
    std::fs::create_dir_all(folder)?;
    write_whole(&path, &format!("{}\n", Value::Object(profile)))
}

fn with(mut known: Learned, fact: &Fact) -> Learned {
    match (fact.id, &fact.value) {
        ("tram.sense" | "level.sense", FactValue::Word(word)) => {
            known.work_turns = WorkTurns::named(word).or(known.work_turns);
        }
        ("tram.play", FactValue::Number(play)) => known.play_deg = Some(*play),
        ("tram.indicator-factor", FactValue::Number(factor)) => known.indicator_factor = Some(*factor),
        _ => {}
    }
    known
}

/// The name of a shop's only machine, until it has another.
const ONLY_MACHINE: &str = "machine";

/// Returns the machine of a quick task: as named, else the only one of which something is known.
pub fn machine(house: &House, named: Option<&str>) -> String {
    let known = || match known(&house.machines).as_slice() {
        [only] => only.clone(),
        _ => ONLY_MACHINE.to_owned(),
    };
    named.map_or_else(known, str::to_owned)
}

/// Lists the machines of which something is known, by name.
fn known(folder: &Path) -> Vec<String> {
    let entries = std::fs::read_dir(folder)
        .map(|entries| entries.filter_map(Result::ok).map(|entry| entry.path()).collect::<Vec<_>>());
    let mut names: Vec<String> = entries
        .unwrap_or_default()
        .iter()
        .filter(|path| path.extension().is_some_and(|ending| ending == "json"))
        .filter_map(|path| path.file_stem().map(|name| name.to_string_lossy().into_owned()))
        .filter(|name| file(folder, name).is_some())
        .collect();
    names.sort();
    names
}
