//! Mistakes that crash, scrap or hurt, each made on purpose through the wire face of the real program, and the catch.
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

use rig::{Rig, at, program, taken};
use serde_json::{Value, json};

const JOB: &str = "flow-sensor-body";

#[track_caller]
fn doubted(reply: &Value, slip: &str) {
    assert_eq!(reply["doubt"]["slip"], slip, "{reply}");
}

#[test]
fn mistake_01_the_turning_sense_is_assumed() {
    let (_home, mut rig) = at(JOB, ("tram.sense", 0, 1));
    taken(&rig.send(&json!({"choose": "rises"})));
    rig.is_stopped_by("tram.sense", "stop", "BOTH");
    rig.cannot_concede("tram.sense");
}

#[test]
fn mistake_05_the_displayed_angle_is_typed_for_the_machine_angle() {
    let (_home, mut rig) = at(JOB, ("capture.machine-a", 0, 1));
    let reply = rig.enter("25.162");
    assert!(reply["doubt"]["question"].as_str().unwrap().contains("expected 37.410 to 37.414"), "{reply}");
    taken(&rig.send(&json!({"sure": "that is what the screen shows"})));
    taken(&rig.enter("25.162"));
    taken(&rig.enter("12.25"));
    rig.is_stopped_by("capture.machine-not-displayed", "stop", "DISPLAYED angle was typed");
    rig.cannot_concede("capture.machine-not-displayed");
    // The way out: measure again, from the machine page.
    taken(&rig.send(&json!({"again": {"gate": "capture.machine-not-displayed", "why": "read from the wrong page"}})));
    assert_eq!(rig.ask_id(), "capture.machine-a");
    rig.until("capture.registers-after", 0, 1);
}

#[test]
fn mistake_05_again_the_display_must_show_zero_afterwards() {
    let (_home, mut rig) = at(JOB, ("capture.work-a", 0, 1));
    taken(&rig.enter("12.25"));
    rig.is_stopped_by("capture.shows-zero", "stop", "should show 0");
}

#[test]
fn mistake_06_another_register_is_live() {
    let (_home, mut rig) = at(JOB, ("capture.work-x", 0, 1));
    // With G54 live, X-252.405 of the machine shows as.
    taken(&rig.enter("-2.405"));
    rig.is_stopped_by("capture.identity", "stop", "G54 is live, not G56");
    rig.cannot_concede("capture.identity");
}

#[test]
fn mistake_10_length_compensation_is_off() {
    let (_home, mut rig) = at(JOB, ("capture.work-z", 0, 1));
    // -150 + 372.796 = 222.796 without the length of 107.588.
    taken(&rig.enter("222.796"));
    rig.is_stopped_by("capture.identity", "stop", "length compensation is OFF");
}

#[test]
fn mistake_10_again_a_stale_length_is_called() {
    let (_home, mut rig) = at(JOB, ("run.tool-length", 0, 1));
    assert!(rig.enter("117.588").get("doubt").is_some());
    taken(&rig.send(&json!({"sure": "it says so"})));
    rig.is_stopped_by("run.tool-length", "stop", "stale length");
}

#[test]
fn mistake_14_a_single_middle_is_never_a_centreline() {
    let (_home, mut rig) = at(JOB, ("pickup.y-back", 0, 3));
    taken(&rig.enter("-139.372"));
    let known = rig.state["findings"].as_array().unwrap();
    assert!(known.iter().all(|finding| finding["id"] != "pickup.y"), "a centreline from one middle");
    assert_eq!(rig.ask_id(), "pickup.tip-clear");
    assert_eq!(rig.state["move"]["axis"], "A");
    assert_eq!(rig.state["move"]["to"], 217.595);
    assert!(rig.state["trap"].as_str().unwrap().contains("PLUS the off-centre"));
}

#[test]
fn mistake_15_the_roll_times_the_height_of_the_touch_is_put_right() {
    let (_home, mut rig) = at(JOB, ("pickup.edge-rear", 0, 1));
    assert!(rig.state["ask"]["say"].as_str().unwrap().contains("FIXTURE's own top edge (not the part)"));
    rig.until("pickup.setter-touch", 0, 1);
    let moved = rig.finding("pickup.y", "") - rig.finding("pickup.flip-uncorrected", "");
    // The practice job's own figure: forgetting it would put Y wrong by 0.0724 mm.
    assert!((moved + 0.0724).abs() < 0.0001, "{moved}");
}

#[test]
fn mistake_15_again_at_centre_height_no_roll_is_asked() {
    let (_home, mut rig) = at(JOB, ("pickup.touch-height", 0, 1));
    taken(&rig.enter("0"));
    rig.until("pickup.y-back", 1, 3);
    taken(&rig.enter("-139.407"));
    assert_eq!(rig.ask_id(), "pickup.setter-touch");
}

#[test]
fn mistake_16_the_tip_radius_has_the_wrong_sign() {
    let (_home, mut rig) = at(JOB, ("pickup.x-side", 0, 1));
    taken(&rig.send(&json!({"choose": "plus-side"})));
    rig.is_stopped_by("pickup.x-side", "stop", "whole tip diameter");
}

#[test]
fn mistake_16_again_the_radius_was_taken_off_already() {
    let (_home, mut rig) = at(JOB, ("pickup.y-front", 0, 1));
    for face in ["-232.373", "-232.375", "-232.374"] {
        taken(&rig.enter(face));
    }
    for face in ["-142.371", "-142.373", "-142.372"] {
        taken(&rig.enter(face));
    }
    rig.is_stopped_by("pickup.width", "stop", "taken off already, or with the wrong sign");
}

#[test]
fn mistake_17_the_diameter_is_typed_for_the_radius() {
    let (_home, mut rig) = at(JOB, ("pickup.tip-radius", 0, 1));
    let reply = rig.enter("6");
    doubted(&reply, "times-2");
    taken(&rig.send(&json!({"sure": "measured it"})));
    rig.until("pickup.y-back", 0, 3);
    taken(&rig.enter("-139.372"));
    rig.is_stopped_by("pickup.width", "stop", "DIAMETER typed for the radius");
    rig.cannot_concede("pickup.width");
}

#[test]
fn mistake_18_inch_for_millimetre() {
    let (_home, mut rig) = at(JOB, ("pickup.x", 0, 2));
    doubted(&rig.enter("-12.4176"), "divided-by-25.4");
    // The same with its unit is right.
    taken(&rig.enter("-12.41756 in"));
    rig.until("run.unit-mode", 0, 1);
    taken(&rig.send(&json!({"choose": "g20"})));
    rig.is_stopped_by("run.read-back", "stop", "25.4 times wrong");
}

#[test]
fn mistake_19_a_decimal_place_slips() {
    let (_home, mut rig) = at(JOB, ("tram.rear", 0, 2));
    doubted(&rig.enter("1.110"), "times-10");
    taken(&rig.send(&json!({"sure": "I read it so"})));
    rig.is_stopped_by("repeats-agree", "ask", "apart");
    // What would have happened, as the practice job prints it: a roll of 0.327912 in place of -0.183141 degrees.
    taken(&rig.send(&json!({"concede": {"gate": "repeats-agree", "why": "to see what comes of it", "by": "KT"}})));
    rig.until("tram.front", 0, 2);
    taken(&rig.enter("0.29"));
    let roll = rig.finding("tram.roll", "0");
    assert!((roll - 0.327_912_443_574).abs() < 1e-9, "{roll}");
}

#[test]
fn mistake_20_two_digits_are_swapped() {
    let (_home, mut rig) = at(JOB, ("pickup.y-front", 0, 2));
    doubted(&rig.enter("-235.337"), "digits-swapped");
    taken(&rig.enter("-235.375"));
}

/// Types both pads of a try.
fn pads(rig: &mut Rig, rear: &str, front: &str) {
    for text in [rear, rear, front, front] {
        taken(&rig.enter(text));
    }
}

fn next_try(rig: &mut Rig, machine_a: &str, rear: &str, front: &str) {
    taken(&rig.enter(machine_a));
    taken(&rig.send(&json!({"choose": "from-below"})));
    pads(rig, rear, front);
}

#[test]
fn mistake_21_a_division_of_the_indicator_is_taken_for_another() {
    let (_home, mut rig) = at(JOB, ("tram.rear", 0, 1));
    // A 0.01 dial read as 0.001: every reading is a tenth of what it is.
    pads(&mut rig, "0.0111", "0.0290");
    taken(&rig.send(&json!({"choose": "move"})));
    assert_eq!(rig.state["move"]["to"], 37.577);
    // The part really turned by 0.018 degrees: -0.179 + 0.0176 = -0.1614 mm, typed as a tenth.
    next_try(&mut rig, "37.577", "0.0111", "0.02724");
    rig.is_stopped_by("tram.gain", "stop", "division");
    assert!((rig.finding("tram.gain", "1") - 0.1).abs() < 0.01);
}

#[test]
fn mistake_22_the_sign_of_the_indicator() {
    let (_home, mut rig) = at(JOB, ("tram.rear", 0, 1));
    pads(&mut rig, "0.290", "0.111");
    assert_eq!(rig.state["move"]["to"], 37.778);
    next_try(&mut rig, "37.778", "0.558", "0.200");
    rig.is_stopped_by("tram.gain", "stop", "wrong way");
    assert!((rig.finding("tram.gain", "1") + 1.0).abs() < 0.01);
}

#[test]
fn mistake_25_the_rotary_is_brought_up_from_both_sides() {
    let (_home, mut rig) = at(JOB, ("tram.approach", 1, 1));
    assert_eq!(rig.state["move"]["approach"], "from-below");
    taken(&rig.send(&json!({"choose": "from-above"})));
    rig.is_stopped_by("tram.one-way", "ask", "play of the rotary");
}

#[test]
fn mistake_28_angles_are_averaged_across_zero() {
    let home = tempfile::tempdir().unwrap();
    let mut rig = Rig::start(home.path(), JOB);
    let answers = &mut rig.script["answers"];
    answers["pickup.machine-a"] = json!({"0": ["0.18"]});
    answers["tram.machine-a"] = json!({"0": ["0.18"], "1": ["359.997"]});
    answers["capture.machine-a"] = json!({"0": ["359.997"]});
    answers["capture.displayed-a"] = json!({"0": ["347.747"]});
    answers["capture.registers-after"] = json!({"0": ["G56 X-312.405 Y-187.463 Z-372.796 A359.997"]});
    let second = &mut rig.script["pieces"]["2"];
    second["tram.machine-a"] = json!({"0": ["0.023"]});
    second["capture.machine-a"] = json!({"0": ["0.023"]});
    rig.until("tram.ring-gap", 0, 1);
    while rig.state["piece"] == 2 && rig.state["step"] == "rotary-tram" {
        rig.step();
    }
    let closed = rig.seen.iter().rev().find(|step| step["step"] == "rotary-tram").unwrap();
    let mean = closed["findings"].as_array().unwrap().iter().find(|finding| finding["id"] == "tram.mean-a").unwrap();
    assert!((mean["value"].as_f64().unwrap() - 0.01).abs() < 1e-6, "{mean}");
    // Not 180, which the ordinary mean gives.
    assert_eq!(closed["verdict"], "within");
}

#[test]
fn mistake_35_a_screw_sticks_out() {
    let (_home, mut rig) = at(JOB, ("fit.sticks-out", 0, 1));
    taken(&rig.send(&json!({"choose": "further-out"})));
    taken(&rig.enter("158"));
    taken(&rig.enter("9"));
    rig.is_stopped_by("fit.table-clearance", "stop", "hit the table");
    assert!((rig.finding("fit.swing", "") - 158.256_121).abs() < 1e-5);
    rig.cannot_concede("fit.table-clearance");
}

#[test]
fn mistake_41_the_play_of_the_jaws_turns_the_fixture() {
    let home = tempfile::tempdir().unwrap();
    // A card that allows more play than the tram can bear.
    let (_, text) = setwright::job::practice_cards()[0];
    let mut card: Value = serde_json::from_str(text).unwrap();
    card["fixture"]["play_window"]["largest"] = json!(0.2);
    let path = home.path().join("wide-window.json");
    std::fs::write(&path, card.to_string()).unwrap();
    let mut command = program(home.path());
    command.arg("follow").arg(&path).arg("--wire");
    let mut rig = Rig::launch(command, JOB, true);
    for slot in ["fit.slot-1", "fit.slot-2"] {
        rig.script["answers"][slot] = json!({"0": ["16.11", "16.11", "16.11"]});
    }
    rig.until("fit.slot-2", 0, 3);
    taken(&rig.enter("16.11"));
    rig.is_stopped_by("fit.play-turn", "ask", "after clamping");
}

#[test]
fn mistake_43_the_feed_dial_is_turned_down_to_be_safe() {
    let (_home, mut rig) = at(JOB, ("run.feed-dial", 0, 1));
    taken(&rig.enter("50"));
    taken(&rig.enter("100"));
    rig.is_stopped_by("run.feed-floor", "ask", "rub and harden");
    // Turning the spindle up as well rubs twice.
    taken(&rig.send(&json!({"again": {"gate": "run.feed-floor", "why": "dial turned"}})));
    taken(&rig.enter("60"));
    taken(&rig.enter("120"));
    rig.is_stopped_by("run.feed-floor", "ask", "50 %");
}

#[test]
fn mistake_45_a_low_rapid_setting_is_not_safe() {
    let (_home, mut rig) = at(JOB, ("run.rapid-dial", 0, 1));
    taken(&rig.enter("25"));
    taken(&rig.send(&json!({"choose": "rapid"})));
    rig.is_stopped_by("run.last-approach", "stop", "nobody stops a rapid");
    let ran_on = rig.finding("run.stopping-distance", "");
    assert!(ran_on > 50.0, "25 % of 20 m/min runs on for {ran_on} mm");
}

#[test]
fn mistake_62_nobody_carries_on_after_a_power_cut() {
    let (home, rig) = at(JOB, ("capture.registers-after", 0, 1));
    let name = rig.name();
    rig.kill();
    let mut rig = Rig::resume(home.path(), &name, JOB);
    assert_eq!(rig.hello["resumed"], true);
    taken(&rig.send(&json!({"happened": "power-cut"})));
    assert_eq!(rig.ask_id(), "resume.what-happened");
    assert!(rig.state["cautions"].to_string().contains("Void: the captured A"), "{}", rig.state["cautions"]);
    while rig.state["step"] == "resume" {
        rig.step();
    }
    // Check touches first; the captured zero is not shown as usable.
    assert_eq!(rig.ask_id(), "pickup.check-x");
    let states = rig.state["state"].as_array().unwrap();
    let state = |step: &str| states.iter().find(|status| status["step"] == step).unwrap()["state"].clone();
    assert_eq!(state("linear-pickup"), "void");
    assert_ne!(state("rotary-tram"), "closed");
    for (ask, texts) in [
        ("pickup.check-x", ["-315.406", "-315.406", "-315.405"]),
        ("pickup.check-y", ["-187.463", "-187.462", "-187.463"]),
        ("pickup.check-z", ["-362.389", "-362.388", "-362.389"]),
    ] {
        assert_eq!(rig.ask_id(), ask);
        for text in texts {
            taken(&rig.enter(text));
        }
    }
    assert_eq!((rig.state["step"].as_str(), rig.ask_id().as_str()), (Some("rotary-tram"), "tram.tip-clear"));
    // A touch that has moved is caught.
    let moved = tempfile::tempdir().unwrap();
    let mut other = Rig::start(moved.path(), JOB);
    other.until("tram.tip-clear", 0, 1);
    taken(&other.send(&json!({"happened": "power-cut"})));
    for _ in 0..3 {
        taken(&other.enter("-315.456"));
    }
    other.is_stopped_by("pickup.check-x", "stop", "has moved");
}
