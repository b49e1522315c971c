//! Speed and memory, each beside its physical limit measured in the same run (section 6 of the format description).
//!
//! `cargo test --release --test session_log_speed -- --ignored --nocapture --test-threads 1`
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

#[path = "session_log_support/sample.rs"]
mod sample;

use std::fs::{self, File, OpenOptions};
use std::io::{BufRead, BufReader, BufWriter, Write};
use std::path::Path;
use std::time::{Duration, Instant};

use sample::{bodies, founding, sample, say_next};
use serde::Deserialize;
use serde::de::IgnoredAny;
use setwright::session_log::{Class, Head, SessionLog, Surroundings, verify};

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

/// The most memory this process ever used, in KiB.
fn peak_memory() -> Option<u64> {
    let status = fs::read_to_string("/proc/self/status").ok()?;
    status.lines().find_map(|line| line.strip_prefix("VmHWM:"))?.split_whitespace().next()?.parse().ok()
}

/// What a general parser makes of a line when it keeps no data.
#[derive(Deserialize)]
struct Line<'a> {
    r: u64,
    h: &'a str,
    #[serde(rename = "d")]
    _data: IgnoredAny,
}

/// The limit: the bare chain and a general parser over the same lines.
fn bare_chain_and_parse(path: &Path) -> Head {
    let mut head = Head::START;
    for line in BufReader::with_capacity(1 << 18, File::open(path).unwrap()).split(b'\n') {
        let line = line.unwrap();
        head = head.after(&line[..line.len() - 72]);
        assert!(serde_json::from_slice::<Line<'_>>(&line).is_ok_and(|line| line.r == 1 && line.h.len() == 64));
    }
    head
}

#[test]
#[ignore = "needs a release build; see the head of this file for the command"]
fn a_million_events_are_verified_in_time_and_in_little_memory() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("long.jsonl");
    long_log(&path, 1_000_000);
    let mut ours = Duration::MAX;
    let mut bare = Duration::MAX;
    let mut peak = None;
    let mut check = None;
    // The quickest of three: what else the machine does must not count.
    for _ in 0..3 {
        let began = Instant::now();
        check = Some(verify(&path).unwrap());
        ours = ours.min(began.elapsed());
        peak = peak.or_else(peak_memory);
        let began = Instant::now();
        let head = bare_chain_and_parse(&path);
        bare = bare.min(began.elapsed());
        assert_eq!(check.as_ref().unwrap().head, head);
    }
    let check = check.unwrap();
    assert_eq!((check.class, check.count), (Class::Clean, 1_000_000));
    let ratio = ours.as_secs_f64() / bare.as_secs_f64();
    println!(
        "1,000,000 events, {} MB: {ours:.2?}, bare chain and parse {bare:.2?}, ratio {ratio:.2}",
        check.valid_len / 1_000_000
    );
    println!("peak memory {peak:?} KiB");
    assert!(ours <= Duration::from_millis(2500), "{ours:?}");
    assert!(ratio <= 2.0);
    assert!(peak.is_none_or(|kib| kib <= 32 * 1024), "{peak:?} KiB");
}

/// The half-way and the 99 % value of so many durations.
fn percentiles(mut times: Vec<Duration>) -> (Duration, Duration) {
    times.sort_unstable();
    (times[times.len() / 2], times[times.len() * 99 / 100])
}

#[test]
#[ignore = "needs a release build and a quiet disk; see the head of this file for the command"]
fn saving_costs_little_more_than_the_bare_write_and_sync() {
    const TRIES: usize = 2000;
    let folder = tempfile::tempdir_in(".").unwrap();
    let mut log =
        SessionLog::create(Surroundings::real(folder.path().join("fallback")), &founding(folder.path())).unwrap();
    let mut bare_file = OpenOptions::new().append(true).create(true).open(folder.path().join("bare")).unwrap();
    let line = vec![b'x'; 300];
    let (mut ours, mut bare) = (Vec::new(), Vec::new());
    for _ in 0..TRIES {
        let began = Instant::now();
        say_next(&mut log).unwrap();
        ours.push(began.elapsed());
        let began = Instant::now();
        bare_file.write_all(&line).unwrap();
        bare_file.sync_data().unwrap();
        bare.push(began.elapsed());
    }
    let (ours, bare) = (percentiles(ours), percentiles(bare));
    let ratio = ours.0.as_secs_f64() / bare.0.as_secs_f64();
    println!(
        "save: {:.1?} half-way, {:.1?} at 99 %; bare {:.1?}, {:.1?}; ratio {ratio:.2}",
        ours.0, ours.1, bare.0, bare.1
    );
    if bare.0 >= Duration::from_micros(50) {
        assert!(ratio <= 1.10, "{ratio}");
    } else {
        println!("SKIPPED: the disk syncs in less than 50 microseconds, so the ratio says nothing");
    }
}
