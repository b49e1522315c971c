//! The command line: answers on standard output, faults on standard error with what to do, and the exit codes.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, reason = "a test may stop at what it did not expect")]

#[path = "support/player.rs"]
mod player;
#[path = "support/rig.rs"]
mod rig;

use std::path::Path;
use std::process::{Output, Stdio};

use rig::{Rig, program};
use serde_json::{Value, json};

fn run(home: &Path, arguments: &[&str], input: &str) -> Output {
    use std::io::Write;
    let mut command = program(home);
    let mut child =
        command.args(arguments).stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
    // A program that refuses at once may close its input before everything is written.
    let _ = child.stdin.take().unwrap().write_all(input.as_bytes());
    child.wait_with_output().unwrap()
}

fn said(output: &Output) -> String {
    String::from_utf8_lossy(&output.stderr).into_owned()
}

#[track_caller]
fn refused(output: &Output, code: i32, words: &[&str]) {
    assert_eq!(output.status.code(), Some(code), "{output:?}");
    for word in words {
        assert!(said(output).contains(word), "`{word}` is missing: {}", said(output));
    }
    assert!(!said(output).contains("panicked"), "{}", said(output));
}

fn no_session_was_made(home: &Path) {
    let made = std::fs::read_dir(home.join("sessions")).map_or(0, Iterator::count);
    assert_eq!(made, 0, "something was made in the sessions folder");
}

fn card_with(change: impl FnOnce(&mut Value)) -> String {
    let (_, text) = setwright::job::practice_cards()[0];
    let mut card: Value = serde_json::from_str(text).unwrap();
    change(&mut card);
    card.to_string()
}

#[test]
fn every_fault_of_a_card_is_named_with_its_path_and_a_hint() {
    let home = tempfile::tempdir().unwrap();
    let path = home.path().join("card.json");
    let text = card_with(|card| {
        card["fixture"]["pad_spann"] = json!(56);
        card["features"][1]["radius"] = json!("24 kg");
        card["machine"]["rapid"] = json!("twenty");
        card["register"]["claimed"] = json!("G54");
    });
    std::fs::write(&path, text).unwrap();
    let output = run(home.path(), &["follow", path.to_str().unwrap(), "--wire", "--by", "KT"], "");
    refused(&output, 65, &["fixture.pad_spann", "pad_span", "features[1].radius", "machine.rapid", "register"]);
    no_session_was_made(home.path());
    let checked = run(home.path(), &["card", "check", path.to_str().unwrap()], "");
    refused(&checked, 65, &["fixture.pad_spann"]);
}

#[test]
fn a_card_that_is_no_file_is_refused_at_once() {
    let home = tempfile::tempdir().unwrap();
    let folder = home.path().to_str().unwrap();
    for (card, code, word) in [
        (folder, 66, "folder"),
        ("/dev/full", 66, "no regular file"),
        ("/dev/zero", 66, "no regular file"),
        ("no-such-card.json", 66, "there is no such card"),
    ] {
        let output = run(home.path(), &["follow", card, "--wire", "--by", "KT"], "");
        refused(&output, code, &[card, word]);
    }
    let noise = home.path().join("noise.json");
    std::fs::write(&noise, [0xff, 0xfe, 0x00]).unwrap();
    refused(&run(home.path(), &["follow", noise.to_str().unwrap(), "--by", "KT"], ""), 65, &["UTF-8"]);
    let huge = home.path().join("huge.json");
    std::fs::write(&huge, card_with(|card| card["notes"] = json!(["x".repeat(60_000)]))).unwrap();
    refused(&run(home.path(), &["follow", huge.to_str().unwrap(), "--by", "KT"], ""), 65, &["49152 are the most"]);
    no_session_was_made(home.path());
}

#[test]
fn a_folder_that_cannot_be_written_is_told_and_nothing_is_lost() {
    for home in ["/sys/setwright", "/dev/null/setwright"] {
        let output = run(Path::new(home), &["follow", "flow-sensor-body", "--wire"], "{\"by\":\"KT\"}\n");
        refused(&output, output.status.code().filter(|code| matches!(code, 1 | 66)).expect("1 or 66"), &["sessions"]);
        assert!(output.stdout.is_empty(), "a session was announced that is not there: {output:?}");
    }
}

#[test]
fn a_second_terminal_is_locked_out_and_told_how_to_look_on() {
    let home = tempfile::tempdir().unwrap();
    let mut rig = Rig::start(home.path(), "flow-sensor-body");
    rig.step();
    let name = rig.name();
    let output = run(home.path(), &["resume", &name, "--wire"], "{\"by\":\"EM\"}\n");
    refused(&output, 75, &["review --follow", &name]);
    // Looking on is allowed meanwhile.
    let look = run(home.path(), &["review", &name], "");
    assert_eq!(look.status.code(), Some(0));
    assert!(String::from_utf8_lossy(&look.stdout).contains("brief.revision-current: yes"));
    // And the first goes on as if nothing had been.
    rig.step();
    assert_eq!(rig.leave().1, Some(0));
    let again = run(home.path(), &["resume", &name, "--wire"], "{\"by\":\"EM\"}\n");
    assert_eq!(again.status.code(), Some(0), "{again:?}");
}

/// Writes a log whose chain is right but whose header says that it was made by a newer version.
fn newer_log(home: &Path) -> String {
    use sha2::{Digest, Sha256};
    let rig = Rig::start(home, "flow-sensor-body");
    let (path, _) = rig.leave();
    let text = std::fs::read_to_string(&path).unwrap();
    let header = text.lines().next().unwrap();
    let body = header[..header.len() - 72].replace("\"fv\":1", "\"fv\":9").replace("\"min\":1", "\"min\":9");
    let digest = Sha256::digest(format!("{}\n{body}", "0".repeat(64)));
    let hash: String = digest.iter().map(|byte| format!("{byte:02x}")).collect();
    std::fs::write(&path, format!("{body},\"h\":\"{hash}\"}}\n")).unwrap();
    path.file_stem().unwrap().to_string_lossy().into_owned()
}

#[test]
fn a_log_of_a_newer_version_is_left_alone() {
    let home = tempfile::tempdir().unwrap();
    let name = newer_log(home.path());
    let path = home.path().join("sessions").join(format!("{name}.jsonl"));
    let before = std::fs::read(&path).unwrap();
    refused(&run(home.path(), &["resume", &name, "--wire"], "{\"by\":\"KT\"}\n"), 69, &["newer"]);
    assert_eq!(std::fs::read(&path).unwrap(), before);
}

#[test]
fn a_torn_end_is_mended_and_a_damaged_middle_is_never_written() {
    let home = tempfile::tempdir().unwrap();
    let mut rig = Rig::start(home.path(), "flow-sensor-body");
    for _ in 0..6 {
        rig.step();
    }
    let name = rig.name();
    let path = rig.kill();
    let whole = std::fs::read(&path).unwrap();
    let half = [&whole[..], b"{\"n\":99,\"t\":\"2026"].concat();
    std::fs::write(&path, &half).unwrap();
    let mut again = Rig::resume(home.path(), &name, "flow-sensor-body");
    assert_eq!(again.hello["resumed"], true);
    assert!(!again.hello["notices"].as_array().unwrap().is_empty(), "the person is told: {}", again.hello);
    again.step();
    let (path, _) = again.leave();
    let mut damaged = std::fs::read(&path).unwrap();
    let middle = damaged.len() / 2;
    damaged[middle] ^= 1;
    std::fs::write(&path, &damaged).unwrap();
    let output = run(home.path(), &["resume", &name, "--wire"], "{\"by\":\"KT\"}\n");
    refused(&output, 65, &["line"]);
    assert_eq!(std::fs::read(&path).unwrap(), damaged);
    assert_eq!(run(home.path(), &["audit", &name], "").status.code(), Some(65));
}

#[test]
fn an_audit_knows_the_head_that_was_written_down() {
    let home = tempfile::tempdir().unwrap();
    let mut rig = Rig::start(home.path(), "flow-sensor-body");
    rig.until("fit.feel", 0, 1);
    let head = rig.state["head"]["h"].as_str().unwrap().to_owned();
    let (_, name) = (rig.path(), rig.name());
    rig.leave();
    let grouped: Vec<&str> = (0..8).map(|group| &head[group * 8..group * 8 + 8]).collect();
    assert_eq!(run(home.path(), &["audit", &name, "--expect", &grouped.join(" ")], "").status.code(), Some(0));
    let other = format!("{}0", &head[..63]);
    let other = if other == head { format!("{}1", &head[..63]) } else { other };
    let output = run(home.path(), &["audit", &name, "--expect", &other], "");
    assert_eq!(output.status.code(), Some(65));
    assert!(String::from_utf8_lossy(&output.stdout).contains("NOT THE ONE EXPECTED"));
}

#[test]
fn an_edited_calculation_is_found_even_when_the_chain_was_made_again() {
    // Whoever has the program can make the chain anew; the recomputation still sees a changed number.
    use sha2::{Digest, Sha256};
    let home = tempfile::tempdir().unwrap();
    let mut rig = Rig::start(home.path(), "flow-sensor-body");
    rig.until("pickup.machine-a", 0, 1);
    let (path, _) = rig.leave();
    let text = std::fs::read_to_string(&path).unwrap();
    let mut previous = "0".repeat(64);
    let mut forged = String::new();
    let mut changed = false;
    for line in text.lines() {
        let mut body = line[..line.len() - 72].to_owned();
        if !changed && body.contains("\"id\":\"slot-rotation-play\"") {
            let at = body.find("\"play_angle\":{\"value\":0.0").unwrap() + "\"play_angle\":{\"value\":0.0".len();
            let digit = body.as_bytes()[at];
            body.replace_range(at..=at, if digit == b'9' { "8" } else { "9" });
            changed = true;
        }
        let hash: String =
            Sha256::digest(format!("{previous}\n{body}")).iter().map(|byte| format!("{byte:02x}")).collect();
        forged.push_str(&format!("{body},\"h\":\"{hash}\"}}\n"));
        previous = hash;
    }
    assert!(changed);
    std::fs::write(&path, forged).unwrap();
    let output = run(home.path(), &["audit", path.to_str().unwrap()], "");
    assert_eq!(output.status.code(), Some(4), "{output:?}");
    assert!(String::from_utf8_lossy(&output.stdout).contains("play_angle"));
}

#[test]
fn reckon_answers_json_and_refuses_with_the_key_to_blame() {
    let home = tempfile::tempdir().unwrap();
    let inputs = r#"{"rear_reading": 0.129, "front_reading": -0.095, "pad_span": "70 mm", "work_turns": "left-hand"}"#;
    let output = run(home.path(), &["reckon", "tram-correction"], inputs);
    assert_eq!(output.status.code(), Some(0));
    let answer: Value = serde_json::from_slice(&output.stdout).unwrap();
    assert!((answer["roll_angle"]["value"].as_f64().unwrap() - 0.183_345_868_623).abs() < 1e-9);
    let output = run(home.path(), &["reckon", "tram-correction"], r#"{"rear_reading": 0.129}"#);
    let answer: Value = serde_json::from_slice(&output.stdout).unwrap();
    assert_eq!(answer["error"]["input"], "front_reading");
    let lines = "{\"name\":\"circular-mean\",\"inputs\":{\"angles\":[359.998,0.004]}}\nnonsense\n{\"name\":\"no-such\",\"inputs\":{}}\n";
    let output = run(home.path(), &["reckon", "--lines"], lines);
    let answers: Vec<Value> =
        String::from_utf8_lossy(&output.stdout).lines().map(|line| serde_json::from_str(line).unwrap()).collect();
    assert!((answers[0]["mean_angle"]["value"].as_f64().unwrap() - 0.001).abs() < 1e-9);
    assert_eq!(answers[1]["error"]["input"], "line");
    assert_eq!(answers[2]["error"]["input"], "name");
    let about = run(home.path(), &["reckon", "tram-gain", "--about"], "");
    assert!(String::from_utf8_lossy(&about.stdout).contains("Usual mistake"));
}

#[test]
fn wrong_arguments_are_told_on_standard_error() {
    let home = tempfile::tempdir().unwrap();
    refused(&run(home.path(), &["folow"], ""), 2, &["follow"]);
    refused(&run(home.path(), &["follow", "--by", "not initials at all", "--plain"], ""), 2, &["initials"]);
    refused(&run(home.path(), &["resume", "nothing-here"], ""), 66, &["no session here"]);
    refused(&run(home.path(), &["resume"], ""), 66, &["Start one"]);
    let help = run(home.path(), &["--help"], "");
    assert_eq!(help.status.code(), Some(0));
    assert!(help.stderr.is_empty());
    assert!(String::from_utf8_lossy(&help.stdout).contains("Exit codes"));
}

#[test]
fn nothing_but_the_home_is_written_and_nothing_escapes_into_a_pipe() {
    let home = tempfile::tempdir().unwrap();
    let output = run(home.path(), &["follow"], "KT\nyes\n");
    assert_eq!(output.status.code(), Some(0));
    assert!(!output.stdout.contains(&0x1b), "an escape sequence in a pipe");
    let text = String::from_utf8_lossy(&output.stdout).into_owned();
    assert!(text.contains("It does not control the machine"));
    assert!(text.contains("= yes, saved as 1."));
    assert!(text.contains("setwright resume"));
}

#[test]
fn plain_and_wire_write_the_same_log() {
    let (one, other) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
    let fixed = |home: &Path, face: &str, input: &str| {
        use std::io::Write;
        let mut command = program(home);
        command.env("SETWRIGHT_TEST_CLOCK", "2026-08-23T07:12:00Z").env("SETWRIGHT_TEST_IDS", "same");
        command.args(["follow", "flow-sensor-body", "--by", "KT", face]);
        let mut child = command.stdin(Stdio::piped()).stdout(Stdio::piped()).spawn().unwrap();
        child.stdin.take().unwrap().write_all(input.as_bytes()).unwrap();
        assert!(child.wait_with_output().unwrap().status.success());
        let mut log = std::fs::read_dir(home.join("sessions")).unwrap().map(|entry| entry.unwrap().path());
        std::fs::read(log.find(|path| path.extension().is_some_and(|ending| ending == "jsonl")).unwrap()).unwrap()
    };
    let plain = fixed(
        one.path(),
        "--plain",
        "yes\nat-the-top\nplus-x\nyes\nyes\nslides\n15.999\n159.99\n:sure I read it\n:strike 19 typed a decimal too far\n",
    );
    let wire = fixed(
        other.path(),
        "--wire",
        "{\"enter\":\"yes\"}\n{\"choose\":\"at-the-top\"}\n{\"choose\":\"plus-x\"}\n{\"enter\":\"yes\"}\n{\"enter\":\"yes\"}\n{\"choose\":\"slides\"}\n{\"enter\":\"15.999\"}\n{\"enter\":\"159.99\"}\n{\"sure\":\"I read it\"}\n{\"strike\":{\"seq\":19,\"why\":\"typed a decimal too far\"}}\n",
    );
    assert_eq!(String::from_utf8_lossy(&plain), String::from_utf8_lossy(&wire));
}
