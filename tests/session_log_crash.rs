//! Power cuts and failing calls at every place, on a disk in memory.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::print_stdout)]

#[path = "session_log_support/sample.rs"]
mod sample;

use std::path::{Path, PathBuf};

use sample::{create, founding, on, read_on, say_next, verdict};
use serde_json::Map;
use setwright::session_log::memory::{Fault, MemoryDisk};
use setwright::session_log::{Class, Event, Kind, LogError, Rescue, SessionLog, Store, WrongTail, is_log_name};

/// Events of the sample session before its seal.
const EVENTS: usize = 16;

/// What a person was shown as saved before the session broke off.
#[derive(Default)]
struct Shown {
    path: Option<PathBuf>,
    events: Vec<Event>,
}

/// Plays the sample session until it is sealed or a call fails: founded, resumed once, sealed.
fn play(disk: &MemoryDisk, shown: &mut Shown) -> Result<(), LogError> {
    let mut log = SessionLog::create(on(disk, "first"), &founding(Path::new("sessions")))?;
    let path = log.path().to_owned();
    shown.path = Some(path.clone());
    shown.events = log.events().to_vec();
    for _ in 0..EVENTS / 2 {
        say_next(&mut log)?;
        shown.events = log.events().to_vec();
    }
    drop(log);
    let mut log = SessionLog::resume(on(disk, "second"), &path, WrongTail::Refuse)?;
    while log.events().len() < EVENTS {
        say_next(&mut log)?;
        shown.events = log.events().to_vec();
    }
    log.seal("KT", Map::new())?;
    shown.events = log.events().to_vec();
    Ok(())
}

/// How often each thing happened to an image.
#[derive(Default, Debug)]
struct Tally {
    images: u64,
    nested: u64,
    opened_alone: u64,
    asked: u64,
    continued_in_new_file: u64,
    nothing_there: u64,
    sealed: u64,
}

fn log_paths(disk: &MemoryDisk) -> Vec<PathBuf> {
    let is_log = |path: &PathBuf| path.file_name().and_then(|name| name.to_str()).is_some_and(is_log_name);
    disk.paths().into_iter().filter(is_log).collect()
}

/// Looks at what a power cut left: everything shown must be there, and the session must go on.
fn judge(image: &MemoryDisk, shown: &Shown, tally: &mut Tally) {
    let Some(path) = &shown.path else {
        // Nothing was shown; whatever stands there must still be readable without harm.
        for path in log_paths(image) {
            let _ = verdict(&image.contents(&path).unwrap());
        }
        tally.nothing_there += 1;
        return;
    };
    let (events, check) = read_on(image, path);
    assert!(events.len() >= shown.events.len(), "{} shown, {} there: {check:?}", shown.events.len(), events.len());
    assert_eq!(events[..shown.events.len()], shown.events, "what was shown is there unchanged");
    assert!(events.len() <= shown.events.len() + 1, "at most one more than was shown");
    go_on(image, path, &events, tally);
}

/// Goes on with a session as a person would and checks that nothing of it is lost on the way.
fn go_on(image: &MemoryDisk, path: &Path, events: &[Event], tally: &mut Tally) {
    let resumed = SessionLog::resume(on(image, "after"), path, WrongTail::Refuse);
    let mut log = match resumed {
        Ok(log) => {
            tally.opened_alone += 1;
            log
        }
        Err(LogError::Sealed { .. }) => {
            assert!(read_on(image, path).1.sealed);
            tally.sealed += 1;
            return;
        }
        Err(LogError::DamagedTail { .. }) => {
            let tail_before = image.contents(path).unwrap();
            tally.asked += 1;
            let log = SessionLog::resume(on(image, "after"), path, WrongTail::SetAside).unwrap();
            assert_set_aside(image, &log, &tail_before);
            log
        }
        Err(LogError::Damaged { .. }) => {
            let before = image.contents(path).unwrap();
            tally.continued_in_new_file += 1;
            let log = SessionLog::carry_on(on(image, "after"), path).unwrap();
            assert_eq!(image.contents(path).unwrap(), before, "a damaged log is never written");
            log
        }
        Err(other) => panic!("{other}"),
    };
    let saved = log.append(Kind::NoteAdd, "KT", Map::new()).unwrap();
    let (now, check) = read_on(image, log.path());
    assert_eq!((check.class, check.head), (Class::Clean, saved.head));
    assert_eq!(now[1..events.len()], events[1..]);
    assert_eq!(now, log.events());
}

/// The bytes that were cut off must stand in a file of their own.
fn assert_set_aside(image: &MemoryDisk, log: &SessionLog, before: &[u8]) {
    let kept = usize::try_from(verdict(before).valid_len).unwrap();
    let is_copy = |path: &PathBuf| image.contents(path).as_deref() == Some(&before[kept..]);
    assert!(image.paths().iter().any(is_copy));
    let named = log.events().iter().filter(|event| event.kind == Kind::LogRecovered).count();
    assert!(named >= 1);
}

/// Two halves, so that two cores share them; each must judge half of 7,900 images and of 50,000 second cuts.
#[test]
fn no_power_cut_at_an_even_call_loses_what_was_shown_as_saved() {
    let tally = cut_the_power_at_every_other_call(0, 41);
    assert!(tally.images >= 3_950 && tally.nested >= 25_000, "{tally:?}");
}

#[test]
fn no_power_cut_at_an_odd_call_loses_what_was_shown_as_saved() {
    let tally = cut_the_power_at_every_other_call(1, 41);
    assert!(tally.images >= 3_950 && tally.nested >= 25_000, "{tally:?}");
}

#[test]
#[ignore = "two million second power cuts take eight minutes: cargo test --test session_log_crash -- --ignored"]
fn no_second_power_cut_loses_what_was_shown_as_saved() {
    let nested: u64 = [0, 1].iter().map(|first| cut_the_power_at_every_other_call(*first, 1).nested).sum();
    assert!(nested >= 2_000_000, "{nested}");
}

/// Cuts the power at every other call of a session and judges everything that could be left; after every so many
/// images the power is cut once more at every call of the recovery.
fn cut_the_power_at_every_other_call(first: usize, every: usize) -> Tally {
    let whole = MemoryDisk::new();
    play(&whole, &mut Shown::default()).unwrap();
    let mut tally = Tally::default();
    for call in (first..whole.calls().len()).step_by(2) {
        let disk = MemoryDisk::new();
        disk.plan(call, Fault::PowerCut);
        let mut shown = Shown::default();
        let ended = play(&disk, &mut shown);
        assert!(ended.is_err() || call + 2 >= whole.calls().len(), "call {call} was survived");
        for (number, image) in disk.crash_images().into_iter().enumerate() {
            tally.images += 1;
            if (number + call) % every == 0 {
                second_cut(&image, &shown, &mut tally);
            }
            judge(&image, &shown, &mut tally);
        }
    }
    println!("{tally:?}");
    tally
}

/// Cuts the power once more at every call of the recovery.
fn second_cut(image: &MemoryDisk, shown: &Shown, tally: &mut Tally) {
    let Some(path) = &shown.path else { return };
    let class = read_on(image, path).1.class;
    if !matches!(class, Class::Torn | Class::Unterminated | Class::DamagedTail) {
        return;
    }
    let before = image.contents(path).unwrap();
    let fresh = || image.crash_images().remove(0);
    let trial = fresh();
    drop(SessionLog::resume(on(&trial, "trial"), path, WrongTail::SetAside));
    for call in 0..trial.calls().len() {
        let disk = fresh();
        disk.plan(call, Fault::PowerCut);
        drop(SessionLog::resume(on(&disk, "trial"), path, WrongTail::SetAside));
        for second in sampled(disk.crash_images()) {
            tally.nested += 1;
            assert_nothing_deleted(&second, path, &before);
            judge_second(&second, path, shown);
        }
    }
}

/// The bytes that were found are still in the log, or the tail of them in a file of its own.
fn assert_nothing_deleted(image: &MemoryDisk, path: &Path, before: &[u8]) {
    let tail = &before[usize::try_from(verdict(before).valid_len).unwrap()..];
    let is_copy = |path: PathBuf| image.contents(&path).is_some_and(|bytes| bytes == tail);
    assert!(image.contents(path).unwrap().starts_with(before) || image.paths().into_iter().any(is_copy));
}

/// Of many images, the first, the second, and every seventeenth.
fn sampled(images: Vec<MemoryDisk>) -> impl Iterator<Item = MemoryDisk> {
    images.into_iter().enumerate().filter(|(at, _)| *at < 2 || at % 17 == 0).map(|(_, image)| image)
}

fn judge_second(image: &MemoryDisk, path: &Path, shown: &Shown) {
    let (events, _) = read_on(image, path);
    assert!(events.len() >= shown.events.len());
    assert_eq!(events[..shown.events.len()], shown.events);
    go_on(image, path, &events, &mut Tally::default());
}

/// EIO, ENOSPC, EDQUOT, EROFS, EFBIG (asm-generic/errno numbers of Linux).
const ERRORS: [i32; 5] = [5, 28, 122, 30, 27];

#[test]
fn no_failing_call_loses_what_was_shown_as_saved() {
    let whole = MemoryDisk::new();
    play(&whole, &mut Shown::default()).unwrap();
    let calls = whole.calls();
    let (mut runs, mut undone, mut untrusted) = (0, 0, 0);
    for (call, name) in calls.into_iter().enumerate() {
        let shorts = [0, 1, 100].map(Fault::ShortWrite);
        let shorts = shorts.into_iter().filter(|_| name == "write");
        for fault in ERRORS.into_iter().map(Fault::Error).chain(shorts) {
            let disk = MemoryDisk::new();
            disk.plan(call, fault);
            runs += 1;
            match fails_once(&disk) {
                Outcome::Undone => undone += 1,
                Outcome::Untrusted => untrusted += 1,
                Outcome::Other => {}
            }
        }
    }
    println!("{runs} runs: {undone} undone, {untrusted} untrusted");
    assert!(runs >= 600 && undone >= 100 && untrusted >= 100, "{runs} {undone} {untrusted}");
}

enum Outcome {
    Undone,
    Untrusted,
    Other,
}

/// Plays a session with one failing call, goes on as the error says, and checks that nothing shown is lost.
fn fails_once(disk: &MemoryDisk) -> Outcome {
    let mut shown = Shown::default();
    let ended = play(disk, &mut shown);
    let Some(path) = shown.path.clone() else { return Outcome::Other };
    let Err(error) = ended else {
        // Nothing was noticed: then everything must be on the disk.
        judge(&disk.crash_images().remove(1), &shown, &mut Tally::default());
        return Outcome::Other;
    };
    match &error {
        LogError::Untrusted { rescue: Rescue::Copied(copy), last_saved, .. } => {
            assert_eq!(*last_saved + 1, shown.events.len() as u64);
            let durable = disk.crash_images().remove(1);
            let (events, check) = read_on(&durable, copy);
            assert_eq!(check.class, Class::Clean);
            assert_eq!(events[1..], shown.events[1..], "the copy holds what was shown, and no more");
            let mut log = SessionLog::resume(on(&durable, "copy"), copy, WrongTail::Refuse).unwrap();
            say_next(&mut log).unwrap();
            Outcome::Untrusted
        }
        LogError::Untrusted { rescue: Rescue::Failed(why), .. } => panic!("only one call fails: {why}"),
        _ => {
            // The power is cut after the failure: what was shown must still be there.
            let mut tally = Tally::default();
            for image in sampled(disk.crash_images()) {
                judge(&image, &shown, &mut tally);
            }
            let (events, _) = read_on(disk, &path);
            go_on(disk, &path, &events, &mut tally);
            if matches!(error, LogError::NotSaved { .. }) { Outcome::Undone } else { Outcome::Other }
        }
    }
}

/// The first event after the header is appended while one call fails; then the next one.
fn append_with(fault: impl Fn(&[&str]) -> (usize, Fault)) -> (MemoryDisk, SessionLog, LogError) {
    let disk = MemoryDisk::new();
    let mut log = create(on(&disk, "one"));
    say_next(&mut log).unwrap();
    let before = disk.calls();
    let (call, fault) = fault(&before);
    disk.plan(call, fault);
    let error = say_next(&mut log).unwrap_err();
    (disk, log, error)
}

/// The number of the next call with this name, from the calls of an append that went well.
fn next(calls: &[&str], name: &str) -> usize {
    let of_one = &calls[calls.iter().rposition(|call| *call == "write").unwrap() - 2..];
    calls.len() + of_one.iter().position(|call| *call == name).unwrap()
}

#[test]
fn an_event_costs_one_write_and_one_sync_and_two_syncs_when_asked() {
    for (twice, syncs) in [(false, 1), (true, 2)] {
        let disk = MemoryDisk::new();
        let mut around = on(&disk, "count");
        around.sync_twice = twice;
        let mut log = create(around);
        for _ in 0..20 {
            let before = disk.calls().len();
            say_next(&mut log).unwrap();
            let calls = disk.calls().split_off(before);
            let count = |name| calls.iter().filter(|call| **call == name).count();
            assert_eq!((count("write"), count("sync_data"), count("set_len")), (1, syncs, 0), "{calls:?}");
        }
    }
}

#[test]
fn a_failed_write_is_undone_and_the_session_goes_on() {
    for fault in [Fault::Error(28), Fault::ShortWrite(0), Fault::ShortWrite(1), Fault::ShortWrite(150)] {
        let (disk, mut log, error) = append_with(|calls| (next(calls, "write"), fault));
        assert!(matches!(error, LogError::NotSaved { .. }), "{error}");
        assert!(error.session_goes_on());
        assert!(error.to_string().contains("not saved") && error.to_string().contains("_s1-top-plate_"), "{error}");
        let found = verdict(&disk.contents(log.path()).unwrap());
        assert_eq!((found.class, found.count), (Class::Clean, 2));
        assert_eq!(say_next(&mut log).unwrap().n, 2);
        assert_eq!(verdict(&disk.contents(log.path()).unwrap()).count, 3);
    }
}

#[test]
fn a_failed_sync_is_never_tried_again_and_the_session_is_copied() {
    let (disk, mut log, error) = append_with(|calls| (next(calls, "sync_data"), Fault::Error(5)));
    let LogError::Untrusted { last_sure, last_saved, rescue: Rescue::Copied(copy), .. } = &error else {
        panic!("{error}")
    };
    // After any write error the last saved event is doubtful too.
    assert_eq!((*last_sure, *last_saved), (Some(0), 1));
    assert!(copy.starts_with("fallback"));
    let words = error.to_string();
    for part in ["STOP", "number 0", "number 1", "fallback", "enter it again"] {
        assert!(words.contains(part), "{part}: {words}");
    }
    let calls = disk.calls();
    let failed = calls.iter().rposition(|call| *call == "make_folder").unwrap();
    assert_eq!(calls[failed - 1], "sync_data", "nothing is done to the old file after the failed sync");
    let again = say_next(&mut log).unwrap_err();
    assert!(matches!(again, LogError::Untrusted { .. }));
    assert_eq!(again.to_string(), words);
    let (events, check) = read_on(&disk, copy);
    assert_eq!(events[1..], log.events()[1..]);
    let continues = &check.header.as_ref().unwrap().data["continues"];
    assert_eq!(continues["head"], log.head().as_str());
    assert_eq!(continues["n"], 1);
    assert_eq!(continues["sid"], log.header().unwrap().sid.as_str());
    assert_ne!(check.header.as_ref().unwrap().sid, log.header().unwrap().sid);
}

#[test]
fn an_undo_that_fails_ends_the_trust() {
    let disk = MemoryDisk::new();
    let mut log = create(on(&disk, "undo"));
    say_next(&mut log).unwrap();
    let write = next(&disk.calls(), "write");
    disk.plan(write, Fault::ShortWrite(10));
    // After the short write: a look at the file, then the cut.
    disk.plan(write + 2, Fault::Error(5));
    let error = say_next(&mut log).unwrap_err();
    assert!(matches!(error, LogError::Untrusted { .. }), "{error}");
    assert!(error.to_string().contains("taken back"), "{error}");
}

#[test]
fn a_rescue_that_fails_too_says_to_write_the_readings_down() {
    let disk = MemoryDisk::new();
    let mut log = create(on(&disk, "both"));
    let sync = next(&disk.calls(), "sync_data");
    disk.plan(sync, Fault::Error(5));
    disk.plan(sync + 1, Fault::Error(30));
    let error = say_next(&mut log).unwrap_err();
    assert!(matches!(&error, LogError::Untrusted { rescue: Rescue::Failed(_), last_sure: None, .. }), "{error}");
    assert!(error.to_string().contains("write the readings down"), "{error}");
}

#[test]
fn another_program_that_writes_or_replaces_or_removes_ends_the_trust() {
    type Meddling = fn(&MemoryDisk, &Path);
    let cases: [(Meddling, &str, Option<u64>); 3] = [
        (|disk, path| disk.append_foreign(path, b"x\n"), "another program", Some(3)),
        (|disk, path| disk.put(path, &disk.contents(path).unwrap()), "put in its place", None),
        (|disk, path| disk.remove(path).unwrap(), "removed", None),
    ];
    for (meddle, part, sure) in cases {
        let disk = MemoryDisk::new();
        let mut log = create(on(&disk, "meddle"));
        for _ in 0..3 {
            say_next(&mut log).unwrap();
        }
        meddle(&disk, log.path());
        let error = say_next(&mut log).unwrap_err();
        let LogError::Untrusted { last_sure, rescue: Rescue::Copied(copy), .. } = &error else { panic!("{error}") };
        assert_eq!(*last_sure, sure, "{error}");
        assert!(error.to_string().contains(part), "{error}");
        assert_eq!(read_on(&disk, copy).0[1..], log.events()[1..]);
    }
}

#[test]
fn a_full_disk_still_lets_the_session_be_sealed() {
    for spare in [0, 100, 70_000, 150_000, 300_000] {
        let disk = MemoryDisk::new();
        let mut log = create(on(&disk, "full"));
        let used = disk.contents(log.path()).unwrap().len() as u64;
        disk.set_capacity(Some(used + 256 * 1024 + spare));
        let mut saved = 1;
        let error = loop {
            match say_next(&mut log) {
                Ok(_) => saved += 1,
                Err(error) => break error,
            }
        };
        assert!(matches!(error, LogError::NotSaved { .. }), "{error}");
        assert!(saved > 500, "the room kept for closing is no waste: {saved}");
        let sealed = log.seal("KT", Map::new()).unwrap();
        assert_eq!(sealed.n, saved);
        let found = verdict(&disk.contents(log.path()).unwrap());
        assert_eq!((found.class, found.sealed, found.count), (Class::Clean, true, saved + 1));
    }
}

#[test]
fn without_a_reserve_or_without_locks_the_session_still_goes_on() {
    let disk = MemoryDisk::new();
    disk.without_locks();
    let calls = {
        let trial = MemoryDisk::new();
        drop(create(on(&trial, "trial")));
        trial.calls()
    };
    let reserve = calls.iter().position(|call| *call == "reserve").unwrap();
    // EOPNOTSUPP: the file system reserves no room.
    disk.plan(reserve, Fault::Error(95));
    let mut log = create(on(&disk, "plain"));
    assert!(log.notices()[0].contains("knows no locks"));
    for _ in 0..5 {
        say_next(&mut log).unwrap();
    }
    assert_eq!(disk.calls().iter().filter(|call| **call == "reserve").count(), 1);
    log.seal("KT", Map::new()).unwrap();
}
