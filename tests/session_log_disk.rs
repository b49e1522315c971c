//! The session log on a real disk.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use std::fs;
use std::path::Path;

use serde_json::{Map, Value, json};
use setwright::session_log::{
    Class, ErrorClass, FixedClock, FixedIds, Follower, Founding, Kind, LogError, SessionLog, Surroundings, WrongTail,
    read, verify,
};

fn around(folder: &Path, seed: &str) -> Surroundings {
    let mut around = Surroundings::real(folder.join("fallback"));
    around.clock = Box::new(FixedClock::parse("2026-08-23T14:15:02+02:00").unwrap());
    around.ids = Box::new(FixedIds::new(seed));
    around
}

fn data(value: Value) -> Map<String, Value> {
    value.as_object().unwrap().clone()
}

fn create(folder: &Path, seed: &str) -> SessionLog {
    let founding = Founding {
        folder: &folder.join("sessions"),
        slug: "S1 top plate",
        by: "KT",
        unit: "mm",
        data: data(json!({"card": {"id": "S1", "angle": 22.5}})),
    };
    SessionLog::create(around(folder, seed), &founding).unwrap()
}

fn entry(number: u32) -> Map<String, Value> {
    data(json!({"ask": "jaw-width", "raw": format!("{number}.5 mm"), "pm": u64::from(number) * 1_000_000_000}))
}

#[test]
fn a_session_is_created_resumed_sealed_and_read() {
    let folder = tempfile::tempdir().unwrap();
    let mut log = create(folder.path(), "a");
    let path = log.path().to_owned();
    assert_eq!(path.file_name().unwrap(), "20260823T121502Z_s1-top-plate_02f63a91.jsonl");
    for number in 1..=5 {
        let saved = log.append(Kind::EntryAdd, "KT", entry(number)).unwrap();
        assert_eq!(saved.n, u64::from(number));
    }
    drop(log);
    let mut log = SessionLog::resume(around(folder.path(), "b"), &path, WrongTail::Refuse).unwrap();
    assert_eq!((log.run(), log.events().len()), (2, 6));
    log.append(Kind::SessionResume, "KT", data(json!({"boot": log.boot()}))).unwrap();
    let sealed = log.seal("KT", Map::new()).unwrap();
    assert!(log.append(Kind::NoteAdd, "KT", Map::new()).is_err_and(|error| error.class() == ErrorClass::Sealed));
    let reading = read(&path).unwrap();
    assert_eq!(reading.events, log.events());
    assert_eq!((reading.check.class, reading.check.sealed), (Class::Clean, true));
    assert_eq!(reading.check.head, sealed.head);
    assert_eq!(verify(&path).unwrap().count, 8);
}
