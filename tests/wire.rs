//! The wire, version 1 (DEVELOPERS.md): its shape, and what a rig may send without anything being taken by mistake.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, reason = "a test may stop at what it did not expect")]

#[path = "support/player.rs"]
mod player;
#[path = "support/rig.rs"]
mod rig;

use std::io::Write;
use std::path::Path;
use std::process::{Output, Stdio};

use rig::{Rig, program};
use serde_json::{Value, json};

const JOBS: [&str; 2] = ["flow-sensor-body", "metering-valve-body"];

fn play(home: &Path, arguments: &[&str], input: &str) -> Output {
    let mut command = program(home);
    let mut child =
        command.args(arguments).stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
    child.stdin.take().unwrap().write_all(input.as_bytes()).unwrap();
    child.wait_with_output().unwrap()
}

fn lines(output: &Output) -> Vec<Value> {
    String::from_utf8_lossy(&output.stdout).lines().map(|line| serde_json::from_str(line).unwrap()).collect()
}

fn sessions(home: &Path) -> usize {
    std::fs::read_dir(home.join("sessions")).map_or(0, Iterator::count)
}

#[track_caller]
fn has(line: &Value, keys: &[&str]) {
    for key in keys {
        assert!(line.get(*key).is_some(), "`{key}` is missing: {line}");
    }
}

#[track_caller]
fn is_state(line: &Value) {
    let keys = [
        "wire",
        "step",
        "title",
        "piece",
        "round",
        "ask",
        "move",
        "reckonings",
        "findings",
        "gates",
        "verdict",
        "cautions",
        "trap",
        "state",
    ];
    has(line, &keys);
    assert_eq!(line["wire"], 1);
    assert!(["open", "within", "not-proven", "outside"].contains(&line["verdict"].as_str().unwrap()), "{line}");
    if !line["ask"].is_null() {
        has(&line["ask"], &["id", "kind", "unit", "choices", "expected", "say", "repeat", "of"]);
    }
    if !line["move"].is_null() {
        has(&line["move"], &["axis", "to", "unit", "approach", "says"]);
    }
    let each = |list: &str, keys: &[&str]| line[list].as_array().unwrap().iter().for_each(|one| has(one, keys));
    each("reckonings", &["role", "id", "inputs", "outputs"]);
    each("findings", &["id", "about", "label", "value", "unit", "u", "verdict"]);
    each("gates", &["id", "about", "kind", "state", "measured", "limit", "says"]);
    each("state", &["step", "piece", "state", "verdict", "current"]);
}

#[test]
fn the_first_line_is_the_hello_and_every_other_is_a_state_or_an_answer() {
    let home = tempfile::tempdir().unwrap();
    let input = "{\"enter\":\"yes\"}\n{\"choose\":\"from-nowhere\"}\n\n{\"note\":\"first shift\"}\n";
    let output = play(home.path(), &["follow", JOBS[0], "--wire", "--by", "KT"], input);
    assert_eq!(output.status.code(), Some(0), "the end of the input leaves: {output:?}");
    let said = lines(&output);
    assert_eq!(said.len(), 8, "hello, state, and an answer with a state for each of three lines");
    has(&said[0], &["wire", "program", "session", "path", "resumed"]);
    assert_eq!(said[0]["resumed"], false);
    for state in [&said[1], &said[3], &said[5], &said[7]] {
        is_state(state);
    }
    assert_eq!(said[2]["recorded"], 1);
    assert!(said[4]["refused"].as_str().unwrap().contains("from-nowhere"));
    assert_eq!(said[5]["ask"], said[3]["ask"], "after a refusal the same is asked again");
    assert_eq!(said[6]["recorded"], 2);
}

#[test]
fn nothing_is_made_before_the_initials_are_known() {
    let home = tempfile::tempdir().unwrap();
    let input = "{\"enter\":\"yes\"}\nnonsense\n{\"by\":\"not initials\"}\n{\"by\":\"KT\",\"enter\":\"no\"}\n{\"leave\":false}\n{\"seal\":true}\n";
    let output = play(home.path(), &["follow", JOBS[0], "--wire"], input);
    assert_eq!(output.status.code(), Some(0));
    let said = lines(&output);
    assert_eq!(said.len(), 6);
    for line in &said {
        assert!(line["refused"].as_str().unwrap().contains("{\"by\":\"KT\"}"), "{line}");
    }
    assert_eq!(sessions(home.path()), 0);
}

#[test]
fn what_is_not_clear_is_refused_and_leaves_the_log_as_it_was() {
    let home = tempfile::tempdir().unwrap();
    let mut rig = Rig::start(home.path(), JOBS[0]);
    rig.until("fit.jaw-1", 0, 1);
    let before = std::fs::read(rig.path()).unwrap();
    let ask = rig.state["ask"].clone();
    let long = format!("{{\"note\":\"{}\"}}\n", "x".repeat(200_000));
    let deep = format!("{{\"note\":{}{}}}\n", "[".repeat(5000), "]".repeat(5000));
    let unclear: [&[u8]; 21] = [
        b"nonsense\n",
        b"[1]\n",
        b"{}\n",
        b"\"seal\"\n",
        b"{\"enter\":\"15.999\"\n",
        b"{\"enter\":15.999}\n",
        b"{\"enter\":\"15.999\",\"enter\":\"15.998\"}\n",
        b"{\"enter\":\"15.999\",\"note\":\"warm\"}\n",
        b"{\"enter\":\"15.999\"}{\"enter\":\"15.998\"}\n",
        b"{\"strike\":{\"seq\":1,\"seq\":2,\"why\":\"the wrong one\"}}\n",
        b"{\"strike\":{\"seq\":1,\"why\":\"the wrong one\",\"piece\":2}}\n",
        b"{\"strike\":{\"seq\":1.5,\"why\":\"the wrong one\"}}\n",
        b"{\"note\":\"a\xff\xfeb\"}\n",
        b"{\"choose\":\"slides\"}\n",
        b"{\"sure\":\"nothing was doubted\"}\n",
        b"{\"by\":\"not initials\"}\n",
        b"{\"concede\":{\"gate\":\"fit.play\",\"why\":\"it is right\",\"by\":\"\\u001b[2J\"}}\n",
        b"{\"happened\":\"nothing much\"}\n",
        b"{\"leave\":false}\n",
        long.as_bytes(),
        deep.as_bytes(),
    ];
    for line in unclear {
        let shown = String::from_utf8_lossy(&line[..line.len().min(80)]).into_owned();
        let reply = rig.send_bytes(line);
        assert!(reply["refused"].is_string(), "{shown} was answered with {reply}");
        assert_eq!(rig.state["ask"], ask, "after {shown}");
        assert_eq!(std::fs::read(rig.path()).unwrap(), before, "{shown} changed the log");
    }
    // The wire still stands, and a clear line is taken.
    let reply = rig.enter("15.999");
    assert!(reply["recorded"].is_u64(), "{reply}");
}

#[test]
fn a_line_may_be_64_kib_and_no_longer() {
    let home = tempfile::tempdir().unwrap();
    let mut rig = Rig::start(home.path(), JOBS[0]);
    let padded = |length: usize| {
        let line = "{\"note\":\"first shift\"}";
        format!("{line}{}\n", " ".repeat(length - line.len() - 1))
    };
    assert!(rig.send_bytes(padded(65_536).as_bytes())["recorded"].is_u64());
    let refused = rig.send_bytes(padded(65_537).as_bytes());
    assert!(refused["refused"].as_str().unwrap().contains("65536"), "{refused}");
    assert!(rig.send_bytes(b"{\"note\":\"and on\"}\r\n")["recorded"].is_u64(), "CR LF ends a line too");
}

#[test]
fn a_doubt_is_answered_by_a_reason_or_by_another_value() {
    let home = tempfile::tempdir().unwrap();
    let mut rig = Rig::start(home.path(), JOBS[0]);
    rig.until("fit.jaw-1", 0, 2);
    let ask = rig.state["ask"].clone();
    for answer in [json!({"enter": "15.999"}), json!({"sure": "read twice on the thimble"})] {
        let doubt = rig.enter("159.99");
        assert_eq!(doubt["doubt"]["answer_with"], json!(["sure", "enter"]));
        has(&doubt["doubt"], &["question", "slip"]);
        assert_eq!(rig.state["ask"], ask);
        let taken = rig.send(&answer);
        let seq = taken["recorded"].as_u64().unwrap_or_else(|| panic!("{taken}"));
        // The number answered is the entry's own: it is the one that can be crossed out.
        assert_eq!(taken["all"].as_array().unwrap().last(), Some(&json!(seq)));
        let struck = rig.send(&json!({"strike": {"seq": seq, "why": "only for this test"}}));
        assert!(struck["recorded"].is_u64(), "{struck}");
        assert_eq!(rig.state["ask"], ask);
    }
}

#[test]
fn what_is_expected_is_told_in_the_unit_of_the_ask() {
    // The scripted readings are good ones, typed as bare numbers in the card's unit: each lies where it is expected.
    for job in JOBS {
        let home = tempfile::tempdir().unwrap();
        let mut rig = Rig::start(home.path(), job);
        let mut windows = 0;
        while !rig.state["step"].is_null() {
            let (ask, answer) = (rig.state["ask"].clone(), rig.scripted());
            let number = answer.and_then(|text| text.parse::<f64>().ok());
            if let (Some(number), Some(low), Some(high)) =
                (number, ask["expected"]["low"].as_f64(), ask["expected"]["high"].as_f64())
            {
                windows += 1;
                let turns = if ask["unit"] == "deg" { vec![-360.0, 0.0, 360.0] } else { vec![0.0] };
                let inside = turns.iter().any(|turn| (low..=high).contains(&(number + turn)));
                assert!(inside, "{job}: {number} is not expected at {ask}");
            }
            rig.step();
            if !rig.state["step"].is_null() {
                is_state(&rig.state);
            }
        }
        assert!(windows > 20, "{job}: only {windows} windows were seen");
    }
}

#[test]
fn only_true_closes_a_session_for_good() {
    let home = tempfile::tempdir().unwrap();
    let mut rig = Rig::start(home.path(), JOBS[1]);
    let early = rig.send(&json!({"seal": true}));
    assert!(early["refused"].is_string(), "{early}");
    rig.finish();
    let before = std::fs::read(rig.path()).unwrap();
    for word in [json!(false), json!(null), json!("true"), json!(1)] {
        let reply = rig.send(&json!({"seal": word}));
        assert!(reply["refused"].is_string(), "seal {word}: {reply}");
    }
    assert_eq!(std::fs::read(rig.path()).unwrap(), before);
    let sealed = rig.seal();
    assert_eq!(sealed["sealed"], true);
    let name = rig.name();
    let audit = play(home.path(), &["audit", &name, "--json"], "");
    let audit: Value = serde_json::from_slice(&audit.stdout).unwrap();
    assert_eq!(audit["logs"][0]["head"], sealed["head"]);
    assert_eq!(audit["logs"][0]["sealed"], true);
}

#[test]
fn a_session_is_gone_on_with_where_it_stopped() {
    let home = tempfile::tempdir().unwrap();
    let mut rig = Rig::start(home.path(), JOBS[0]);
    rig.until("fit.jaw-1", 0, 2);
    let (name, ask) = (rig.name(), rig.state["ask"].clone());
    assert_eq!(rig.leave().1, Some(0));
    // By a part of its name that only one has.
    let part = name.rsplit('_').next().unwrap().to_owned();
    let mut again = Rig::resume(home.path(), &part, JOBS[0]);
    assert_eq!(again.hello["resumed"], true);
    assert_eq!(again.hello["session"], json!(name));
    assert_eq!(again.ask_id(), "resume.what-happened");
    again.step();
    assert_eq!(again.state["ask"], ask);
}
