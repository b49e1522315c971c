//! The mistakes of boring to size and pressing, made on purpose through the wire face of the real program, and the catch.
//!
//! The list is common practice of the trade, numbered as in the project's own table of mistakes.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, reason = "a test may stop at what it did not expect")]

#[path = "support/player.rs"]
mod player;
#[path = "support/rig.rs"]
mod rig;

use rig::{Rig, at, taken};
use serde_json::{Value, json};

const JOB: &str = "flow-sensor-body";

#[test]
fn mistake_55_one_big_last_pass() {
    // After one pass the whole of what is missing would be 7.9 + 8.01 - 7.889 = 8.021.
    let (_home, mut rig) = at(JOB, ("run.bore-programmed", 301, 1));
    taken(&rig.enter("8.021"));
    rig.is_stopped_by("run.bore-pass", "stop", "nobody knows yet how the cutter answers");
    rig.cannot_concede("run.bore-pass");
    taken(&rig.send(&json!({"again": {"gate": "run.bore-pass", "why": "programmed smaller"}})));
    taken(&rig.enter("7.96"));
    assert_eq!(rig.ask_id(), "run.bore-go");
    // Before the last pass: 8.009 gave 7.999, the full step is 8.020 and the damped one 8.018.
    let (_home, mut rig) = at(JOB, ("run.bore-programmed", 303, 1));
    taken(&rig.enter("8.02"));
    rig.is_stopped_by("run.bore-pass", "stop", "never goes past the target");
    // The card's damping is 0.8; response 0.110/0.109 by the two passes.
    let next = 8.009 + 0.8 * (8.01 - 7.999) / (0.110 / 0.109);
    assert!((rig.finding("run.bore-next", "b/3") - next).abs() < 1e-9);
}

#[test]
fn mistake_54_a_larger_program_that_gives_a_smaller_bore() {
    let (_home, mut rig) = at(JOB, ("run.bore-go", 301, 1));
    for text in ["7.87", "7.872", "7.871"] {
        let reply = rig.enter(text);
        if reply.get("doubt").is_some() {
            taken(&rig.send(&json!({"sure": "gauged twice"})));
        }
    }
    let failed = rig.failed().expect("the response has the wrong sign");
    assert_eq!((failed["id"].as_str(), failed["kind"].as_str()), (Some("cannot-be-worked-out"), Some("stop")));
    assert!(failed["says"].as_str().unwrap().contains("a larger program gave no larger bore"), "{failed}");
}

#[test]
fn mistake_56_go_and_no_go_are_swapped() {
    let (_home, mut rig) = at(JOB, ("run.bore-go", 300, 1));
    taken(&rig.enter("7.89"));
    taken(&rig.enter("7.888"));
    let failed = rig.failed().expect("a go larger than its no-go is refused");
    assert_eq!((failed["id"].as_str(), failed["kind"].as_str()), (Some("cannot-be-worked-out"), Some("stop")));
}

#[test]
fn mistake_57_the_interference_is_far_too_large() {
    let home = tempfile::tempdir().unwrap();
    let (_, text) = setwright::job::practice_cards()[0];
    let mut card: Value = serde_json::from_str(text).unwrap();
    // A pin 0.08 larger than the bore, where 0.01 is meant.
    card["features"][3]["bore"]["press"]["pin_diameter"] = json!(8.09);
    let mut rig = Rig::on_card(home.path(), &card, JOB);
    while rig.failed().is_none() {
        rig.step();
    }
    rig.is_stopped_by("run.press-stress", "stop", "Is the interference on diameter?");
    rig.cannot_concede("run.press-stress");
}

#[test]
fn mistake_58_a_force_outside_its_window_and_a_blocked_bore() {
    let (_home, mut rig) = at(JOB, ("run.press-ready", 300, 1));
    assert!(rig.state["ask"]["say"].as_str().unwrap().contains("vent for trapped air"));
    taken(&rig.send(&json!({"choose": "no"})));
    assert!(rig.failed().unwrap()["says"].as_str().unwrap().contains("blocked pin"));
    taken(&rig.send(&json!({"choose": "yes"})));
    // The window of the practice job is 1041 to 2602 N.
    taken(&rig.enter("4000"));
    rig.is_stopped_by("run.press-force", "ask", "trapped air");
}

#[test]
fn mistake_66_a_burr_is_left_where_the_bores_meet() {
    let (_home, mut rig) = at(JOB, ("run.press-ready", 300, 1));
    assert!(rig.state["ask"]["say"].as_str().unwrap().contains("burrs off where the bores meet"));
    taken(&rig.send(&json!({"choose": "no"})));
    let failed = rig.failed().expect("nothing is pressed over a burr");
    assert!(failed["says"].as_str().unwrap().contains("Deburr"), "{failed}");
    rig.cannot_concede("ticked");
}
