//! Programs that are not ours read the same log and say the same: `check_chain.py` and `check_chain.sh`.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::print_stdout)]

#[path = "session_log_support/sample.rs"]
mod sample;

use std::fs;
use std::path::Path;
use std::process::{Command, Output};

use sample::{Dice, damage, line_starts, lines, sample, verdict};
use setwright::session_log::Head;

/// Runs a program; `None`, with a clear word, when the machine has not got it.
fn run(program: &str, script: &str, logs: &[String]) -> Option<Output> {
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests").join(script);
    match Command::new(program).arg(script).args(logs).output() {
        Ok(output) => Some(output),
        Err(error) => {
            println!("SKIPPED: {program} cannot be run here ({error})");
            None
        }
    }
}

/// Whole and damaged logs of every kind.
fn logs() -> Vec<Vec<u8>> {
    let text = sample(8);
    let all = lines(&text);
    let mut logs = vec![text.clone(), Vec::new(), b"\n".to_vec(), [&text[..], &[0; 700]].concat()];
    logs.extend((0..text.len()).step_by(13).map(|length| text[..length].to_vec()));
    logs.extend(line_starts(&text).into_iter().map(|length| text[..length].to_vec()));
    logs.extend(line_starts(&text).into_iter().skip(1).map(|length| text[..length - 1].to_vec()));
    for one in 0..all.len() {
        logs.push([&all[..one], &all[one + 1..]].concat().concat());
        logs.push([&all[..one], &[all[one]], &all[one..]].concat().concat());
        let mut changed = text.clone();
        changed[line_starts(&text)[one] + 90] ^= 4;
        logs.push(changed);
    }
    let mut dice = Dice(0xfeed_f00d);
    for _ in 0..300 {
        let mut bad = text.clone();
        damage(&mut bad, &mut dice);
        logs.push(bad);
    }
    logs.push(vec![b'x'; 70_000]);
    logs.push([&vec![b'x'; 70_000][..], b"\n"].concat());
    logs
}

#[test]
fn a_second_reader_in_another_language_gives_the_same_verdict() {
    let folder = tempfile::tempdir().unwrap();
    let logs = logs();
    let mut names = Vec::new();
    for (number, log) in logs.iter().enumerate() {
        let path = folder.path().join(format!("{number}.jsonl"));
        fs::write(&path, log).unwrap();
        names.push(path.to_string_lossy().into_owned());
    }
    let Some(output) = run("python3", "check_chain.py", &names) else { return };
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let said = String::from_utf8(output.stdout).unwrap();
    assert_eq!(said.lines().count(), logs.len());
    for ((line, log), name) in said.lines().zip(&logs).zip(&names) {
        let ours = verdict(log);
        let class = ours.class.name().replace(' ', "-");
        assert_eq!(line, format!("{class} {} {} {name}", ours.count, ours.head));
    }
}

#[test]
fn the_chain_is_checked_with_sha256sum_alone() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("log.jsonl");
    let text = sample(12);
    let check = |text: &[u8]| {
        fs::write(&path, text).unwrap();
        run("sh", "check_chain.sh", &[path.to_string_lossy().into_owned()])
    };
    if Command::new("sha256sum").arg("--version").output().is_err() {
        println!("SKIPPED: there is no sha256sum here");
        return;
    }
    let Some(output) = check(&text) else { return };
    let said = String::from_utf8_lossy(&output.stdout).into_owned();
    assert_eq!(Head::parse(&said), Ok(verdict(&text).head), "{said}{}", String::from_utf8_lossy(&output.stderr));
    let mut bad = text.clone();
    bad[line_starts(&text)[6] + 100] ^= 1;
    let output = check(&bad).unwrap();
    assert!(!output.status.success());
    assert_eq!(String::from_utf8_lossy(&output.stdout).trim(), "line 7 does not hold");
}
