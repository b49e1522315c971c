//! The page that goes with one piece to the next operation, over the faces of the real program.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, reason = "a test may stop at what it did not expect")]

#[path = "support/player.rs"]
mod player;
#[path = "support/rig.rs"]
mod rig;

use std::path::Path;
use std::process::Output;

use rig::{Rig, program, taken};
use serde_json::json;

const JOB: &str = "flow-sensor-body";

fn page(home: &Path, session: &str, serial: &str, form: &str) -> Output {
    program(home).args(["sheet", session, "--serial", serial, "--as", form, "--out", "-"]).output().unwrap()
}

fn text(output: Output) -> String {
    assert_eq!(output.status.code(), Some(0), "{}", String::from_utf8_lossy(&output.stderr));
    String::from_utf8(output.stdout).unwrap()
}

/// The page of a piece holds its own numbers and nothing of the others; what is open is said with its question.
#[test]
fn each_piece_has_its_own_page() {
    let home = tempfile::tempdir().unwrap();
    let mut rig = Rig::start(home.path(), JOB);
    rig.until("check.next", 0, 1);
    while rig.state["piece"] != 2 || rig.ask_id() != "check.looked" {
        rig.step();
    }
    let name = rig.name();
    rig.leave();
    let first = text(page(home.path(), &name, "fsb-01", "markdown"));
    let second = text(page(home.path(), &name, "FSB-02", "markdown"));
    assert!(first.starts_with("# Piece FSB-01") && second.starts_with("# Piece FSB-02"), "{first}\n{second}");
    assert!(first.contains("Outcome: within its limits") && first.contains("clean and dry: yes (KT,"), "{first}");
    assert!(first.contains("What is left of this operation\n\nNothing."), "{first}");
    assert!(second.contains("Outcome: not checked to the end") && second.contains("not looked at yet"), "{second}");
    assert!(second.contains("Piece cut, spindle stopped"), "{second}");
    for (serial, page) in [("FSB-01", &first), ("FSB-02", &second)] {
        for axis in ["| X |", "| Y |", "| Z |", "| A |"] {
            assert!(page.contains(axis), "{serial} has no {axis}: {page}");
        }
    }
    let angle = |page: &str| page.lines().find(|line| line.starts_with("| A |")).unwrap().to_owned();
    assert_ne!(angle(&first), angle(&second), "each piece has an A of its own");
    let html = text(page(home.path(), &name, "FSB-01", "html"));
    assert!(html.contains("<h1>Piece FSB-01") && !html.contains("FSB-02"), "{html}");
}

#[test]
fn a_piece_that_was_set_aside_says_so_first() {
    let home = tempfile::tempdir().unwrap();
    let mut rig = Rig::start(home.path(), JOB);
    rig.until("check.looked", 0, 1);
    taken(&rig.send(&json!({"happened": "drill-broken"})));
    while rig.ask_id().starts_with("run.tool-") {
        rig.step();
    }
    taken(&rig.send(&json!({"choose": "set-aside"})));
    taken(&rig.send(&json!({"choose": "next-piece"})));
    let name = rig.name();
    rig.leave();
    let page = text(page(home.path(), &name, "FSB-01", "markdown"));
    assert!(page.contains("Outcome: SET ASIDE: "), "{page}");
}

#[test]
fn a_serial_that_is_not_there_names_those_that_are() {
    let home = tempfile::tempdir().unwrap();
    let mut rig = Rig::start(home.path(), JOB);
    rig.until("check.looked", 0, 1);
    let name = rig.name();
    rig.leave();
    let output = page(home.path(), &name, "FSB-77", "markdown");
    assert_eq!(output.status.code(), Some(66));
    assert!(String::from_utf8_lossy(&output.stderr).contains("Serials read: FSB-01"));
    assert_eq!(page(home.path(), &name, "FSB-01", "csv").status.code(), Some(2));
}
