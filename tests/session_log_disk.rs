//! The session log on the machine's own disk: other programs, other files, other processes.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

#[path = "session_log_support/sample.rs"]
mod sample;

use std::fs;
use std::io::Write;
use std::path::Path;

use sample::{create_on_disk, data, founding, on_disk, sample, say_next};
use serde_json::{Map, json};
use setwright::session_log::{
    Class, ErrorClass, Follower, Head, Hint, Kind, LogError, Rescue, SessionLog, WrongTail, is_log_name, read, verify,
    witness,
};

#[test]
fn a_session_is_created_resumed_sealed_and_read() {
    let folder = tempfile::tempdir().unwrap();
    let mut log = create_on_disk(folder.path(), "a");
    let path = log.path().to_owned();
    // The tail of the name is SHA-256 of "a:2", digits 25 to 32 (checked with another program).
    assert_eq!(path.file_name().unwrap(), "20260823T121502Z_s1-top-plate_02f63a91.jsonl");
    for number in 1..=5 {
        assert_eq!(say_next(&mut log).unwrap().n, number);
    }
    drop(log);
    let mut log = SessionLog::resume(on_disk(folder.path(), "b"), &path, WrongTail::Refuse).unwrap();
    assert_eq!((log.run(), log.events().len()), (2, 6));
    log.append(Kind::SessionResume, "KT", data(json!({"boot": log.boot()}))).unwrap();
    let sealed = log.seal("KT", data(json!({"why": "done"}))).unwrap();
    assert!(log.append(Kind::NoteAdd, "KT", Map::new()).is_err_and(|error| error.class() == ErrorClass::Sealed));
    let reading = read(&path).unwrap();
    assert_eq!(reading.events, log.events());
    assert_eq!((reading.check.class, reading.check.sealed), (Class::Clean, true));
    assert_eq!((reading.check.head, verify(&path).unwrap().count), (sealed.head, 8));
    assert_eq!(Head::parse(&witness(&log.head())), Ok(sealed.head));
    assert!(fs::metadata(&path).unwrap().permissions().readonly());
    assert!(!path.with_extension("lock").exists(), "a sealed log needs no lock");
    let refused = SessionLog::resume(on_disk(folder.path(), "c"), &path, WrongTail::SetAside).err().unwrap();
    assert_eq!(refused.class(), ErrorClass::Sealed);
    assert!(!path.with_extension("lock").exists());
}

#[test]
fn a_log_can_be_moved_to_a_writing_thread() {
    let folder = tempfile::tempdir().unwrap();
    let mut log = create_on_disk(folder.path(), "a");
    let log = std::thread::spawn(move || say_next(&mut log).map(|_| log)).join().unwrap().unwrap();
    assert_eq!(log.events().len(), 2);
}

#[test]
fn a_header_says_who_with_what_and_after_which_log() {
    let folder = tempfile::tempdir().unwrap();
    let log = create_on_disk(folder.path(), "a");
    let header = log.header().unwrap();
    let keys: Vec<&str> = header.data.keys().map(String::as_str).collect();
    assert_eq!(keys, ["f", "fv", "min", "sid", "app", "calc", "boot", "unit", "card"]);
    assert_eq!(header.sid.len(), 32);
    assert!(header.data["app"].as_str().unwrap().starts_with("setwright 0.1.0 "));
    assert_eq!(
        (&header.data["fv"], &header.data["calc"], &header.data["unit"]),
        (&json!(1), &json!("1"), &json!("mm"))
    );
    // Nothing of the machine or its user goes into a log.
    let text = fs::read_to_string(log.path()).unwrap();
    let host = fs::read_to_string("/proc/sys/kernel/hostname").unwrap_or_default();
    assert!(host.trim().is_empty() || !text.contains(host.trim()));
    assert!(!text.contains(&*folder.path().to_string_lossy()));
}

#[test]
fn a_second_terminal_is_told_who_writes_and_can_follow() {
    let folder = tempfile::tempdir().unwrap();
    let mut log = create_on_disk(folder.path(), "a");
    let path = log.path().to_owned();
    let refused = SessionLog::resume(on_disk(folder.path(), "b"), &path, WrongTail::Refuse).err().unwrap();
    assert_eq!(refused.class(), ErrorClass::Locked);
    let words = refused.to_string();
    let holder = format!("process {} since 2026-08-23T14:15:02", std::process::id());
    assert!(words.contains(&holder) && words.contains("review --follow"), "{words}");
    let mut follower = Follower::open(&path).unwrap();
    assert_eq!(follower.poll().unwrap(), log.events());
    assert!(follower.poll().unwrap().is_empty());
    for _ in 0..3 {
        say_next(&mut log).unwrap();
        assert_eq!(follower.poll().unwrap(), log.events()[log.events().len() - 1..]);
    }
    log.seal("KT", Map::new()).unwrap();
    assert!(!follower.is_sealed());
    assert_eq!(follower.poll().unwrap().len(), 1);
    assert!(follower.is_sealed());
    assert_eq!(follower.head(), log.head());
}

#[test]
fn a_follower_waits_for_a_whole_line_and_stops_at_a_bad_one() {
    let folder = tempfile::tempdir().unwrap();
    let text = sample(5);
    let starts = sample::line_starts(&text);
    let path = folder.path().join("log.jsonl");
    fs::write(&path, &text[..starts[2]]).unwrap();
    let mut follower = Follower::open(&path).unwrap();
    assert_eq!(follower.poll().unwrap().len(), 2);
    let mut file = fs::OpenOptions::new().append(true).open(&path).unwrap();
    let (half, rest) = text[starts[2]..starts[4]].split_at(40);
    file.write_all(half).unwrap();
    assert!(follower.poll().unwrap().is_empty());
    file.write_all(rest).unwrap();
    assert_eq!(follower.poll().unwrap().len(), 2);
    file.write_all(b"{\"n\":4}\n").unwrap();
    for _ in 0..2 {
        let error = follower.poll().unwrap_err();
        assert!(error.to_string().contains("line 5"), "{error}");
    }
    // Cut or replaced under the reader.
    file.set_len(starts[4] as u64).unwrap();
    let mut follower = Follower::open(&path).unwrap();
    assert_eq!(follower.poll().unwrap().len(), 4);
    file.set_len(100).unwrap();
    assert!(follower.poll().unwrap_err().to_string().contains("cut"));
    let mut follower = Follower::open(&path).unwrap();
    fs::write(folder.path().join("other"), &text).unwrap();
    fs::rename(folder.path().join("other"), &path).unwrap();
    assert!(follower.poll().unwrap_err().to_string().contains("another file"));
    fs::remove_file(&path).unwrap();
    assert_eq!(follower.poll().unwrap_err().class(), ErrorClass::NoInput);
}

/// Row 16 of the fault plan: an editor's "save" or a sync client renames another file over the log.
#[test]
fn a_log_replaced_or_removed_under_the_writer_is_noticed_at_the_next_event() {
    for turn in 0..100 {
        let folder = tempfile::tempdir().unwrap();
        let mut log = create_on_disk(folder.path(), "a");
        for _ in 0..turn % 5 {
            say_next(&mut log).unwrap();
        }
        let path = log.path().to_owned();
        if turn % 2 == 0 {
            fs::copy(&path, folder.path().join("copy")).unwrap();
            fs::rename(folder.path().join("copy"), &path).unwrap();
        } else {
            fs::remove_file(&path).unwrap();
        }
        let error = say_next(&mut log).unwrap_err();
        let LogError::Untrusted { rescue: Rescue::Copied(copy), .. } = &error else { panic!("{error}") };
        let reading = read(copy).unwrap();
        assert_eq!((reading.check.class, &reading.events[1..]), (Class::Clean, &log.events()[1..]));
        assert!(is_log_name(copy.file_name().unwrap().to_str().unwrap()));
    }
}

/// Row 15: another program appends although the log is locked.
#[test]
fn a_foreign_line_stops_the_writer_and_makes_the_log_damaged() {
    for turn in 0..100 {
        let folder = tempfile::tempdir().unwrap();
        let mut log = create_on_disk(folder.path(), "a");
        say_next(&mut log).unwrap();
        let mut other = fs::OpenOptions::new().append(true).open(log.path()).unwrap();
        other.write_all(if turn % 2 == 0 { b"hello\n" } else { b"half" }).unwrap();
        let error = say_next(&mut log).unwrap_err();
        assert!(matches!(&error, LogError::Untrusted { last_sure: Some(1), .. }), "{error}");
        let check = verify(log.path()).unwrap();
        assert_eq!(check.class, if turn % 2 == 0 { Class::DamagedTail } else { Class::Torn });
        assert_eq!(check.count, 2, "nothing was written after it");
    }
}

/// Row 17.
#[cfg(unix)]
#[test]
fn what_is_no_file_is_refused_at_once() {
    let folder = tempfile::tempdir().unwrap();
    let pipe = folder.path().join("pipe");
    let made = std::process::Command::new("mkfifo").arg(&pipe).status();
    let socket = folder.path().join("socket");
    let _listener = std::os::unix::net::UnixListener::bind(&socket).unwrap();
    let mut paths = vec![folder.path().to_owned(), socket, "/dev/full".into(), "/dev/zero".into(), "/dev/tty".into()];
    paths.extend(made.is_ok_and(|status| status.success()).then_some(pipe));
    for path in paths {
        let refused = [
            read(&path).err(),
            verify(&path).err(),
            Follower::open(&path).err(),
            SessionLog::resume(on_disk(folder.path(), "a"), &path, WrongTail::Refuse).err(),
        ];
        for error in refused {
            let error = error.unwrap_or_else(|| panic!("{} was read", path.display()));
            assert_eq!(error.class(), ErrorClass::NoInput, "{error}");
            assert!(error.to_string().contains(&*path.to_string_lossy()), "{error}");
            assert!(error.to_string().contains("not a file"), "{error}");
        }
    }
    let missing = read(&folder.path().join("missing.jsonl")).unwrap_err();
    assert_eq!(missing.class(), ErrorClass::NoInput);
    assert!(missing.to_string().contains("no such file"), "{missing}");
}

/// Row 18, as far as it goes without other users: root may write into read-only folders.
#[test]
fn a_place_that_cannot_be_written_is_named() {
    for place in ["/proc/sessions", "/dev/null/sessions"] {
        let founding = founding(Path::new(place));
        let error = SessionLog::create(on_disk(Path::new("/proc"), "a"), &founding).err().unwrap();
        assert!(matches!(error.class(), ErrorClass::Io | ErrorClass::NoInput), "{error}");
        assert!(error.to_string().contains(place), "{error}");
    }
}

#[test]
fn a_line_of_a_gigabyte_is_refused_without_reading_it() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("huge.jsonl");
    fs::File::create(&path).unwrap().set_len(1 << 30).unwrap();
    let check = verify(&path).unwrap();
    assert_eq!((check.class, check.count), (Class::Damaged, 0));
    assert!(check.problem.unwrap().what.contains("64 KiB"));
    assert!(SessionLog::resume(on_disk(folder.path(), "a"), &path, WrongTail::SetAside).is_err());
}

/// The table of the format description, section "Opening", on real files.
#[test]
fn each_class_of_tail_is_treated_as_the_format_says() {
    let text = sample(4);
    let (good, last) = text.split_at(sample::line_starts(&text)[3]);
    let line = last.strip_suffix(b"\n").unwrap();
    let changed = [&line[..50], b"#", &line[51..], b"\n"].concat();
    let holed = [&line[..50], &[0; 20], &line[70..], b"\n"].concat();
    let cases: [(&[u8], Class, usize); 6] = [
        (last, Class::Clean, 4),
        (line, Class::Unterminated, 4),
        (&line[..100], Class::Torn, 3),
        (&holed, Class::Torn, 3),
        (&[0; 700], Class::Torn, 3),
        (&changed, Class::DamagedTail, 3),
    ];
    for (tail, class, kept) in cases {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("20260823T121502Z_x_00000000.jsonl");
        fs::write(&path, [good, tail].concat()).unwrap();
        assert_eq!(verify(&path).unwrap().class, class);
        let choice = if class == Class::DamagedTail {
            let asked = SessionLog::resume(on_disk(folder.path(), "a"), &path, WrongTail::Refuse).err().unwrap();
            assert!(matches!(asked, LogError::DamagedTail { .. }), "{asked}");
            assert_eq!(fs::read(&path).unwrap(), [good, tail].concat(), "nothing is done before the answer");
            WrongTail::SetAside
        } else {
            WrongTail::Refuse
        };
        let log = SessionLog::resume(on_disk(folder.path(), "a"), &path, choice).unwrap();
        let recovered: Vec<_> = log.events().iter().filter(|event| event.kind == Kind::LogRecovered).collect();
        let side = path.with_extension("torn-1");
        if kept == 4 {
            assert!(recovered.is_empty() && !side.exists() && log.notices().is_empty());
            assert_eq!(fs::read(&path).unwrap(), text, "a missing line feed is added");
        } else {
            assert_eq!(fs::read(&side).unwrap(), tail);
            let [event] = recovered.as_slice() else { panic!("{recovered:?}") };
            assert_eq!(event.data["off"], json!(good.len()));
            assert_eq!(event.data["len"], json!(tail.len()));
            assert_eq!(event.data["class"], json!(class.name()));
            assert_eq!(event.data["file"], json!("20260823T121502Z_x_00000000.torn-1"));
            assert_eq!((event.r, event.n, event.by.as_str()), (2, 3, "setwright"));
            assert!(log.notices()[0].contains("torn-1"));
        }
        assert_eq!(log.events().len(), kept + recovered.len());
        assert_eq!(verify(&path).unwrap().class, Class::Clean);
    }
}

#[test]
fn a_damaged_log_is_never_written_and_goes_on_in_a_new_file() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("20260823T121502Z_ring_00000000.jsonl");
    let mut text = sample(6);
    let at = sample::line_starts(&text)[3] + 60;
    text[at] ^= 1;
    fs::write(&path, &text).unwrap();
    for choice in [WrongTail::Refuse, WrongTail::SetAside] {
        let error = SessionLog::resume(on_disk(folder.path(), "a"), &path, choice).err().unwrap();
        assert_eq!(error.class(), ErrorClass::BadData);
        assert!(error.to_string().contains("line 4"), "{error}");
    }
    let good = read(&path).unwrap();
    let mut log = SessionLog::carry_on(on_disk(folder.path(), "new"), &path).unwrap();
    assert_eq!(log.events()[1..], good.events[1..]);
    assert_eq!(log.run(), 2);
    let header = log.header().unwrap();
    assert_eq!(header.data["continues"]["head"], json!(good.check.head.as_str()));
    assert_eq!(header.data["continues"]["n"], json!(2));
    assert_eq!(header.data["card"], good.events[0].data["card"]);
    assert_eq!(log.append(Kind::SessionResume, "KT", Map::new()).unwrap().n, 3);
    assert_eq!(verify(log.path()).unwrap().class, Class::Clean);
    assert_eq!(fs::read(&path).unwrap(), text);
    let whole = log.path().to_owned();
    drop(log);
    assert!(SessionLog::carry_on(on_disk(folder.path(), "b"), &whole).is_err_and(|e| e.class() == ErrorClass::Refused));
}

#[test]
fn changed_line_ends_and_a_mark_in_front_are_named_as_the_cure() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("log.jsonl");
    let text = String::from_utf8(sample(5)).unwrap();
    let dos = text.replace('\n', "\r\n");
    for (bad, hint) in [
        (dos.clone(), Some(Hint::LineEndsOrMark)),
        (format!("\u{feff}{text}"), Some(Hint::LineEndsOrMark)),
        (format!("\u{feff}{dos}"), Some(Hint::LineEndsOrMark)),
        (dos.replace("KT", "MB"), None),
        (text.replacen("Nr. 4", "Nr. 5", 1), None),
    ] {
        fs::write(&path, &bad).unwrap();
        let problem = verify(&path).unwrap().problem.unwrap();
        assert_eq!(problem.hint, hint, "{problem}");
        assert_eq!(problem.to_string().contains("CR LF"), hint.is_some());
    }
}

#[test]
fn an_amendment_names_the_sealed_log_by_id_head_and_file_hash() {
    let folder = tempfile::tempdir().unwrap();
    let mut log = create_on_disk(folder.path(), "a");
    let path = log.path().to_owned();
    let amend = || SessionLog::amend(on_disk(folder.path(), "b"), &path, "MB", data(json!({"why": "wrong ring"})));
    assert!(matches!(amend().err().unwrap(), LogError::NotSealed { .. }));
    let sid = log.header().unwrap().sid.clone();
    let head = log.seal("KT", Map::new()).unwrap().head;
    let mut first = amend().unwrap();
    assert!(first.path().to_string_lossy().ends_with("_02f63a91_a01.jsonl"));
    let amends = &first.header().unwrap().data["amends"];
    assert_eq!((&amends["sid"], &amends["n"], &amends["head"]), (&json!(sid), &json!(1), &json!(head.as_str())));
    if let Ok(output) = std::process::Command::new("sha256sum").arg(&path).output() {
        assert!(String::from_utf8_lossy(&output.stdout).starts_with(amends["sha256"].as_str().unwrap()));
    }
    first.append(Kind::NoteAdd, "MB", data(json!({"text": "the ring was 0.1 mm thicker"}))).unwrap();
    assert!(amend().unwrap().path().to_string_lossy().ends_with("_a02.jsonl"));
    assert_eq!(read(first.path()).unwrap().check.class, Class::Clean);
    first.seal("MB", Map::new()).unwrap();
    let third = SessionLog::amend(on_disk(folder.path(), "c"), first.path(), "MB", Map::new()).unwrap();
    assert!(third.path().to_string_lossy().ends_with("_a03.jsonl"), "{:?}", third.path());
}

#[test]
fn a_resume_after_a_rescue_goes_on_in_the_copy() {
    let folder = tempfile::tempdir().unwrap();
    let mut log = create_on_disk(folder.path(), "a");
    say_next(&mut log).unwrap();
    fs::remove_file(log.path()).unwrap();
    let error = say_next(&mut log).unwrap_err();
    let LogError::Untrusted { rescue: Rescue::Copied(copy), .. } = &error else { panic!("{error}") };
    let mut next = SessionLog::resume(on_disk(folder.path(), "b"), copy, WrongTail::Refuse).unwrap();
    assert_eq!(next.append(Kind::SessionResume, "KT", Map::new()).unwrap().n, 2);
    assert!(error.to_string().contains(&*copy.to_string_lossy()));
}
