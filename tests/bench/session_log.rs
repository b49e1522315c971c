//! What the session log costs, each figure beside its physical limit measured in the same run: `cargo bench --bench
//! session_log`. Ratios mean the same on every machine. Ends with an error when one is beyond its target.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout,
    clippy::cast_precision_loss,
    reason = "a bench may stop at what it did not expect"
)]

#[path = "../session_log_support/sample.rs"]
mod sample;

use std::fs::{self, File, OpenOptions};
use std::io::{BufRead, BufReader, BufWriter, Write};
use std::path::Path;
use std::process::ExitCode;
use std::time::{Duration, Instant};

use sample::{bodies, data, founding, lines, on, on_disk, sample, say_next};
use serde::Deserialize;
use serde::de::IgnoredAny;
use serde_json::{Value, json};
use setwright::calc;
use setwright::session::audit;
use setwright::session_log::memory::MemoryDisk;
use setwright::session_log::{Class, Head, Kind, SessionLog, Surroundings, WrongTail, verify};

/// One figure with its target.
struct Figure {
    what: &'static str,
    seen: String,
    /// Measured, and at most this.
    value: f64,
    target: f64,
}

fn main() -> ExitCode {
    let folder = tempfile::tempdir_in(env!("CARGO_TARGET_TMPDIR")).unwrap();
    // The million comes first: the most memory ever used is then its own.
    let mut figures = million(folder.path());
    figures.extend(saving(folder.path()));
    figures.extend(calls_and_bytes());
    figures.extend(opening_and_replay(folder.path()));
    let mut code = ExitCode::SUCCESS;
    for figure in &figures {
        let held = figure.value <= figure.target;
        let verdict = if held { "" } else { "   BEYOND" };
        println!("{:<44} {:>8.2} of {:<8} {}{verdict}", figure.what, figure.value, figure.target, figure.seen);
        if !held {
            code = ExitCode::FAILURE;
        }
    }
    code
}

/// A log of so many entries, about 380 bytes each.
fn long_log(path: &Path, events: u64) {
    let mut out = BufWriter::new(File::create(path).unwrap());
    let header = bodies(&sample(1)).remove(0);
    let mut head = Head::START;
    for n in 0..events {
        let body = if n == 0 {
            header.clone()
        } else {
            format!(
                "{{\"n\":{n},\"t\":\"2026-08-23T14:15:06.000+02:00\",\"m\":{n},\"r\":1,\"k\":\"entry.add\",\"a\":\"KT\",\"d\":{{\"step\":\"rotary-tram\",\"ask\":\"pad-a\",\"raw\":\"0.0125 mm\",\"pm\":12500000,\"unit\":\"mm\",\"instrument\":\"IND-0042\",\"round\":3,\"piece\":null,\"note\":\"dial read from the front, spindle locked, coolant off\"}}"
            )
            .into_bytes()
        };
        head = head.after(&body);
        out.write_all(&body).unwrap();
        writeln!(out, ",\"h\":\"{head}\"}}").unwrap();
    }
    out.flush().unwrap();
}

/// The most memory this process ever used, in MB; nothing where the system does not say.
fn peak_memory() -> f64 {
    let status = fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:"));
    line.and_then(|line| line.split_whitespace().next()?.parse::<f64>().ok()).unwrap_or_default() / 1024.0
}

/// What a general parser makes of a line when it keeps no data.
#[derive(Deserialize)]
struct Line<'a> {
    r: u64,
    h: &'a str,
    #[serde(rename = "d")]
    _data: IgnoredAny,
}

/// The limit of reading: the bare chain and a general parser over the same lines.
fn bare_chain_and_parse(path: &Path) -> Head {
    let mut head = Head::START;
    for line in BufReader::with_capacity(1 << 18, File::open(path).unwrap()).split(b'\n') {
        let line = line.unwrap();
        head = head.after(&line[..line.len() - 72]);
        assert!(serde_json::from_slice::<Line<'_>>(&line).is_ok_and(|line| line.r == 1 && line.h.len() == 64));
    }
    head
}

fn timed<T>(act: impl FnOnce() -> T) -> (T, Duration) {
    let began = Instant::now();
    (act(), began.elapsed())
}

/// The quickest of so many, turn about: what else the machine does must not count.
fn quickest(tries: usize, mut ours: impl FnMut(), mut bare: impl FnMut()) -> (Duration, Duration) {
    let mut best = (Duration::MAX, Duration::MAX);
    for _ in 0..tries {
        best.0 = best.0.min(timed(&mut ours).1);
        best.1 = best.1.min(timed(&mut bare).1);
    }
    best
}

fn million(folder: &Path) -> Vec<Figure> {
    const EVENTS: u64 = 1_000_000;
    let path = folder.join("long.jsonl");
    long_log(&path, EVENTS);
    let check = verify(&path).unwrap();
    assert_eq!((check.class, check.count), (Class::Clean, EVENTS));
    let checking = peak_memory();
    let whole = audit(&path).unwrap();
    assert_eq!(whole.check.head, check.head);
    let auditing = peak_memory();
    let (ours, bare) = quickest(3, || drop(verify(&path)), || assert_eq!(bare_chain_and_parse(&path), check.head));
    let megabytes = check.valid_len / 1_000_000;
    fs::remove_file(&path).unwrap();
    vec![
        Figure {
            what: "chain of 1e6 events / bare chain and parse",
            seen: format!("{ours:.2?} of {bare:.2?}, {megabytes} MB"),
            value: ours.as_secs_f64() / bare.as_secs_f64(),
            target: 2.0,
        },
        Figure { what: "seconds for it", seen: String::new(), value: ours.as_secs_f64(), target: 2.5 },
        Figure { what: "MB of memory, chain", seen: String::new(), value: checking, target: 32.0 },
        Figure { what: "MB of memory, whole audit", seen: String::new(), value: auditing, target: 32.0 },
    ]
}

/// The half-way and the 99 % value of so many durations.
fn percentiles(mut times: Vec<Duration>) -> (Duration, Duration) {
    times.sort_unstable();
    (times[times.len() / 2], times[times.len() * 99 / 100])
}

/// The half-way and the 99 % value of a save and of a bare write with its sync, turn about, in the calmest of so many
/// rounds: what else the machine does must not count.
fn saves_beside_bare_writes(folder: &Path) -> [(Duration, Duration); 2] {
    const ROUNDS: usize = 8;
    const SAVES: usize = 500;
    let around = Surroundings::real(folder.join("fallback"));
    let mut log = SessionLog::create(around, &founding(&folder.join("saving"))).unwrap();
    let mut bare_file = OpenOptions::new().append(true).create(true).open(folder.join("bare")).unwrap();
    let line = vec![b'x'; 300];
    let mut calmest = [(Duration::MAX, Duration::MAX); 2];
    for _ in 0..ROUNDS {
        let (mut ours, mut bare) = (Vec::new(), Vec::new());
        for _ in 0..SAVES {
            ours.push(timed(|| say_next(&mut log).unwrap()).1);
            bare.push(timed(|| bare_file.write_all(&line).and_then(|()| bare_file.sync_data()).unwrap()).1);
        }
        for (best, seen) in calmest.iter_mut().zip([percentiles(ours), percentiles(bare)]) {
            *best = (best.0.min(seen.0), best.1.min(seen.1));
        }
    }
    calmest
}

fn saving(folder: &Path) -> Vec<Figure> {
    let [ours, bare] = saves_beside_bare_writes(folder);
    let figure = |what, ours: Duration, bare: Duration| {
        // Where a sync costs next to nothing, as in memory, the ratio says nothing.
        let quick = bare < Duration::from_micros(50);
        let remark = if quick { ", not judged: this disk does not sync" } else { "" };
        Figure {
            what,
            seen: format!("{ours:.1?} of {bare:.1?}{remark}"),
            value: ours.as_secs_f64() / bare.as_secs_f64(),
            target: if quick { f64::INFINITY } else { 1.10 },
        }
    };
    vec![
        figure("save, half-way / bare write and sync", ours.0, bare.0),
        figure("save, 99 % / bare write and sync", ours.1, bare.1),
    ]
}

fn calls_and_bytes() -> Vec<Figure> {
    const EVENTS: usize = 1000;
    let disk = MemoryDisk::new();
    let mut log = sample::create(on(&disk, "bench"));
    let before = disk.calls().len();
    for _ in 0..EVENTS {
        say_next(&mut log).unwrap();
    }
    let calls = disk.calls().split_off(before);
    let per_event = |name: &str| calls.iter().filter(|call| **call == name).count() as f64 / EVENTS as f64;
    let text = disk.contents(log.path()).unwrap();
    let beyond = lines(&text)
        .into_iter()
        .zip(log.events())
        .skip(1)
        .map(|(line, event)| line.len() - Value::Object(event.data.clone()).to_string().len());
    vec![
        Figure { what: "writes an event", seen: String::new(), value: per_event("write"), target: 1.0 },
        Figure { what: "syncs an event", seen: String::new(), value: per_event("sync_data"), target: 1.0 },
        Figure {
            what: "bytes an event beyond its data",
            seen: "72 of them are the hash".to_owned(),
            value: beyond.max().unwrap() as f64,
            target: 180.0,
        },
    ]
}

/// A log of 2,000 events, one calculation to three entries.
fn working_log(folder: &Path) -> std::path::PathBuf {
    let mut log = SessionLog::create(on_disk(folder, "replay"), &founding(&folder.join("replay"))).unwrap();
    let tram = calc::calculation("tram-correction").unwrap();
    let inputs: Value = serde_json::from_str(tram.example).unwrap();
    let outputs = calc::reckon(tram.id, inputs.as_object().unwrap()).unwrap();
    while log.events().len() < 2000 {
        if log.events().len() % 4 == 1 {
            let said = json!({"id": tram.id, "version": tram.version, "inputs": inputs, "outputs": outputs});
            log.append(Kind::ReckoningAdd, "KT", data(said)).unwrap();
        } else {
            say_entry(&mut log);
        }
    }
    log.path().to_owned()
}

fn say_entry(log: &mut SessionLog) {
    let entry = json!({"step": "rotary-tram", "ask": "tram.rear", "raw": "0.0125", "pm": 12_500_000, "unit": "mm"});
    log.append(Kind::EntryAdd, "KT", data(entry)).unwrap();
}

fn opening_and_replay(folder: &Path) -> Vec<Figure> {
    let path = working_log(folder);
    let (audited, checked) = quickest(
        20,
        || {
            let audited = audit(&path).unwrap();
            assert!(audited.reckoned > 400 && audited.differences.is_empty());
        },
        || drop(verify(&path)),
    );
    let resumed = (0..5)
        .map(|_| timed(|| drop(SessionLog::resume(on_disk(folder, "resume"), &path, WrongTail::Refuse).unwrap())).1);
    let resumed = resumed.min().unwrap();
    vec![
        Figure {
            what: "replay with every calculation / chain",
            seen: format!("{audited:.2?} of {checked:.2?}, 2,000 events"),
            value: audited.as_secs_f64() / checked.as_secs_f64(),
            target: 3.0,
        },
        Figure {
            what: "ms to open 2,000 events for writing",
            seen: String::new(),
            value: resumed.as_secs_f64() * 1000.0,
            target: 50.0,
        },
    ]
}
