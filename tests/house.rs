//! The shape of the house: imports point down, every file is small, ids are used once.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout,
    reason = "a test may stop at what it did not expect"
)]

use std::path::{Path, PathBuf};

/// The rooms, lowest floor first. `main` and `lib` stand above and beside them.
const FLOORS: &[&[&str]] = &[
    &["quantity"],
    &["calc"],
    &["scene"],
    &["job"],
    &["program"],
    &["checklist"],
    &["steps"],
    &["session_log"],
    &["session"],
    &["sheet"],
    &["shop"],
    &["plain", "wire", "workbook"],
    &["cli"],
];

fn floor(room: &str) -> Option<usize> {
    FLOORS.iter().position(|rooms| rooms.contains(&room))
}

fn sources(folder: &Path, found: &mut Vec<PathBuf>) {
    for entry in std::fs::read_dir(folder).unwrap().map(Result::unwrap) {
        let path = entry.path();
        if path.is_dir() {
            sources(&path, found);
        } else if path.extension().is_some_and(|ending| ending == "rs") {
            found.push(path);
        }
    }
}

fn all_sources() -> Vec<PathBuf> {
    let mut found = Vec::new();
    sources(&Path::new(env!("CARGO_MANIFEST_DIR")).join("src"), &mut found);
    found.sort();
    assert!(found.len() > 50, "the sources were not found");
    found
}

fn room_of(path: &Path) -> String {
    let inside = path.strip_prefix(Path::new(env!("CARGO_MANIFEST_DIR")).join("src")).unwrap();
    let first = inside.components().next().unwrap().as_os_str().to_string_lossy().into_owned();
    first.trim_end_matches(".rs").to_owned()
}

/// Rooms named in a source text after `crate::` or, in the binary, `setwright::`.
fn rooms_used(text: &str) -> Vec<String> {
    let mut rooms = Vec::new();
    for lead in ["crate::", "setwright::"] {
        for (at, _) in text.match_indices(lead) {
            let rest = &text[at + lead.len()..];
            let names = rest.strip_prefix('{').map_or_else(
                || vec![name_at(rest)],
                |list| list.split('}').next().unwrap_or_default().split(',').map(name_at).collect(),
            );
            rooms.extend(names.into_iter().filter(|name| !name.is_empty()));
        }
    }
    rooms
}

fn name_at(text: &str) -> String {
    text.trim_start().chars().take_while(|letter| letter.is_ascii_lowercase() || *letter == '_').collect()
}

#[test]
fn imports_point_down() {
    let mut wrong = Vec::new();
    for path in all_sources() {
        let room = room_of(&path);
        let Some(own) = floor(&room) else {
            assert!(
                room == "main" || room == "lib",
                "{room} is no room of the house: give it a floor in tests/house.rs"
            );
            continue;
        };
        for used in rooms_used(&std::fs::read_to_string(&path).unwrap()) {
            let Some(other) = floor(&used) else { continue };
            if used != room && other >= own {
                wrong.push(format!("{} imports {used}", path.display()));
            }
        }
    }
    assert!(wrong.is_empty(), "imports must point down:\n{}", wrong.join("\n"));
}

#[test]
fn the_import_test_can_fail() {
    assert_eq!(rooms_used("use crate::{cli, session::Session};"), ["cli", "session"]);
    assert_eq!(rooms_used("let x = crate::workbook::front();"), ["workbook"]);
    assert!(floor("cli") > floor("calc"));
}

#[test]
fn only_the_screen_knows_the_terminal() {
    for path in all_sources() {
        let text = std::fs::read_to_string(&path).unwrap();
        let uses = text.contains("ratatui") || text.contains("crossterm");
        let room = room_of(&path);
        assert!(!uses || room == "workbook" || room == "cli", "{} names the terminal library", path.display());
    }
}

#[test]
fn nothing_below_the_log_knows_files_or_time() {
    let log = floor("session_log").unwrap();
    for path in all_sources() {
        if floor(&room_of(&path)).is_none_or(|own| own >= log) {
            continue;
        }
        let text = std::fs::read_to_string(&path).unwrap();
        let code = text.split("#[cfg(test)]").next().unwrap();
        for word in ["std::fs", "std::time", "std::env", "std::io::stdin", "Instant::now"] {
            assert!(!code.contains(word), "{} knows {word}", path.display());
        }
    }
}

#[test]
fn ids_are_used_once_and_say_their_step() {
    let mut asks = Vec::new();
    for step in setwright::steps::every_step().steps {
        for ask in step.asks() {
            assert!(!asks.contains(&ask.id), "{} is used twice", ask.id);
            asks.push(ask.id);
        }
        let names: Vec<&str> = step.names().iter().map(|(name, _)| *name).collect();
        let mut unique = names.clone();
        unique.sort_unstable();
        unique.dedup();
        assert_eq!(unique.len(), names.len(), "a name is listed twice in {}", step.id());
    }
    assert!(asks.len() > 80, "the asks were not found");
}

const BEGIN: &str = "<!-- permanent ids: begin -->\n";
const END: &str = "<!-- permanent ids: end -->";

/// `SETWRIGHT_WRITE_IDS=1 cargo test --test house permanent` writes the table after a step was changed.
#[test]
fn the_permanent_ids_in_the_developers_page_are_those_of_the_code() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("DEVELOPERS.md");
    let page = std::fs::read_to_string(&path).unwrap();
    let (before, rest) = page.split_once(BEGIN).expect("the mark before the table");
    let (table, after) = rest.split_once(END).expect("the mark after the table");
    let current = setwright::steps::permanent_ids();
    if option_env!("CI").is_none() && std::env::vars().any(|(name, _)| name == "SETWRIGHT_WRITE_IDS") {
        std::fs::write(&path, format!("{before}{BEGIN}{current}{END}{after}")).unwrap();
        return;
    }
    assert!(table == current, "DEVELOPERS.md lists other ids than the code: see the comment at this test");
}
