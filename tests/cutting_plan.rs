//! The cutting plan of a card that states its cuts: spot, pecks, break into a cross bore, reach, capped speed. The
//! mistakes are made on the card, through the wire face of the real program.
//!
//! The list is common practice of the trade, numbered as in the project's own table of mistakes.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, reason = "a test may stop at what it did not expect")]

#[path = "support/player.rs"]
mod player;
#[path = "support/rig.rs"]
mod rig;

use rig::{Rig, taken};
use serde_json::{Value, json};
use tempfile::TempDir;

const JOB: &str = "flow-sensor-body";

/// Plays the practice card, changed, until the first run has something to say.
fn first_run(change: impl FnOnce(&mut Value)) -> (TempDir, Rig) {
    let home = tempfile::tempdir().unwrap();
    let (_, text) = setwright::job::practice_cards()[0];
    let mut card: Value = serde_json::from_str(text).unwrap();
    change(&mut card);
    let mut rig = Rig::on_card(home.path(), &card, JOB);
    while rig.state["step"] != "first-run" {
        rig.step();
    }
    (home, rig)
}

/// Answers no and expects to be held up by words.
#[track_caller]
fn no_holds(rig: &mut Rig, words: &str) {
    taken(&rig.send(&json!({"choose": "no"})));
    let failed = rig.failed().expect("a no holds it up");
    assert!(failed["says"].as_str().unwrap().contains(words), "{failed}");
}

#[track_caller]
fn concede(rig: &mut Rig, gate: &str) {
    taken(&rig.send(&json!({"concede": {"gate": gate, "why": "looked at with the planner", "by": "KT"}})));
}

#[test]
fn mistake_38_the_holder_reaches_into_the_fixture() {
    // The hole bottoms at 24 - 7.046 mm over the centreline; 40 mm stands under the holder, 5 mm is the margin.
    let needed = 40.0 - (24.0 - 7.046) + 5.0;
    let with = |stick_out: f64| {
        move |card: &mut Value| {
            card["tools"][0]["stick_out"] = json!(stick_out);
            for place in 0..3 {
                card["features"][place]["under_holder"] = json!(40);
            }
        }
    };
    let (_home, mut rig) = first_run(with(28.0));
    rig.is_stopped_by("run.stick-out", "stop", "the HOLDER would run into");
    assert!((rig.finding("run.stick-out", "p1") - needed).abs() < 1e-9);
    let reply = rig.send(&json!({"concede": {"gate": "run.stick-out", "why": "it will do", "by": "KT"}}));
    assert!(reply.get("refused").is_some(), "{reply}");
    let (_home, rig) = first_run(with(29.0));
    assert_eq!(rig.ask_id(), "run.unit-mode");
}

#[test]
fn mistake_46_the_drill_walks_on_a_slope_and_the_spot_counts_drop_and_texture() {
    let home = tempfile::tempdir().unwrap();
    let (_, text) = setwright::job::practice_cards()[0];
    let mut card: Value = serde_json::from_str(text).unwrap();
    // asin(3/24) = 7.18 degrees.
    card["features"][0]["across"] = json!(3);
    let mut rig = Rig::on_card(home.path(), &card, JOB);
    while rig.failed().is_none() {
        rig.step();
    }
    rig.is_stopped_by("brief.entry-slope", "ask", "the drill walks downhill");
    let (_home, rig) = first_run(|card| {
        card["features"][0]["spot"] = json!({"diameter": 3.4, "angle": 142, "texture": 0.05});
    });
    // Cone and circle: 1.7/tan 71 deg + 24 - sqrt(24^2 - 1.7^2) + 0.05.
    let cone = 1.7 / 71.0_f64.to_radians().tan();
    let expected = cone + 24.0 - (24.0_f64.powi(2) - 1.7_f64.powi(2)).sqrt() + 0.05;
    assert!((rig.finding("run.spot-depth", "p1") - expected).abs() < 1e-9);
}

#[test]
fn mistake_47_the_spot_is_narrower_than_the_drill() {
    let (_home, mut rig) = first_run(|card| {
        card["features"][0]["spot"] = json!({"diameter": 3.4, "angle": 90});
    });
    rig.is_stopped_by("run.spot-angle", "ask", "the lips strike the ring before the point");
    concede(&mut rig, "run.spot-angle");
    assert_eq!(rig.ask_id(), "run.unit-mode");
}

#[test]
fn mistake_48_pecks_too_small_or_a_dwell() {
    let (_home, mut rig) = first_run(|card| {
        card["features"][0]["depth"] = json!(12);
        card["features"][0]["tip_depth"] = json!(12.546);
    });
    rig.until("run.pecks", 0, 1);
    // 1.5 D, then 0.7 of the last but never under 0.5 D: 4.5, 3.15, 2.205, 1.5435, and what is left of 12.
    let say = rig.state["ask"]["say"].as_str().unwrap().to_owned();
    assert!(say.contains("5 pecks to 4.50 mm, 7.65 mm, 9.86 mm, 11.40 mm, 12.00 mm"), "{say}");
    assert!(say.contains("4.0"), "{say}");
    no_holds(&mut rig, "rubs a hard skin");
    // Beyond 8 diameters ordinary pecking is no answer.
    let (_home, mut rig) = first_run(|card| {
        card["features"][0]["depth"] = json!(24.4);
        card["features"][0]["tip_depth"] = json!(24.95);
        card["first_run"]["air_lift"] = json!(40);
        card["features"][0]["radius"] = json!(24);
    });
    rig.script["answers"]["run.lifted-z"] = json!({"0": ["-332.796"]});
    while rig.failed().is_none() {
        rig.step();
    }
    rig.is_stopped_by("run.special-drill", "ask", "beyond 8 a special drill");
}

#[test]
fn mistake_49_the_length_of_the_point_is_forgotten() {
    // Wall 7, point 1.5/tan 70 deg = 0.546, breakout 0.3: the tip must go 7.846 deep.
    let through = |tip: f64, room: f64| {
        move |card: &mut Value| {
            let feature = &mut card["features"][0];
            feature["through"] = json!(true);
            feature["breakout"] = json!(0.3);
            feature["room_beyond"] = json!(room);
            feature["tip_depth"] = json!(tip);
        }
    };
    let (_home, rig) = first_run(through(7.5, 2.0));
    rig.is_stopped_by("run.through", "ask", "would not go through");
    assert!((rig.finding("run.full-depth", "p1") - (7.5 - 1.5 / 70.0_f64.to_radians().tan())).abs() < 1e-9);
    let (_home, rig) = first_run(through(7.85, 0.8));
    rig.is_stopped_by("run.room-beyond", "stop", "into the fixture or the table");
    let (_home, rig) = first_run(through(7.85, 2.0));
    assert_eq!(rig.ask_id(), "run.unit-mode");
}

#[test]
fn mistake_50_the_drill_grabs_where_it_breaks_into_a_cross_bore() {
    let (_home, mut rig) = first_run(|card| card["features"][0]["cross_bore"] = json!(8));
    rig.until("run.breaks-in", 0, 1);
    // Circle: 4 - sqrt(16 - 2.25).
    let expected = 4.0 - (16.0_f64 - 2.25).sqrt();
    assert!((rig.finding("run.breaks-in", "p1") - expected).abs() < 1e-9);
    assert!(rig.state["ask"]["say"].as_str().unwrap().contains("grabs"));
    no_holds(&mut rig, "leave the override alone");
}

#[test]
fn mistake_52_the_speed_is_capped_and_the_feed_is_not_reckoned_anew() {
    let (_home, mut rig) = first_run(|card| {
        card["machine"]["spindle_max"] = json!(3000);
    });
    rig.until("run.capped-feed", 0, 1);
    assert!((rig.finding("run.speed", "t1") - 3000.0).abs() < 1e-9);
    // 3000 turns of 0.06 mm, where 4774.6 would have made 286.5 mm/min.
    assert!((rig.finding("run.feed", "t1") - 180.0).abs() < 1e-9);
    assert!(rig.state["ask"]["say"].as_str().unwrap().contains("180.0 mm/min"));
    no_holds(&mut rig, "from the capped speed");
}
