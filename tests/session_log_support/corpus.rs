//! How the healthy logs of the corpus are made.

use std::path::{Path, PathBuf};

use serde_json::{Map, Value, json};
use setwright::calc;
use setwright::session_log::memory::MemoryDisk;
use setwright::session_log::{Clock, FixedClock, Kind, Moment, SessionLog, Surroundings, WrongTail};

use crate::sample::{bodies, chained, data, founding, line_starts, lines, on, read_on};

/// A log with what it is.
pub(crate) struct Made {
    pub(crate) name: &'static str,
    pub(crate) about: &'static str,
    pub(crate) bytes: Vec<u8>,
    /// What the reader must say of it.
    pub(crate) class: &'static str,
    pub(crate) events: usize,
    /// What the bytes and hashes alone say, for a reader that does not look into the lines.
    pub(crate) chain_alone: (&'static str, usize),
}

pub(crate) fn made(
    name: &'static str,
    about: &'static str,
    bytes: Vec<u8>,
    class: &'static str,
    events: usize,
) -> Made {
    Made { name, about, bytes, class, events, chain_alone: (class, events) }
}

/// A clock of one second a look whose wall clock is set, as a person or a time server does, at one look.
struct SetOnce {
    clock: FixedClock,
    looks: usize,
    at: usize,
    by_ms: i64,
}

impl Clock for SetOnce {
    fn now(&mut self) -> Moment {
        if self.looks == self.at {
            self.clock.set_wall(self.by_ms);
        }
        self.looks += 1;
        self.clock.now()
    }
}

fn at(around: Surroundings, time: &str) -> Surroundings {
    Surroundings { clock: Box::new(FixedClock::parse(time).unwrap()), ..around }
}

/// A session on a disk of its own.
fn session(seed: &str) -> (MemoryDisk, SessionLog) {
    let disk = MemoryDisk::new();
    let log = SessionLog::create(on(&disk, seed), &founding(Path::new("sessions"))).unwrap();
    (disk, log)
}

fn say(log: &mut SessionLog, kind: Kind, value: Value) -> u64 {
    log.append(kind, "KT", data(value)).unwrap().n
}

/// A reading of a dial indicator.
fn read_off(log: &mut SessionLog, typed: &str, picometres: i64) -> u64 {
    let entry = json!({"step": "rotary-tram", "ask": "tram.rear", "raw": typed, "pm": picometres, "unit": "mm",
        "instrument": "IND-0042"});
    say(log, Kind::EntryAdd, entry)
}

/// A calculation with the outputs that it gives. Only sums, products and roots, whose bits are the same everywhere.
fn reckon(log: &mut SessionLog, id: &str, inputs: &Value) {
    let outputs = calc::reckon(id, &data(inputs.clone())).unwrap();
    say(log, Kind::ReckoningAdd, json!({"id": id, "version": 1, "inputs": inputs, "outputs": outputs}));
}

/// Four readings, what is reckoned from them, and a step closed.
fn work(log: &mut SessionLog) {
    for (typed, picometres) in [("0.0125", 12_500_000), ("0.0130", 13_000_000)] {
        read_off(log, typed, picometres);
    }
    reckon(log, "readings-summary", &json!({"readings": [0.0125, 0.013]}));
    for (typed, picometres) in [("-187.4462", -187_446_200_000), ("-187.4812", -187_481_200_000)] {
        read_off(log, typed, picometres);
    }
    reckon(log, "flip-centreline", &json!({"midpoint_at_0": -187.4462, "midpoint_at_180": -187.4812}));
    say(log, Kind::StepClose, json!({"step": "rotary-tram", "verdict": "within", "facts": {"tram.y": "-187.4637 mm"}}));
    say(log, Kind::NoteAdd, json!({"text": "coolant off, spindle locked"}));
}

fn bytes(disk: &MemoryDisk, log: &SessionLog) -> Vec<u8> {
    disk.contents(log.path()).unwrap()
}

pub(crate) fn plain() -> Vec<u8> {
    let (disk, mut log) = session("plain");
    work(&mut log);
    work(&mut log);
    bytes(&disk, &log)
}

/// Opens a log again, in a later run.
fn again(disk: &MemoryDisk, path: &Path, seed: &str, time: &str) -> SessionLog {
    let mut log = SessionLog::resume(at(on(disk, seed), time), path, WrongTail::Refuse).unwrap();
    let boot = log.boot().to_owned();
    say(&mut log, Kind::SessionResume, json!({"boot": boot}));
    log
}

const LATER: &str = "2026-08-23T16:40:00+02:00";
const NEXT_DAY: &str = "2026-08-24T06:55:00+02:00";

fn resumed() -> Vec<u8> {
    let (disk, mut log) = session("resumed");
    work(&mut log);
    let path = log.path().to_owned();
    drop(log);
    let mut log = again(&disk, &path, "resumed-2", LATER);
    work(&mut log);
    drop(log);
    bytes(&disk, &again(&disk, &path, "resumed-3", NEXT_DAY))
}

/// A torn log that was opened again: the tail is set aside and named.
fn recovered() -> Vec<u8> {
    let text = plain();
    let disk = MemoryDisk::new();
    let path = PathBuf::from("sessions/20260823T121502Z_s1-top-plate_00000001.jsonl");
    disk.put(&path, &text[..text.len() - 40]);
    let mut log = again(&disk, &path, "recovered", LATER);
    work(&mut log);
    bytes(&disk, &log)
}

fn corrected_twice() -> Vec<u8> {
    let (disk, mut log) = session("corrected");
    let mut last = read_off(&mut log, "12.3456", 12_345_600_000);
    for (typed, picometres, why) in [
        ("12.3546", 12_354_600_000_i64, "digits swapped when typed"),
        ("12.3540", 12_354_000_000, "needle read from the side"),
    ] {
        say(&mut log, Kind::EntryStrike, json!({"seq": last, "why": why}));
        let entry = json!({"step": "rotary-tram", "ask": "tram.rear", "raw": typed, "pm": picometres, "unit": "mm",
            "replaces": last});
        last = say(&mut log, Kind::EntryAdd, entry);
    }
    bytes(&disk, &log)
}

fn sealed_on_disk() -> (MemoryDisk, PathBuf) {
    let (disk, mut log) = session("sealed");
    work(&mut log);
    say(&mut log, Kind::WitnessAdd, json!({"text": "head read to EM, on the sheet of 23 August"}));
    log.append(Kind::ReviewSign, "EM", data(json!({"text": "readings seen"}))).unwrap();
    log.seal("KT", Map::new()).unwrap();
    let path = log.path().to_owned();
    (disk, path)
}

pub(crate) fn sealed() -> Vec<u8> {
    let (disk, path) = sealed_on_disk();
    disk.contents(&path).unwrap()
}

fn amended() -> Vec<u8> {
    let (disk, path) = sealed_on_disk();
    let about = data(json!({"why": "instrument found out of calibration"}));
    let mut log = SessionLog::amend(at(on(&disk, "amended"), NEXT_DAY), &path, "EM", about).unwrap();
    read_off(&mut log, "0.0120", 12_000_000);
    bytes(&disk, &log)
}

/// A session whose wall clock is set by so many milliseconds in the middle.
fn clock_set(seed: &str, by_ms: i64) -> Vec<u8> {
    let disk = MemoryDisk::new();
    let clock = SetOnce { clock: crate::sample::clock(), looks: 0, at: 5, by_ms };
    let around = Surroundings { clock: Box::new(clock), ..on(&disk, seed) };
    let mut log = SessionLog::create(around, &founding(Path::new("sessions"))).unwrap();
    work(&mut log);
    bytes(&disk, &log)
}

fn beyond_ascii() -> Vec<u8> {
    let (disk, mut log) = session("beyond-ascii");
    for text in [
        "Öl auf der Backe, 20 °C, Ø 8 H7, 7 µm",
        "плита, приспособление, ось вращения",
        "治具を締め直した",
        "e\u{301} and é, a right-to-left word: שלום",
        "quotes \" and \\ and a tab \t and a line\nend",
        "\u{1f527}",
    ] {
        say(&mut log, Kind::NoteAdd, json!({"text": text}));
    }
    bytes(&disk, &log)
}

fn two_thousand() -> Vec<u8> {
    let (disk, mut log) = session("two-thousand");
    for n in 0..1998_i64 {
        let entry = json!({"step": "piece-check", "ask": "check.bore", "raw": format!("{}", 8000 + n % 15), "pm": n, "unit": "um"});
        say(&mut log, Kind::EntryAdd, entry);
    }
    reckon(&mut log, "z-register", &z_register());
    bytes(&disk, &log)
}

fn z_register() -> Value {
    serde_json::from_str(calc::calculation("z-register").unwrap().example).unwrap()
}

/// Two terminals went on from the same head, each in a copy of its own.
fn forked(seed: &str, typed: &str, picometres: i64) -> Vec<u8> {
    let disk = MemoryDisk::new();
    let path = PathBuf::from("sessions/20260823T121502Z_s1-top-plate_00000001.jsonl");
    disk.put(&path, &plain());
    let mut log = again(&disk, &path, seed, LATER);
    read_off(&mut log, typed, picometres);
    bytes(&disk, &log)
}

/// The good part of a damaged log goes on in a new file.
fn carried_on() -> Vec<u8> {
    let disk = MemoryDisk::new();
    let path = PathBuf::from("sessions/20260823T121502Z_s1-top-plate_00000001.jsonl");
    disk.put(&path, &flipped(&plain(), 9, 100));
    let mut log = SessionLog::carry_on(at(on(&disk, "carried-on"), LATER), &path).unwrap();
    let boot = log.boot().to_owned();
    say(&mut log, Kind::SessionResume, json!({"boot": boot}));
    assert_eq!(read_on(&disk, log.path()).0.len(), 10);
    bytes(&disk, &log)
}

/// A newer program of the same format added a kind and a field.
fn newer_minor() -> Vec<u8> {
    let mut all = bodies(&plain());
    let n = all.len();
    all.push(envelope(n, r#""k":"probe.add","a":"KT","d":{"x":0.5},"z":[1,{"y":"new"}]"#));
    chained(&all)
}

pub(crate) fn envelope(n: usize, rest: &str) -> Vec<u8> {
    format!("{{\"n\":{n},\"t\":\"2026-08-23T14:30:00.000+02:00\",\"m\":900000,\"r\":1,{rest}").into_bytes()
}

/// The logs that a careful user of the program has.
pub(crate) fn healthy() -> Vec<Made> {
    let text = plain();
    let clean = |name, about, bytes: Vec<u8>| {
        let events = lines(&bytes).len();
        made(name, about, bytes, "clean", events)
    };
    vec![
        clean("plain", "two steps, not sealed", text.clone()),
        clean("resumed", "three runs of the program", resumed()),
        made(
            "torn",
            "the program was killed in a write; not opened since",
            text[..text.len() - 40].to_vec(),
            "torn",
            16,
        ),
        made("unterminated", "the last line feed is missing", text[..text.len() - 1].to_vec(), "unterminated", 17),
        clean("recovered", "was torn and has gone on", recovered()),
        clean("corrected-twice", "one reading struck and replaced twice", corrected_twice()),
        clean("sealed", "witnessed, reviewed, sealed", sealed()),
        clean("amended", "amends the sealed one", amended()),
        clean("clock-back", "the wall clock was set back by two hours", clock_set("clock-back", -7_200_000)),
        clean("clock-forward", "the wall clock was set forward by a year", clock_set("clock-forward", 31_556_952_000)),
        clean("non-ascii", "many scripts, escapes, a character beyond the basic plane", beyond_ascii()),
        clean("two-thousand-events", "as long as a session gets", two_thousand()),
        clean("forked-a", "one of two that went on from the same head", forked("forked-a", "0.0140", 14_000_000)),
        clean("forked-b", "the other of the two", forked("forked-b", "0.0150", 15_000_000)),
        clean("carried-on", "the good part of a damaged log, in a new file", carried_on()),
        clean("newer-minor", "a kind and a field that this program does not know", newer_minor()),
    ]
}

/// Flips a bit of a byte of one line (from 0).
pub(crate) fn flipped(text: &[u8], line: usize, byte: usize) -> Vec<u8> {
    let mut bad = text.to_vec();
    bad[line_starts(text)[line] + byte] ^= 1;
    bad
}
