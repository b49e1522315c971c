//! Logs to try things on.
#![allow(dead_code, reason = "each test file uses its own part")]

use std::path::Path;
use std::sync::Arc;

use serde_json::{Map, Value, json};
use setwright::session_log::memory::MemoryDisk;
use setwright::session_log::{
    Check, Event, FixedClock, FixedIds, Founding, Head, Kind, Reader, Saved, SessionLog, Store, Surroundings, check,
};

pub(crate) fn data(value: Value) -> Map<String, Value> {
    match value {
        Value::Object(members) => members,
        other => panic!("{other} is no object"),
    }
}

/// A fixed clock that starts in the afternoon of one day and goes on by a second a look.
pub(crate) fn clock() -> FixedClock {
    FixedClock::parse("2026-08-23T14:15:02+02:00").unwrap()
}

/// Surroundings on a disk in memory.
pub(crate) fn on(disk: &MemoryDisk, seed: &str) -> Surroundings {
    Surroundings {
        store: Arc::new(disk.clone()),
        clock: Box::new(clock()),
        ids: Box::new(FixedIds::new(seed)),
        fallback: "fallback".into(),
        sync_twice: false,
        machines: None,
    }
}

/// Surroundings on the machine's own disk, with fixed clock and identifiers.
pub(crate) fn on_disk(folder: &Path, seed: &str) -> Surroundings {
    let store = Arc::new(setwright::session_log::Disk);
    Surroundings { store, fallback: folder.join("fallback"), ..on(&MemoryDisk::new(), seed) }
}

/// Founds the sample session on the machine's own disk.
pub(crate) fn create_on_disk(folder: &Path, seed: &str) -> SessionLog {
    SessionLog::create(on_disk(folder, seed), &founding(&folder.join("sessions"))).unwrap()
}

/// What the sample session is founded with.
pub(crate) fn founding(folder: &Path) -> Founding<'_> {
    let card = data(json!({"card": {"id": "S1", "tip": 2.5, "name": "Spannplatte 7 µm"}}));
    Founding { folder, slug: "S1 top plate", by: "KT", unit: "mm", data: card }
}

/// Founds the sample session.
pub(crate) fn create(around: Surroundings) -> SessionLog {
    SessionLog::create(around, &founding(Path::new("sessions"))).unwrap()
}

/// What the sample session says at event `n`: entries, reckonings with numbers that are not whole, notes that are not
/// ASCII.
pub(crate) fn saying(n: u64) -> (Kind, Map<String, Value>) {
    let (kind, value) = match n % 4 {
        0 => (Kind::NoteAdd, json!({"text": format!("Öl auf der Backe, 20 °C, Nr. {n}")})),
        1 => (
            Kind::ReckoningAdd,
            json!({"id": "tram-next", "version": 1, "inputs": {"span_mm": 80.5}, "outputs": {"turn_deg": 0.1 / f64::from(u32::try_from(n).unwrap())}}),
        ),
        _ => (
            Kind::EntryAdd,
            json!({"step": "rotary-tram", "ask": "pad-a", "raw": "0.0125", "pm": n * 12_500_000, "unit": "mm"}),
        ),
    };
    (kind, data(value))
}

/// Appends what the sample session says next.
pub(crate) fn say_next(log: &mut SessionLog) -> Result<Saved, setwright::session_log::LogError> {
    let (kind, data) = saying(log.events().len() as u64);
    log.append(kind, "KT", data)
}

/// The bytes of a sample session of so many events.
pub(crate) fn sample(events: usize) -> Vec<u8> {
    let disk = MemoryDisk::new();
    let mut log = create(on(&disk, "sample"));
    while log.events().len() != events {
        say_next(&mut log).unwrap();
    }
    disk.contents(log.path()).unwrap()
}

/// Where each line starts, and the end.
pub(crate) fn line_starts(text: &[u8]) -> Vec<usize> {
    let ends = text.iter().enumerate().filter(|(_, byte)| **byte == b'\n').map(|(at, _)| at + 1);
    std::iter::once(0).chain(ends).collect()
}

/// The lines, each with its line feed.
pub(crate) fn lines(text: &[u8]) -> Vec<&[u8]> {
    text.split_inclusive(|byte| *byte == b'\n').collect()
}

/// What a reader says of these bytes.
pub(crate) fn verdict(text: &[u8]) -> Check {
    check(text).unwrap()
}

/// The events and the verdict of a file on any disk.
pub(crate) fn read_on(disk: &dyn Store, path: &Path) -> (Vec<Event>, Check) {
    let mut reader = Reader::new(disk.open_read(path).unwrap());
    let mut events = Vec::new();
    while let Some(event) = reader.next_event().unwrap() {
        events.push(event);
    }
    (events, reader.into_check())
}

/// Chains bodies with right hashes, whatever they say.
pub(crate) fn chained(bodies: &[Vec<u8>]) -> Vec<u8> {
    let mut head = Head::START;
    let mut text = Vec::new();
    for body in bodies {
        head = head.after(body);
        text.extend_from_slice(body);
        text.extend_from_slice(format!(",\"h\":\"{head}\"}}\n").as_bytes());
    }
    text
}

/// The bodies of a log: each line before its hash.
pub(crate) fn bodies(text: &[u8]) -> Vec<Vec<u8>> {
    lines(text).into_iter().map(|line| line[..line.len() - 73].to_vec()).collect()
}

/// A small generator of random numbers (xorshift, Marsaglia 2003), so that a failure can be repeated.
pub(crate) struct Dice(pub(crate) u64);

impl Dice {
    pub(crate) fn next(&mut self) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0
    }

    pub(crate) fn below(&mut self, limit: usize) -> usize {
        usize::try_from(self.next() % limit.max(1) as u64).unwrap()
    }
}

/// Damages bytes in one of six ways: a byte, one more, one less, a hole, a copied block, a run of zeros.
pub(crate) fn damage(text: &mut Vec<u8>, dice: &mut Dice) {
    let at = dice.below(text.len());
    let end = (at + 1 + dice.below(600)).min(text.len());
    match dice.below(6) {
        0 => text[at] = u8::try_from(dice.below(256)).unwrap(),
        1 => text.insert(at, u8::try_from(dice.below(256)).unwrap()),
        2 => drop(text.remove(at)),
        3 => drop(text.drain(at..end)),
        4 => {
            let block = text[at..end].to_vec();
            let to = dice.below(text.len());
            text.splice(to..to, block);
        }
        _ => text[at..end].fill(0),
    }
}
