//! Stories of the job between the first piece and the last, over the wire face of the real program, each ending in what
//! it is done when.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, reason = "a test may stop at what it did not expect")]

#[path = "support/player.rs"]
mod player;
#[path = "support/rig.rs"]
mod rig;

use rig::{Rig, program, taken};
use serde_json::json;

const JOB: &str = "flow-sensor-body";

/// Plays until the second piece is asked for.
fn at_the_second_piece(rig: &mut Rig) {
    rig.until("check.next", 0, 1);
    taken(&rig.send(&json!({"choose": "next-piece"})));
    assert_eq!(rig.state["piece"], 2);
}

/// Caught by a gate for each piece, keyed to its serial: nothing of the check is asked before the piece is level.
#[test]
fn mistake_61_the_next_piece_is_not_levelled() {
    let home = tempfile::tempdir().unwrap();
    let mut rig = Rig::start(home.path(), JOB);
    at_the_second_piece(&mut rig);
    assert_eq!((rig.state["step"].as_str(), rig.ask_id().as_str()), (Some("rotary-tram"), "tram.serial"));
    // Handing the batch over or looking at the piece is no answer here.
    assert!(rig.send(&json!({"choose": "hand-over"})).get("recorded").is_none());
    let mut asked = Vec::new();
    while rig.state["step"] != "piece-check" {
        asked.push(rig.ask_id());
        rig.step();
    }
    for needed in ["tram.serial", "tram.rear", "tram.front"] {
        assert!(asked.iter().any(|ask| ask == needed), "{needed} is not asked for piece 2: {asked:?}");
    }
    let registers = asked.iter().any(|ask| ask.starts_with("capture."));
    assert!(registers, "A is not captured for piece 2: {asked:?}");
}

/// The log of a story is evidence: it names who did what, before and after the shift.
fn review_of(rig: Rig, home: &std::path::Path) -> String {
    let name = rig.name();
    rig.leave();
    String::from_utf8(program(home).args(["review", &name]).output().unwrap().stdout).unwrap()
}

/// Story 2: the evening shift takes over and Y has moved. Done when Y was touched again, every register, the tool and the
/// modes were read back, and both names stand in the log.
#[test]
fn story_2_a_shift_is_handed_over() {
    let home = tempfile::tempdir().unwrap();
    let mut rig = Rig::start(home.path(), JOB);
    rig.until("check.looked", 0, 1);
    taken(&rig.send(&json!({"happened": "shift-handover"})));
    let _ = rig.send(&json!({"by": "EM"}));
    for text in ["-315.406", "-315.406", "-315.405"] {
        assert_eq!(rig.ask_id(), "pickup.check-x");
        rig.takes(text);
    }
    // The centreline was picked up at -187.463: 0.008 mm is more than two such touches explain.
    for text in ["-187.471", "-187.471", "-187.471"] {
        assert_eq!(rig.ask_id(), "pickup.check-y");
        rig.takes(text);
    }
    let gate = rig.failed().expect("Y has moved");
    assert_eq!(gate["id"], "pickup.check-y", "{gate}");
    assert!(gate["says"].as_str().unwrap().contains("has moved"), "{gate}");
    taken(&rig.send(&json!({"again": {"gate": "pickup.check-y", "why": "a chip under the tip"}})));
    for text in ["-187.463", "-187.462", "-187.463"] {
        assert_eq!(rig.ask_id(), "pickup.check-y");
        rig.takes(text);
    }
    for text in ["-362.389", "-362.388", "-362.389"] {
        assert_eq!(rig.ask_id(), "pickup.check-z");
        rig.takes(text);
    }
    let mut asked = Vec::new();
    while rig.ask_id() != "check.looked" {
        asked.push(rig.ask_id());
        rig.step();
    }
    for needed in ["capture.registers-after", "run.unit-mode"] {
        assert!(asked.iter().any(|ask| ask == needed), "{needed} is not read back: {asked:?}");
    }
    assert!(asked.iter().any(|ask| ask.starts_with("run.tool")), "no tool is read back: {asked:?}");
    let text = review_of(rig, home.path());
    assert!(text.contains("shift-handover") && text.contains("KT") && text.contains("EM"), "{text}");
}
