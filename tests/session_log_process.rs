//! Another process writes the log: it is killed at any time, or meets a limit on the size of files.
//!
//! The writer is this test program itself, started with only the test `writes_until_it_is_stopped` in a folder that
//! holds a file named `writer`. More kills (row 11) and real failures by strace (rows 7 and 8), for a release:
//! `cargo test --release --test session_log_process -- --ignored --nocapture`
#![cfg(unix)]
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

#[path = "session_log_support/sample.rs"]
mod sample;

use std::fs;
use std::io::{BufRead, BufReader, Write};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::Duration;

use sample::{Dice, clock, data, founding, say_next};
use serde_json::json;
use setwright::session_log::{
    Class, Kind, LogError, SessionLog, Surroundings, WrongTail, is_log_name, read, survive_file_size_limit, verify,
};

const WRITER: [&str; 4] = ["--exact", "writes_until_it_is_stopped", "--ignored", "--nocapture"];

fn only_log(folder: &Path) -> Option<PathBuf> {
    let entries = fs::read_dir(folder.join("sessions")).ok()?;
    let mut names = entries.map(|entry| entry.unwrap().file_name().into_string().unwrap());
    names.find(|name| is_log_name(name)).map(|name| folder.join("sessions").join(name))
}

/// Goes on with the log of a folder, or founds one.
fn open(folder: &Path) -> Result<SessionLog, LogError> {
    // A fixed clock, so that every line of the same words has the same length.
    let around = Surroundings { clock: Box::new(clock()), ..Surroundings::real(folder.join("fallback")) };
    match only_log(folder) {
        Some(path) if verify(&path).is_ok_and(|check| check.count > 0) => {
            SessionLog::resume(around, &path, WrongTail::Refuse)
        }
        other => {
            // A file whose first event never got to the disk holds no session.
            if let Some(path) = other {
                fs::remove_file(path).unwrap();
            }
            SessionLog::create(around, &founding(&folder.join("sessions")))
        }
    }
}

#[test]
#[ignore = "the writer for the other tests of this file; does nothing by itself"]
fn writes_until_it_is_stopped() {
    let folder = Path::new(".");
    let Ok(order) = fs::read_to_string("writer") else { return };
    if order == "survive" {
        survive_file_size_limit().unwrap();
    }
    let mut out = std::io::stdout();
    let mut log = open(folder).unwrap();
    if order == "survive" || order == "meet the limit" {
        fill_up_to_the_limit(&mut log);
    }
    loop {
        let line = match say_next(&mut log) {
            Ok(saved) => format!("saved {}\n", saved.n),
            Err(error) => format!("error {error}\n"),
        };
        out.write_all(line.as_bytes()).unwrap();
        out.flush().unwrap();
        if line.starts_with("error") {
            if order == "seal when full" {
                log.seal("KT", serde_json::Map::new()).unwrap();
                out.write_all(b"sealed\n").unwrap();
            }
            return;
        }
    }
}

/// The limit on the size of a file that the writer meets.
const LIMIT: u64 = 16 * 1024;

/// Lets the log end exactly at the limit, since the signal comes only with a write that begins there; one that begins
/// before it comes out short.
fn fill_up_to_the_limit(log: &mut SessionLog) {
    let length = |log: &SessionLog| fs::metadata(log.path()).unwrap().len();
    let note = |log: &mut SessionLog, letters: u64| {
        let text = "x".repeat(usize::try_from(letters).unwrap());
        log.append(Kind::NoteAdd, "KT", data(json!({"text": text}))).unwrap();
    };
    while log.events().len() < 12 {
        note(log, 1);
    }
    let before = length(log);
    note(log, 100);
    let envelope = length(log) - before - 100;
    let room = LIMIT - length(log) - envelope;
    note(log, room);
    assert_eq!(length(log), LIMIT);
}

/// Kills the writer of one log again and again at a random time; gives acknowledged events and torn tails.
fn kill(folder: &Path, kills: u32, seed: u64) -> (u64, u64) {
    fs::write(folder.join("writer"), "until killed").unwrap();
    let mut dice = Dice(seed);
    let (mut acknowledged, mut torn) = (0, 0);
    for turn in 0..kills {
        let mut child = Command::new(std::env::current_exe().unwrap())
            .args(WRITER)
            .current_dir(folder)
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        let reader = BufReader::new(child.stdout.take().unwrap());
        let mut saved =
            reader.lines().map_while(Result::ok).filter_map(|line| line.strip_prefix("saved ")?.parse().ok());
        // The clock of the kill starts with the first event, or now for a kill while the log is being opened.
        let mut last: Option<u64> = if turn % 10 == 0 { None } else { saved.next() };
        std::thread::sleep(Duration::from_micros(300 + dice.next() % 24_700));
        child.kill().unwrap();
        child.wait().unwrap();
        last = saved.last().or(last);
        let Some(path) = only_log(folder) else {
            assert_eq!(last, None);
            continue;
        };
        let reading = read(&path).unwrap();
        torn += u64::from(reading.check.class == Class::Torn);
        assert!(
            matches!(reading.check.class, Class::Clean | Class::Unterminated | Class::Torn),
            "kill {turn}: {:?}",
            reading.check
        );
        if let Some(last) = last {
            assert!(reading.check.count > last, "kill {turn}: event {last} was shown as saved and is lost");
            acknowledged = acknowledged.max(last);
        }
    }
    (acknowledged, torn)
}

#[test]
fn two_hundred_kills_lose_nothing_that_was_shown_as_saved() {
    let mut total = (0, 0);
    for seed in 1..=5 {
        let folder = tempfile::tempdir().unwrap();
        let (acknowledged, torn) = kill(folder.path(), 40, seed * 0x0bad_5eed);
        total = (total.0 + acknowledged, total.1 + torn);
        open(folder.path()).unwrap();
    }
    println!("{} events acknowledged, {} torn tails", total.0, total.1);
    assert!(total.0 > 200);
}

#[test]
#[ignore = "ten thousand kills take minutes; see the head of this file for the command"]
fn ten_thousand_kills_lose_nothing_that_was_shown_as_saved() {
    let mut total = (0, 0);
    for seed in 1..=20 {
        let folder = tempfile::tempdir().unwrap();
        let (acknowledged, torn) = kill(folder.path(), 500, seed * 0x9e37_79b9);
        total = (total.0 + acknowledged, total.1 + torn);
    }
    println!("{} events acknowledged, {} torn tails", total.0, total.1);
}

/// Runs the writer under the limit (`ulimit -f` counts 512-byte blocks) and gives what it said and how it ended.
fn under_the_limit(folder: &Path, order: &str) -> (String, std::process::ExitStatus) {
    fs::write(folder.join("writer"), order).unwrap();
    let output = Command::new("sh")
        .args(["-c", "ulimit -f 32; exec \"$0\" \"$@\""])
        .arg(std::env::current_exe().unwrap())
        .args(WRITER)
        .current_dir(folder)
        .output()
        .unwrap();
    (String::from_utf8_lossy(&output.stdout).into_owned(), output.status)
}

/// Row 10: the limit is met, the event is refused, the log is whole; nothing is killed.
#[test]
fn a_limit_on_the_size_of_files_kills_nobody() {
    let folder = tempfile::tempdir().unwrap();
    let (said, status) = under_the_limit(folder.path(), "survive");
    assert!(status.success() && said.contains("error not saved"), "{status}: {said}");
    let check = verify(&only_log(folder.path()).unwrap()).unwrap();
    assert_eq!((check.class, check.count, check.valid_len), (Class::Clean, 14, LIMIT));
}

/// The same without the handler: the system kills the program. What was saved is there all the same.
#[test]
fn without_the_handler_the_limit_kills() {
    use std::os::unix::process::ExitStatusExt;
    let folder = tempfile::tempdir().unwrap();
    let (said, status) = under_the_limit(folder.path(), "meet the limit");
    assert_eq!(status.signal(), Some(signal_hook::consts::SIGXFSZ), "{said}");
    let check = verify(&only_log(folder.path()).unwrap()).unwrap();
    assert_eq!((check.class, check.count, check.valid_len), (Class::Clean, 14, LIMIT));
}

/// Lets the system call fail at its `k`-th time in a writer that goes on with a log; gives the log and what it said.
fn with_failing(call: &str, error: &str, k: u64, folder: &Path) -> (PathBuf, String) {
    let path = open(folder).unwrap().path().to_owned();
    fs::write(folder.join("writer"), "until killed").unwrap();
    let output = Command::new("strace")
        .args(["-f", "-o", "/dev/null", "-P"])
        .arg(fs::canonicalize(&path).unwrap())
        .args(["-e", &format!("trace={call}"), "-e", &format!("inject={call}:error={error}:when={k}")])
        .arg(std::env::current_exe().unwrap())
        .args(WRITER)
        .current_dir(folder)
        .output()
        .unwrap();
    (path, String::from_utf8_lossy(&output.stdout).into_owned())
}

fn count_saved(said: &str) -> u64 {
    said.lines().filter(|line| line.starts_with("saved ")).count() as u64
}

/// Row 7: a real EIO from fdatasync.
#[test]
#[ignore = "needs strace; see the head of this file for the command"]
fn a_sync_that_fails_in_the_system_ends_the_trust_and_the_copy_is_whole() {
    for k in 1..=100 {
        let folder = tempfile::tempdir().unwrap();
        let (_, said) = with_failing("fdatasync", "EIO", k, folder.path());
        assert_eq!(count_saved(&said), k - 1, "{said}");
        assert!(said.contains("STOP") && said.contains("were copied to"), "{said}");
        let copy = fs::read_dir(folder.path().join("fallback")).unwrap().map(|entry| entry.unwrap().path());
        let copy = copy.into_iter().find(|path| path.extension().is_some_and(|end| end == "jsonl")).unwrap();
        let check = verify(&copy).unwrap();
        assert_eq!((check.class, check.count), (Class::Clean, k), "the header and {} events", k - 1);
    }
    println!("100 of 100");
}

/// Row 8: a real ENOSPC from write.
#[test]
#[ignore = "needs strace; see the head of this file for the command"]
fn a_write_that_fails_in_the_system_is_refused_and_the_log_is_whole() {
    for k in 1..=100 {
        let folder = tempfile::tempdir().unwrap();
        let (path, said) = with_failing("write", "ENOSPC", k, folder.path());
        assert_eq!(count_saved(&said), k - 1, "{said}");
        assert!(said.contains("error not saved"), "{said}");
        let check = verify(&path).unwrap();
        assert_eq!((check.class, check.count), (Class::Clean, k));
    }
    println!("100 of 100");
}
