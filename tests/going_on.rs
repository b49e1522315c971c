//! Going on with a session: the right log, what happened, long pauses, and readings that were written on paper. Stories
//! of the job over the wire face of the real program, each ending in what it is done when.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout,
    reason = "a test may stop at what it did not expect"
)]

#[path = "support/player.rs"]
mod player;
#[path = "support/rig.rs"]
mod rig;

use std::path::Path;

use rig::{Rig, program, taken};
use serde_json::json;

const JOB: &str = "flow-sensor-body";

fn clocked(home: &Path, arguments: &[&str], clock: &str) -> Rig {
    let mut command = program(home);
    command.env("SETWRIGHT_TEST_CLOCK", clock).args(arguments);
    Rig::launch(command, JOB, true)
}

fn text_of(home: &Path, name: &str) -> String {
    let output = program(home).args(["review", name]).output().unwrap();
    String::from_utf8(output.stdout).unwrap()
}

/// Story 11: a phone call between touch 2 and 3. Done when the partly filled step is kept and one repeat is asked.
#[test]
fn story_11_a_phone_call_between_two_touches() {
    let home = tempfile::tempdir().unwrap();
    let mut rig = clocked(home.path(), &["follow", JOB, "--wire"], "2026-03-02T09:00:00+01:00");
    rig.until("pickup.y-front", 0, 3);
    let name = rig.name();
    rig.leave();
    let mut rig = clocked(home.path(), &["resume", &name, "--wire"], "2026-03-02T09:50:00+01:00");
    while rig.state["step"] == "resume" {
        rig.step();
    }
    let ask = rig.state["ask"].clone();
    assert_eq!(
        (ask["id"].as_str(), ask["repeat"].as_u64(), ask["of"].as_u64()),
        (Some("pickup.y-front"), Some(3), Some(4))
    );
    assert!(ask["say"].as_str().unwrap().contains("long away: once more"), "{ask}");
    taken(&rig.enter("-235.374"));
    assert_eq!(rig.ask_id(), "pickup.y-front");
    taken(&rig.enter("-235.374"));
    assert_ne!(rig.ask_id(), "pickup.y-front", "one repeat is enough");
    let text = text_of(home.path(), &name);
    assert!(text.contains("minutes passed since the last entry") && text.contains("long-pause"), "{text}");
}

/// The same within half an hour: nothing is asked twice.
#[test]
fn a_short_pause_asks_for_nothing() {
    let home = tempfile::tempdir().unwrap();
    let mut rig = clocked(home.path(), &["follow", JOB, "--wire"], "2026-03-02T09:00:00+01:00");
    rig.until("pickup.y-front", 0, 3);
    let name = rig.name();
    rig.leave();
    let mut rig = clocked(home.path(), &["resume", &name, "--wire"], "2026-03-02T09:20:00+01:00");
    while rig.state["step"] == "resume" {
        rig.step();
    }
    assert_eq!(rig.state["ask"]["of"], 3);
    taken(&rig.enter("-235.374"));
    assert_ne!(rig.ask_id(), "pickup.y-front");
}

/// Story 12: the laptop died and readings stand on paper. Done when each is in the log with the paper it came from.
#[test]
fn story_12_readings_on_paper_are_typed_later() {
    let home = tempfile::tempdir().unwrap();
    let mut rig = Rig::start(home.path(), JOB);
    rig.until("pickup.x", 0, 1);
    taken(&rig.send(&json!({"by": "EM"})).get("by").map_or(json!({}), |_| json!({"recorded": 1})));
    taken(&rig.send(&json!({"late": {"enter": "-315.406", "paper": "17"}})));
    // A slip is doubted on paper too, and the paper is not forgotten over it.
    let reply = rig.send(&json!({"late": {"enter": "-31.5406", "paper": "17"}}));
    assert_eq!(reply["doubt"]["slip"], "divided-by-10", "{reply}");
    taken(&rig.send(&json!({"sure": "so it stands on the paper"})));
    let seq = rig.send(&json!({"late": {"enter": "-315.405", "paper": " "}}));
    assert!(seq["refused"].as_str().unwrap().contains("Which paper"), "{seq}");
    let name = rig.name();
    rig.leave();
    let text = text_of(home.path(), &name);
    let late: Vec<&str> = text.lines().filter(|line| line.contains("entered late from paper 17")).collect();
    assert_eq!(late.len(), 2, "{text}");
    assert!(late.iter().all(|line| line.contains("EM")), "{late:?}");
}

#[test]
fn mistake_63_the_wrong_log_is_gone_on_with() {
    let home = tempfile::tempdir().unwrap();
    let mut rig = Rig::start(home.path(), JOB);
    rig.until("tram.machine-a", 0, 1);
    let name = rig.name();
    rig.leave();
    let mut rig = Rig::resume(home.path(), &name, JOB);
    taken(&rig.send(&json!({"choose": "nothing"})));
    assert_eq!(rig.ask_id(), "resume.fixture-mark");
    taken(&rig.enter("ring-54"));
    let gate = rig.failed().unwrap();
    assert_eq!((gate["id"].as_str(), gate["kind"].as_str()), (Some("resume.fixture"), Some("stop")));
    assert!(gate["says"].as_str().unwrap().contains("wrong log"), "{gate}");
    assert!(rig.state["ask"].is_null());
    let reply = rig.send(&json!({"concede": {"gate": "resume.fixture", "why": "it will do", "by": "KT"}}));
    assert!(reply.get("refused").is_some(), "{reply}");
    taken(&rig.send(&json!({"again": {"gate": "resume.fixture", "why": "read the wrong side"}})));
    taken(&rig.enter("Ring 48"));
    // The other piece of the same job is no better.
    taken(&rig.enter("FSB-07"));
    assert_eq!(rig.failed().unwrap()["id"], "resume.piece");
    taken(&rig.send(&json!({"again": {"gate": "resume.piece", "why": "looked at the tray"}})));
    taken(&rig.enter("fsb 01"));
    assert_eq!(rig.state["step"], "rotary-tram");
}

#[test]
fn a_resume_says_what_is_void_and_what_stands() {
    let home = tempfile::tempdir().unwrap();
    for (word, void, step) in [
        ("emergency-stop", "captured A", "linear-pickup"),
        ("bump", "X Y Z A", "fixture-fit"),
        ("rotary-moved", "centreline", "brief"),
        ("fixture-off", "off-centre", "fixture-fit"),
        ("part-slipped", "clocking", "rotary-tram"),
        ("temperature-changed", "check touch", "linear-pickup"),
    ] {
        let mut rig = Rig::start(home.path(), JOB);
        rig.until("run.unit-mode", 0, 1);
        let name = rig.name();
        rig.leave();
        let mut rig = Rig::resume(home.path(), &name, JOB);
        taken(&rig.send(&json!({"choose": word})));
        let said = rig.state["cautions"].to_string();
        assert!(said.contains(void) && said.contains("Still standing"), "{word}: {said}");
        assert_eq!(rig.state_of(step), "void", "{word}");
        taken(&rig.send(&json!({"choose": "nothing"})));
        while rig.state["step"] == "resume" {
            rig.step();
        }
        assert_eq!(rig.state["step"], step, "{word}");
    }
}

#[test]
fn a_drill_that_broke_quarantines_its_piece() {
    let home = tempfile::tempdir().unwrap();
    let mut rig = Rig::start(home.path(), JOB);
    rig.until("check.looked", 0, 1);
    taken(&rig.send(&json!({"happened": "drill-broken"})));
    // The new drill is read back and measured first, then the piece is looked at.
    assert_eq!(rig.ask_id(), "run.tool-length");
    while rig.ask_id().starts_with("run.tool-") {
        rig.step();
    }
    assert_eq!((rig.ask_id().as_str(), rig.state["piece"].as_u64()), ("check.broken-drill", Some(1)));
    taken(&rig.send(&json!({"choose": "set-aside"})));
    assert_eq!(rig.ask_id(), "check.next");
    taken(&rig.send(&json!({"choose": "next-piece"})));
    assert_eq!(rig.state["piece"], 2);
    let closed = rig.seen.iter().rev().find(|step| step["step"] == "piece-check").unwrap();
    assert_eq!(closed["verdict"], "outside");
    // The same serial again is noticed: the same piece, levelled anew, or the wrong serial read.
    taken(&rig.enter("FSB-01"));
    let gate = rig.failed().unwrap();
    assert_eq!((gate["id"].as_str(), gate["kind"].as_str()), (Some("tram.serial-new"), Some("ask")));
    assert!(gate["says"].as_str().unwrap().contains("as piece 1"), "{gate}");
}
