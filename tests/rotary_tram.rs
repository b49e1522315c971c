//! The rotary tram and levelling without a card, through the wire face of the real program: the mistakes of the trade
//! that they catch, and the user stories. The numbers are the project's own, not those of the practice jobs.
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

use rig::{Rig, program};
use serde_json::{Value, json};

/// A part on a rotary that is told to turn and read: the truth of these tests, without noise.
struct Part {
    /// Machine A at which it is level.
    level: f64,
    /// Distance between the two places.
    span: f64,
    /// +1 when the work turns right-handed for A plus.
    sense: f64,
}

impl Part {
    /// Rear minus front at a machine A.
    fn difference(&self, machine_a: f64) -> f64 {
        self.span * (self.sense * (machine_a - self.level)).to_radians().tan()
    }
}

fn level_rig(home: &Path, more: &[&str]) -> Rig {
    let mut command = program(home);
    command.args(["level", "--wire"]).args(more);
    Rig::launch(command, "flow-sensor-body", true)
}

/// Answers what levelling asks from a part, with a slip put on each reading; returns how many tries it took.
fn level_on(rig: &mut Rig, part: &Part, way: &str, mut slip: impl FnMut(u64, &str) -> f64) -> u64 {
    let mut machine_a = 0.0;
    for _ in 0..400 {
        let ask = rig.state["ask"].clone();
        let round = ask["round"].as_u64().unwrap_or(0);
        let text = match ask["id"].as_str() {
            Some("level.span") => format!("{}", part.span),
            Some("level.machine-a") => {
                machine_a = rig.state["move"]["to"].as_f64().unwrap_or(machine_a);
                format!("{machine_a:.3}")
            }
            Some("level.rear") => format!("{:.4}", 0.3 + part.difference(machine_a) / 2.0 + slip(round, "rear")),
            Some("level.front") => format!("{:.4}", 0.3 - part.difference(machine_a) / 2.0 + slip(round, "front")),
            Some("level.within") => "0.012".to_owned(),
            Some("level.division") => "0.002".to_owned(),
            Some("level.indicator") => "fine".to_owned(),
            Some("level.way") => way.to_owned(),
            Some("level.approach") => "from-below".to_owned(),
            _ => return round_of(rig),
        };
        let reply = rig.enter(&text);
        if reply.get("doubt").is_some() {
            rig.send(&json!({"sure": "that is what it shows"}));
        }
    }
    panic!("it never came to an end: {}", rig.state);
}

/// The highest try among the findings of the closed step.
fn round_of(rig: &Rig) -> u64 {
    let findings = rig.seen.iter().flat_map(|closed| closed["findings"].as_array().unwrap().clone());
    let rounds = findings
        .filter(|one| one["id"] == "level.difference")
        .map(|one| one["about"].as_str().unwrap().parse::<u64>().unwrap());
    rounds.max().unwrap_or(0) + 1
}

fn closed_finding(rig: &Rig, id: &str) -> Value {
    let all = rig.seen.iter().flat_map(|closed| closed["findings"].as_array().unwrap().clone()).collect::<Vec<_>>();
    all.into_iter().rfind(|one| one["id"] == id).unwrap_or_else(|| panic!("no finding {id}"))
}

// Shop sense 21 and 23: four values, and the machine may move.
#[test]
fn the_first_move_comes_after_four_values() {
    let home = tempfile::tempdir().unwrap();
    let mut rig = level_rig(home.path(), &[]);
    for text in ["62", "14.2", "0.41", "0.17"] {
        assert!(rig.state["move"].is_null());
        rig.takes(text);
    }
    // By hand: atan(0.24/62) = 0.22179 degrees, for a left-hand rotary upwards.
    assert_eq!(rig.state["move"]["axis"], "A");
    assert!((rig.state["move"]["to"].as_f64().unwrap() - 14.422).abs() < 1e-9, "{}", rig.state["move"]);
    assert_eq!(rig.state["move"]["approach"], "from-below");
}

#[test]
fn an_unknown_sense_is_settled_by_the_first_move_and_known_next_time() {
    for sense in [1.0, -1.0] {
        let home = tempfile::tempdir().unwrap();
        let part = Part { level: 0.83, span: 48.0, sense };
        let mut rig = level_rig(home.path(), &["--machine", "mill-3"]);
        let tries = level_on(&mut rig, &part, "z-null", |_, _| 0.0);
        assert!(tries <= 3, "{tries} tries with the sense unknown");
        let at = closed_finding(&rig, "level.a")["value"].as_f64().unwrap();
        assert!((at - 0.83).abs() < 0.012, "{at}");
        assert_eq!(rig.seal()["sealed"], true);
        let profile = std::fs::read_to_string(home.path().join("machines/mill-3.json")).unwrap();
        let word = if sense > 0.0 { "right-hand" } else { "left-hand" };
        assert!(profile.contains(word), "{profile}");
        let mut again = level_rig(home.path(), &[]);
        let tries = level_on(&mut again, &part, "needle", |_, _| 0.0);
        assert_eq!(tries, 2, "the sense was known this time");
    }
}

#[test]
fn a_level_session_can_be_reviewed_audited_and_resumed() {
    let home = tempfile::tempdir().unwrap();
    let mut rig = level_rig(home.path(), &[]);
    for text in ["62", "14.2", "0.41", "0.17", "0.012"] {
        rig.takes(text);
    }
    let name = rig.name();
    let (path, code) = rig.leave();
    assert_eq!(code, Some(0));
    let mut again = Rig::resume(home.path(), &name, "flow-sensor-body");
    assert_eq!(again.ask_id(), "level.division");
    assert!((again.state["move"]["to"].as_f64().unwrap() - 14.422).abs() < 1e-9);
    again.takes("0.002");
    again.leave();
    for task in ["audit", "review"] {
        let more: &[&str] = if task == "review" { &["--plain"] } else { &[] };
        let out = program(home.path()).arg(task).arg(&path).args(more).output().unwrap();
        let text = String::from_utf8_lossy(&out.stdout).into_owned() + &String::from_utf8_lossy(&out.stderr);
        assert_eq!(out.status.code(), Some(0), "{task}: {text}");
    }
}

// Study of levels: a 5 to 13 um dial cannot prove 5 um; a 0.01 mm dial that repeats to 3 um can, by Z.
#[test]
fn what_the_indicator_cannot_prove_is_refused_and_what_would_is_said() {
    let home = tempfile::tempdir().unwrap();
    for (indicator, way, refused) in [("coarse", "z-null", true), ("fine", "needle", true), ("fine", "z-null", false)] {
        let mut rig = level_rig(home.path(), &[]);
        for text in ["45", "10", "0.41", "0.17", "0.005", "0.01", indicator, way] {
            rig.takes(text);
        }
        let failed = rig.failed().map(|gate| gate["id"].as_str().unwrap().to_owned());
        assert_eq!(failed.is_some(), refused, "{indicator} {way}: {failed:?}");
        if refused {
            let says = rig.failed().unwrap()["says"].as_str().unwrap().to_owned();
            assert!(says.contains("cannot prove") && says.contains("finer indicator"), "{says}");
        }
    }
}

#[test]
fn mistake_22_a_sign_typed_the_other_way_is_seen_as_a_gain_of_minus_one() {
    let home = tempfile::tempdir().unwrap();
    let part = Part { level: 33.4, span: 71.0, sense: 1.0 };
    std::fs::create_dir_all(home.path().join("machines")).unwrap();
    std::fs::write(home.path().join("machines/m.json"), r#"{"work_turns":"right-hand"}"#).unwrap();
    let mut rig = level_rig(home.path(), &[]);
    let upside_down = Part { sense: -part.sense, ..part };
    let mut machine_a = 33.0;
    for text in ["71".to_owned(), "33".to_owned(), format!("{:.4}", upside_down.difference(33.0)), "0".to_owned()] {
        rig.takes(&text);
    }
    for text in ["0.012", "0.002", "fine", "needle"] {
        rig.takes(text);
    }
    machine_a += rig.state["move"]["to"].as_f64().unwrap() - 33.0;
    for text in [format!("{machine_a:.3}"), "from-below".to_owned()] {
        rig.takes(&text);
    }
    let seen = format!("{:.4}", upside_down.difference(machine_a));
    for text in [seen.as_str(), seen.as_str(), "0", "0"] {
        rig.takes(text);
    }
    let gate = rig.failed().expect("the gain");
    assert_eq!((gate["id"].as_str(), gate["kind"].as_str()), (Some("level.gain"), Some("stop")), "{gate}");
    assert!((gate["measured"]["value"].as_f64().unwrap() + 1.0).abs() < 0.02, "{gate}");
    assert!(gate["says"].as_str().unwrap().contains("wrong way"), "{gate}");
}

// Common practice: one slip of a tenth among the readings costs a reading more, not a wrong level.
#[test]
fn one_slip_is_survived() {
    let home = tempfile::tempdir().unwrap();
    let part = Part { level: 358.7, span: 55.0, sense: -1.0 };
    let mut rig = level_rig(home.path(), &[]);
    let mut slips = 0;
    for _ in 0..60 {
        if rig.state["ask"].is_null() {
            let Some(gate) = rig.failed() else { break };
            let reply = rig.send(&json!({"again": {"gate": gate["id"], "why": "read again"}}));
            assert!(reply.get("recorded").is_some(), "{gate}: {reply}");
        }
        level_on(&mut rig, &part, "z-null", |round, place| {
            slips += u32::from(round == 1 && place == "rear");
            if round == 1 && place == "rear" && slips == 1 { 0.1 } else { 0.0 }
        });
        if rig.state["step"].is_null() {
            break;
        }
    }
    let at = closed_finding(&rig, "level.a")["value"].as_f64().unwrap();
    assert!((at - 358.7).abs() < 0.012 && slips > 1, "{at} after {slips}");
}

#[test]
fn mistake_25_an_approach_from_the_other_side_is_a_gate() {
    let home = tempfile::tempdir().unwrap();
    // The sense is guessed wrong at first, so that there is a third try.
    let part = Part { level: 14.0, span: 62.0, sense: 1.0 };
    let mut rig = level_rig(home.path(), &[]);
    let first = format!("{:.4}", part.difference(14.2));
    for text in ["62", "14.2", &first, "0", "0.012", "0.002", "fine", "z-null"] {
        rig.takes(text);
    }
    for side in ["from-below", "from-above"] {
        let to = rig.state["move"]["to"].as_f64().unwrap();
        rig.takes(&format!("{to:.3}"));
        rig.takes(side);
        let seen = format!("{:.4}", part.difference(to));
        if side == "from-below" {
            for text in [seen.as_str(), seen.as_str(), "0", "0"] {
                rig.takes(text);
            }
        }
    }
    let gate = rig.failed().expect("the gate");
    assert_eq!((gate["id"].as_str(), gate["kind"].as_str()), (Some("level.one-way"), Some("ask")), "{gate}");
}

// By hand: 0.02 off the axis towards 90 degrees and 0.008 out of round with the long diameter up at 0.
#[test]
fn run_out_tells_a_shifted_part_from_a_squeezed_one() {
    let home = tempfile::tempdir().unwrap();
    let mut command = program(home.path());
    command.args(["level", "--run-out", "--wire"]);
    let mut rig = Rig::launch(command, "flow-sensor-body", true);
    rig.takes("8");
    for place in 0..8 {
        let angle = (45.0 * f64::from(place)).to_radians();
        assert!((rig.state["move"]["to"].as_f64().unwrap() - 45.0 * f64::from(place)).abs() < 1e-9);
        rig.takes(&format!("{:.5}", 0.02 * angle.sin() + 0.004 * (2.0 * angle).cos()));
    }
    for (id, value) in [
        ("run-out.eccentricity", 0.02),
        ("run-out.high-spot", 90.0),
        ("run-out.oval", 0.008),
        ("run-out.long-axis", 0.0),
        ("run-out.shift", 0.02),
    ] {
        let found = closed_finding(&rig, id)["value"].as_f64().unwrap();
        let found = if id == "run-out.long-axis" { found % 180.0 } else { found };
        assert!((found - value).abs() < 1e-5 * value.max(1.0) || (180.0 - found).abs() < 0.1, "{id}: {found}");
    }
}

#[test]
fn the_pocket_table_is_for_this_span() {
    let home = tempfile::tempdir().unwrap();
    let out = program(home.path()).args(["level", "--table", "62", "--within", "0.02"]).output().unwrap();
    let text = String::from_utf8(out.stdout).unwrap();
    // By hand: atan(0.01/62) = 0.0092 degrees.
    assert!(text.contains("0.0092 deg") && text.contains("0.0200") && text.lines().count() < 25, "{text}");
    let bad = program(home.path()).args(["level", "--table", "wide"]).output().unwrap();
    assert_eq!(bad.status.code(), Some(2));
}
