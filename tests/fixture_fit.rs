//! Mistakes of the fixture fit, each made on purpose through the wire face of the real program, and the catch.
//!
//! The list is common practice of the trade, numbered as in the project's own table of mistakes.
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

use rig::{Rig, taken};
use serde_json::{Value, json};
use tempfile::TempDir;

const JOB: &str = "flow-sensor-body";

/// Starts the first practice job on a card changed as told.
fn on_card(change: impl Fn(&mut Value)) -> (TempDir, Rig) {
    let home = tempfile::tempdir().unwrap();
    let (_, text) = setwright::job::practice_cards()[0];
    let mut card: Value = serde_json::from_str(text).unwrap();
    change(&mut card);
    let rig = Rig::on_card(home.path(), &card, JOB);
    (home, rig)
}

#[track_caller]
fn sure(rig: &mut Rig, text: &str) {
    if rig.enter(text).get("doubt").is_some() {
        taken(&rig.send(&json!({"sure": "that is what it reads"})));
    }
}

#[test]
fn mistake_04_the_fixture_is_turned_half_round() {
    let (_home, mut rig) = on_card(|card| card["fixture"]["mark_flat_y"] = json!(-17.25));
    rig.until("fit.mark-flat", 0, 1);
    sure(&mut rig, "17.24");
    rig.is_stopped_by("fit.right-way-round", "stop", "turned half round");
}

#[test]
fn mistake_31_a_chip_lies_under_the_fixture() {
    let (_home, mut rig) = on_card(|_| {});
    rig.script["answers"]["fit.seat-corner"] = json!({"0": ["0.04"], "1": ["-0.001"], "2": ["0"], "3": ["0.041"]});
    rig.until("fit.seat-corner", 3, 1);
    sure(&mut rig, "0.041");
    rig.is_stopped_by("fit.seat-tilt", "stop", "wedge");
}

#[test]
fn mistake_31_again_a_rock_is_no_wedge() {
    let (_home, mut rig) = on_card(|_| {});
    rig.script["answers"]["fit.seat-corner"] = json!({"0": ["0.02"], "1": ["-0.02"], "2": ["0.02"], "3": ["-0.02"]});
    rig.until("fit.seat-corner", 3, 1);
    sure(&mut rig, "-0.02");
    rig.is_stopped_by("fit.seat-rock", "ask", "rocks");
}

#[test]
fn mistake_32_the_fixture_stands_on_a_fillet() {
    let (_home, mut rig) = on_card(|card| card["fixture"]["jaw_chamfer"] = json!(0.9));
    rig.until("fit.walls", 0, 1);
    rig.step();
    rig.is_stopped_by("fit.standoff", "stop", "relief hole");
    // A hole through the corner as wide as the fillet of 1.5: its centre lies 1.5/sqrt(2) inside each wall.
    assert!((rig.finding("fit.relief-centre", "slot-1") - 1.060_66).abs() < 1e-4);
}

#[test]
fn mistake_34_the_ring_is_under_tight() {
    let (_home, mut rig) = on_card(|card| {
        card["fixture"]["clamp"] = json!({"ring_width": 20, "screw_diameter": 5, "screw_torque": "4 N m"});
        card["features"][0]["across"] = json!(2.4);
    });
    rig.until("fit.ring-torque", 0, 1);
    sure(&mut rig, "0.02 N m");
    rig.is_stopped_by("fit.holding", "stop", "turn in the ring");
}

#[test]
fn mistake_36_a_corner_hits_the_table() {
    // Corners at 45 and 45: 63.64 swing; a centre 62 high cannot pass.
    let (_home, mut rig) = on_card(|card| card["machine"]["centre_height"] = json!(62));
    rig.until("fit.sticks-out", 0, 1);
    rig.step();
    rig.is_stopped_by("fit.table-clearance", "stop", "corner 1 between A");
}

#[test]
fn mistake_40_a_tail_stands_in_the_path() {
    let (_home, mut rig) = on_card(|card| {
        card["machine"]["obstacles"] = json!([{"name": "tail", "y_from": 60, "y_to": 140, "z_from": -50, "z_to": 20}]);
    });
    rig.until("fit.sticks-out", 0, 1);
    rig.step();
    rig.is_stopped_by("fit.obstacle", "ask", "too near tail between A");
}

#[test]
fn mistake_42_the_wrong_piece_is_in_the_ring() {
    let (_home, mut rig) = on_card(|_| {});
    rig.until("fit.ring-gap", 0, 1);
    sure(&mut rig, "1.21");
    rig.is_stopped_by("fit.ring-gap", "stop", "wrong piece");
}
