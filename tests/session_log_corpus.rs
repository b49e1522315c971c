//! The corpus of logs in `sample-sessions/v1`: `healthy` and `damaged`, with what each of them is in `expected.json`.
//!
//! `cargo test --test session_log_corpus -- --ignored` writes it anew, byte for byte the same while the format is the
//! same. Logs of a released version are never changed: a new version gets a folder of its own. They are made with the
//! log alone, so what a step asks does not alter them.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout,
    reason = "a test may stop at what it did not expect"
)]

#[path = "session_log_support/corpus.rs"]
mod corpus;
#[path = "session_log_support/damaged.rs"]
mod damaged;
#[path = "session_log_support/sample.rs"]
mod sample;

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use serde_json::{Value, json};
use setwright::calc;
use setwright::session_log::{Head, Kind, MAX_LINE, Reader, SessionLog, WrongTail, memory::MemoryDisk, read};

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-sessions/v1")
}

/// What a log is: the class, the good events, their head, whether it is sealed, and what its calculations give when
/// they are made again.
fn found(path: &Path) -> Value {
    let reading = read(path).unwrap();
    let (results, reckoned) = made_again(path);
    let check = reading.check;
    json!({
        "class": check.class.name(),
        "events": check.count,
        "head": check.head.as_str(),
        "sealed": check.sealed,
        "bad_line": check.problem.as_ref().map(|problem| problem.line),
        "reckoned": reckoned,
        "results": results,
        "not_understood": check.not_understood,
        "clock_went_back": check.clock_went_back,
        "newer": check.is_newer() || check.critical_unknown.is_some(),
    })
}

/// The hash that a first line with the outputs of every calculation, made again from its inputs, would have, and how many
/// there are. Each must be what the log holds, bit for bit.
fn made_again(path: &Path) -> (String, u64) {
    let mut reader = Reader::new(fs::File::open(path).unwrap());
    let mut results = String::new();
    let mut reckoned = 0;
    while let Some(event) = reader.next_event().unwrap() {
        if event.kind == Kind::ReckoningAdd {
            let inputs = event.data["inputs"].as_object().unwrap();
            let outputs = Value::Object(calc::reckon(event.data["id"].as_str().unwrap(), inputs).unwrap());
            assert_eq!(outputs, event.data["outputs"], "{}: event {}", path.display(), event.n);
            results.push_str(&format!("{outputs}\n"));
            reckoned += 1;
        }
    }
    (Head::START.after(results.as_bytes()).as_str().to_owned(), reckoned)
}

fn expected() -> Vec<Value> {
    let text = fs::read_to_string(folder().join("expected.json")).unwrap();
    serde_json::from_str(&text).unwrap()
}

/// Every log of the corpus with its row.
fn rows() -> Vec<(PathBuf, Value)> {
    expected().into_iter().map(|row| (folder().join(row["log"].as_str().unwrap()), row)).collect()
}

#[test]
#[ignore = "writes sample-sessions/v1/healthy, damaged and expected.json"]
fn write_the_corpus() {
    let mut rows = Vec::new();
    for (group, logs) in [("healthy", corpus::healthy()), ("damaged", damaged::damaged())] {
        let _ = fs::remove_dir_all(folder().join(group));
        fs::create_dir_all(folder().join(group)).unwrap();
        for log in logs {
            let name = format!("{group}/{}.jsonl", log.name);
            fs::write(folder().join(&name), &log.bytes).unwrap();
            let mut row = json!({"log": name, "about": log.about});
            let members = row.as_object_mut().unwrap();
            members.extend(found(&folder().join(&name)).as_object().unwrap().clone());
            // What it must be is said where it is made, not read off the reader.
            assert_eq!(
                (members["class"].as_str().unwrap(), &members["events"]),
                (log.class, &json!(log.events)),
                "{name}"
            );
            members.insert("chain_alone".to_owned(), json!({"class": log.chain_alone.0, "events": log.chain_alone.1}));
            rows.push(row);
        }
    }
    let lines: Vec<String> = rows.iter().map(Value::to_string).collect();
    fs::write(folder().join("expected.json"), format!("[\n{}\n]\n", lines.join(",\n"))).unwrap();
}

#[test]
fn every_log_of_the_corpus_is_what_it_is_said_to_be() {
    let mut groups = [0, 0];
    for (path, row) in rows() {
        for (key, value) in found(&path).as_object().unwrap() {
            assert_eq!(&row[key], value, "{}: {key}", path.display());
        }
        groups[usize::from(row["log"].as_str().unwrap().starts_with("damaged/"))] += 1;
    }
    assert!(groups[0] >= 12 && groups[1] >= 24, "{groups:?}");
    let named: BTreeSet<PathBuf> = rows().into_iter().map(|(path, _)| path).collect();
    let there: BTreeSet<PathBuf> = ["healthy", "damaged"]
        .iter()
        .flat_map(|group| fs::read_dir(folder().join(group)).unwrap())
        .map(|entry| entry.unwrap().path())
        .collect();
    assert_eq!(named, there, "each log has a row and each row a log");
}

/// Opening for writing: a whole or torn log goes on and loses no event; everything else is left as it is.
#[test]
fn only_what_is_whole_or_torn_is_opened_for_writing() {
    for (path, row) in rows() {
        let text = fs::read(&path).unwrap();
        let disk = MemoryDisk::new();
        let name = Path::new("sessions/a.jsonl");
        disk.put(name, &text);
        let may = matches!(row["class"].as_str().unwrap(), "clean" | "unterminated" | "torn")
            && row["sealed"] == json!(false)
            && row["newer"] == json!(false)
            && row["events"] != json!(0);
        match SessionLog::resume(sample::on(&disk, "again"), name, WrongTail::Refuse) {
            Ok(mut log) => {
                assert!(may, "{} was opened", path.display());
                log.append(Kind::SessionResume, "KT", serde_json::Map::new()).unwrap();
                let (events, check) = sample::read_on(&disk, name);
                let before = row["events"].as_u64().unwrap();
                assert_eq!(check.class.name(), "clean");
                assert!(events.len() as u64 > before);
            }
            Err(error) => {
                assert!(!may, "{}: {error}", path.display());
                assert_eq!(disk.contents(name).unwrap(), text, "{}: {error}", path.display());
            }
        }
    }
}

/// Whoever remembers a head finds what the chain alone cannot show.
#[test]
fn what_passes_as_clean_among_the_damaged_is_found_by_the_head() {
    let head = rows().into_iter().find(|(_, row)| row["log"] == "healthy/plain.jsonl").unwrap().1["head"].clone();
    let clean: Vec<String> = rows()
        .into_iter()
        .filter(|(_, row)| row["log"].as_str().unwrap().starts_with("damaged/") && row["class"] == "clean")
        .map(|(_, row)| {
            assert_ne!(row["head"], head, "{row}");
            row["log"].as_str().unwrap().to_owned()
        })
        .collect();
    let ends_early_or_forged =
        ["damaged/cut-off-at-a-line-end.jsonl", "damaged/empty.jsonl", "damaged/forged-from-the-middle.jsonl"];
    let newer = ["damaged/newer-format.jsonl", "damaged/unknown-kind-that-must-be-understood.jsonl"];
    let mut told = [&ends_early_or_forged[..], &newer[..]].concat();
    told.sort_unstable();
    let mut clean = clean;
    clean.sort_unstable();
    assert_eq!(clean, told);
}

/// Programs that are not ours say the same of the chain of every log.
#[test]
fn the_readers_in_other_languages_agree_on_the_whole_corpus() {
    let rows = rows();
    let paths: Vec<&Path> = rows.iter().map(|(path, _)| path.as_path()).collect();
    let script = |name: &str| Path::new(env!("CARGO_MANIFEST_DIR")).join("tests").join(name);
    match Command::new("python3").arg(script("check_chain.py")).args(&paths).output() {
        Err(error) => println!("SKIPPED: python3 cannot be run here ({error})"),
        Ok(output) => {
            let said = String::from_utf8(output.stdout).unwrap();
            assert_eq!(said.lines().count(), rows.len(), "{}", String::from_utf8_lossy(&output.stderr));
            for (line, (path, row)) in said.lines().zip(&rows) {
                let chain = &row["chain_alone"];
                let class = chain["class"].as_str().unwrap().replace(' ', "-");
                assert!(line.starts_with(&format!("{class} {} ", chain["events"])), "{}: {line}", path.display());
                if chain["events"] == row["events"] {
                    assert!(line.contains(row["head"].as_str().unwrap()), "{}: {line}", path.display());
                }
            }
        }
    }
    if Command::new("sha256sum").arg("--version").output().is_err() {
        println!("SKIPPED: there is no sha256sum here");
        return;
    }
    // The longest would take a process for each of its 2,000 lines twice over.
    for (path, row) in rows.iter().filter(|(_, row)| row["events"].as_u64().unwrap() < 1000) {
        let output = Command::new("sh").arg(script("check_chain.sh")).arg(path).output().unwrap();
        let said = String::from_utf8_lossy(&output.stdout).trim().to_owned();
        let holds = matches!(row["chain_alone"]["class"].as_str().unwrap(), "clean" | "unterminated");
        assert_eq!(output.status.success(), holds, "{}: {said}", path.display());
        if holds && row["chain_alone"]["events"] == row["events"] {
            assert_eq!(said, row["head"].as_str().unwrap(), "{}", path.display());
        }
    }
    assert!(rows.iter().all(|(path, _)| fs::metadata(path).unwrap().len() < 16 * MAX_LINE as u64));
}
