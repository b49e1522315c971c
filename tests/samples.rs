//! The sample sessions: made by the program through its wire face, and audited for ever.
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

use std::path::{Path, PathBuf};

use rig::{Rig, program};
use serde_json::{Value, json};

/// The slip of the first practice job: 1.110 typed for 0.111, insisted on, then seen and crossed out.
fn flow_sensor_body(home: &Path) -> PathBuf {
    let mut rig =
        fixed(home, &["follow", "flow-sensor-body", "--wire"], "2026-08-23T07:12:00+02:00", "s1", "flow-sensor-body");
    rig.until("tram.rear", 0, 2);
    let doubt = rig.enter("1.110");
    assert_eq!(doubt["doubt"]["slip"], "times-10", "{doubt}");
    let kept = rig.send(&json!({"sure": "that is what the needle shows"}));
    let wrong = kept["recorded"].as_u64().expect("recorded");
    assert_eq!(rig.failed().unwrap()["id"], "repeats-agree");
    rig.send(&json!({"strike": {"seq": wrong, "why": "typed 1.110 for 0.111"}}));
    rig.finish();
    let path = rig.path();
    let sealed = rig.seal();
    assert_eq!(sealed["sealed"], true);
    path
}

/// The power cut of the second practice job, between the first and the second try of the tram.
fn metering_valve_body(home: &Path) -> PathBuf {
    let job = "metering-valve-body";
    let mut rig = fixed(home, &["follow", job, "--wire"], "2026-08-24T06:40:00-04:00", "s2", job);
    rig.until("tram.machine-a", 1, 1);
    let name = rig.name();
    rig.kill();
    let mut rig = fixed(home, &["resume", &name, "--wire"], "2026-08-24T07:05:00-04:00", "s2-again", job);
    rig.send(&json!({"happened": "power-cut"}));
    after_the_cut(&mut rig.script);
    rig.finish();
    let path = rig.path();
    rig.seal();
    path
}

/// The readings after the power cut. From the practice job's event; the second try and its registers are chosen.
pub(crate) fn after_the_cut(script: &mut Value) {
    let answers = &mut script["answers"];
    answers["pickup.check-x"] = json!({"1": ["11.9421", "11.9421", "11.9421", "11.9418", "11.9422"]});
    answers["pickup.check-y"] = json!({"1": ["-7.3814", "-7.3815", "-7.3813", "-7.3815", "-7.3816"]});
    answers["pickup.check-z"] = json!({"1": ["-14.213", "-14.213", "-14.213"]});
    answers["tram.machine-a"] = json!({"0": ["211.706"], "1": ["211.692"]});
    answers["tram.rear"] = json!({"0": ["0.01025", "0.0103"], "1": ["0.01", "0.01"]});
    answers["tram.front"] = json!({"0": ["0.00975", "0.0097"], "1": ["0.01", "0.01"]});
    answers["tram.accept"] = json!({"0": ["move"]});
    answers["capture.machine-a"] = json!({"0": ["211.692"]});
    answers["capture.displayed-a"] = json!({"0": ["199.442"]});
    answers["capture.registers-after"] = json!({"0": ["G58 X11.8421 Y-7.3815 Z-14.6626 A211.692"]});
}

fn fixed(home: &Path, arguments: &[&str], clock: &str, ids: &str, job: &str) -> Rig {
    let mut command = program(home);
    command.env("SETWRIGHT_TEST_CLOCK", clock).env("SETWRIGHT_TEST_IDS", ids).args(arguments);
    Rig::launch(command, job, true)
}

fn samples() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-sessions/v1")
}

/// The logs of the practice jobs; the folders beside them hold the corpus.
fn logs() -> Vec<PathBuf> {
    let all = std::fs::read_dir(samples()).unwrap().map(|entry| entry.unwrap().path());
    all.filter(|path| path.extension().is_some_and(|ending| ending == "jsonl")).collect()
}

/// `cargo test --test samples -- --ignored` writes the samples anew. A released sample is never changed: add a folder.
#[test]
#[ignore = "writes into sample-sessions"]
fn write_the_samples() {
    let home = tempfile::tempdir().unwrap();
    std::fs::create_dir_all(samples()).unwrap();
    for made in [flow_sensor_body(home.path()), metering_valve_body(home.path())] {
        let target = samples().join(made.file_name().unwrap());
        if target.exists() {
            // A sealed log is read-only; take it away first.
            std::fs::remove_file(&target).unwrap();
        }
        std::fs::copy(&made, &target).unwrap();
    }
}

#[test]
fn both_stories_can_be_played_again_to_the_byte() {
    let home = tempfile::tempdir().unwrap();
    for made in [flow_sensor_body(home.path()), metering_valve_body(home.path())] {
        let sample = samples().join(made.file_name().unwrap());
        let (now, then) = (std::fs::read(&made).unwrap(), std::fs::read(&sample).unwrap());
        assert!(now == then, "{} is not what the program writes now; see write_the_samples", sample.display());
    }
}

#[test]
fn every_sample_is_whole_and_comes_out_to_the_bit() {
    let home = tempfile::tempdir().unwrap();
    let mut seen = 0;
    for path in logs() {
        let output = program(home.path()).arg("audit").arg(&path).arg("--json").output().unwrap();
        let report: Value = serde_json::from_slice(&output.stdout).unwrap();
        let log = &report["logs"][0];
        assert_eq!(log["class"], "clean", "{report}");
        assert_eq!(log["sealed"], true);
        assert_eq!(log["differences"], json!([]), "{}", path.display());
        assert!(log["reckoned"].as_u64().unwrap() > 100);
        assert!(matches!(output.status.code(), Some(0 | 3)), "{:?}", output.status);
        seen += 1;
    }
    assert!(seen >= 2);
}

#[test]
fn an_edited_sample_is_found_and_located() {
    let home = tempfile::tempdir().unwrap();
    let path = logs().remove(0);
    let text = std::fs::read_to_string(&path).unwrap();
    let at = text.find("\"raw\":\"yes\"").unwrap();
    let line = text[..at].lines().count();
    let edited = text.replacen("\"raw\":\"yes\"", "\"raw\":\"yeS\"", 1);
    let copy = home.path().join(path.file_name().unwrap());
    std::fs::write(&copy, edited).unwrap();
    let output = program(home.path()).arg("audit").arg(&copy).output().unwrap();
    assert_eq!(output.status.code(), Some(65));
    assert!(String::from_utf8_lossy(&output.stdout).contains(&format!("line {line}")), "{output:?}");
}
