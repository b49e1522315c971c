//! What each happening makes void and what it leaves standing (job map, section 1D; shop sense 18), as one table, over
//! the wire face of the real program.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, reason = "a test may stop at what it did not expect")]

#[path = "support/player.rs"]
mod player;
#[path = "support/rig.rs"]
mod rig;

use rig::{Rig, taken};
use serde_json::json;

/// Steps of the setup, in whose terms the table speaks.
const STEPS: [&str; 5] = ["brief", "fixture-fit", "linear-pickup", "rotary-tram", "first-run"];

/// Which steps hold something that is void at once or waits for a check touch, told in the middle of the first run.
///
/// Common practice as the job map lists it. "linear-pickup" alone means a check touch on X, Y and Z; "rotary-tram" holds
/// the part's level, the captured A and the register read-back; "first-run" the modes, the program and the tool.
const TABLE: [(&str, &[&str]); 17] = [
    ("power-cut", &["linear-pickup", "rotary-tram", "first-run"]),
    ("emergency-stop", &["linear-pickup", "rotary-tram", "first-run"]),
    ("re-home", &["linear-pickup", "rotary-tram", "first-run"]),
    ("bump", &["fixture-fit", "linear-pickup", "rotary-tram", "first-run"]),
    ("rotary-moved", &["brief", "fixture-fit", "linear-pickup", "rotary-tram"]),
    ("fixture-off", &["fixture-fit", "linear-pickup", "rotary-tram"]),
    ("piece-changed", &["rotary-tram"]),
    ("piece-reloaded", &["rotary-tram"]),
    ("part-slipped", &["rotary-tram"]),
    ("tool-touched", &["first-run"]),
    ("drill-broken", &["first-run"]),
    ("temperature-changed", &["linear-pickup"]),
    // What the old needle has read stands; see the test below for a level that is not finished.
    ("indicator-swapped", &[]),
    ("register-edited", &["rotary-tram", "first-run"]),
    ("program-edited", &["first-run"]),
    ("shift-handover", &["linear-pickup", "rotary-tram", "first-run"]),
    ("long-pause", &["linear-pickup"]),
];

/// The steps of which something is void.
fn void_steps(rig: &Rig) -> Vec<&'static str> {
    STEPS.into_iter().filter(|step| rig.state_of(step) == "void").collect()
}

#[test]
fn each_happening_voids_exactly_what_it_should() {
    let home = tempfile::tempdir().unwrap();
    let mut wrong = Vec::new();
    for (word, expected) in TABLE {
        let mut rig = Rig::start(home.path(), "flow-sensor-body");
        rig.until("check.looked", 0, 1);
        taken(&rig.send(&json!({"happened": word})));
        let void = void_steps(&rig);
        if void != expected {
            wrong.push(format!("{word}: {void:?}, not {expected:?}; asked next {}", rig.ask_id()));
        }
        rig.leave();
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn another_indicator_in_the_middle_of_a_level_is_preloaded_anew() {
    let home = tempfile::tempdir().unwrap();
    let mut rig = Rig::start(home.path(), "flow-sensor-body");
    rig.until("tram.front", 0, 1);
    taken(&rig.send(&json!({"happened": "indicator-swapped"})));
    assert_eq!(rig.ask_id(), "tram.preload");
}
