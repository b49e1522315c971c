//! Right hashes over wrong text: the reader must look past the hash. And clocks that jump.
//!
//! The long version of the random text (20 million) is ignored:
//! `cargo test --release --test session_log_strict -- --ignored`
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

#[path = "session_log_support/sample.rs"]
mod sample;

use sample::{Dice, bodies, chained, create, damage, data, on, read_on, sample, say_next, verdict};
use serde_json::{Map, Value, json};
use setwright::session_log::memory::MemoryDisk;
use setwright::session_log::{
    Class, Clock, ErrorClass, EventKind, FixedClock, Kind, LogError, Moment, SessionLog, WrongTail,
};

/// Replaces the body of the last of four events and chains all anew.
fn with_last_body(body: &[u8]) -> Vec<u8> {
    let mut all = bodies(&sample(4));
    *all.last_mut().unwrap() = body.to_vec();
    chained(&all)
}

/// A body that begins as event 3 of the sample must.
fn body(rest: &str) -> Vec<u8> {
    format!("{{\"n\":3,\"t\":\"2026-08-23T14:15:06.000+02:00\",\"m\":4000,\"r\":1,{rest}").into_bytes()
}

#[test]
fn text_that_is_unsound_is_refused_though_its_hash_is_right() {
    let deep = format!("\"k\":\"note.add\",\"a\":\"KT\",\"d\":{{\"x\":{}{}}}", "[".repeat(15), "]".repeat(15));
    let long = format!("\"k\":\"note.add\",\"a\":\"KT\",\"d\":{{\"x\":\"{}\"}}", "x".repeat(66_000));
    // The rules are those of the format description, section 3 (RFC 7493 for the numbers).
    for (rest, part) in [
        (r#""k":"note.add","a":"KT","a":"MB","d":{}"#, "twice"),
        (r#""k":"note.add","a":"KT","d":{"x":1,"\u0078":2}"#, "twice"),
        (r#""k":"note.add","a":"KT","d":{"x":9007199254740992}"#, "2^53"),
        (r#""k":"entry.add","a":"KT","d":{"deg":22.5}"#, "not whole"),
        (r#""k":"entry.add","a":"KT","d":{"pm":1e3}"#, "not whole"),
        (r#""k":"entry.add","a":"KT","d":{"pm":-0}"#, "not whole"),
        (r#""k":"reckoning.add","a":"KT","d":{"x":1e999}"#, "range"),
        (r#""k":"note.add","a":"KT","d":{"x":"\uD83D"}"#, "surrogate"),
        (r#""k":"note.add","a":"KT","d":{"x":"\uDE00"}"#, "surrogate"),
        (r#""k":"note.add","a":"KT","d":[]"#, "object"),
        (r#""k":"note.add","a":"KT","d":{"x":nul}"#, "value"),
        (r#""k":"note.add","a":"KT""#, "data"),
        (r#""k":"note.add","d":{}"#, "person"),
        (r#""a":"KT","d":{}"#, "kind"),
        (r#""k":7,"a":"KT","d":{}"#, "string"),
        (r#""k":"note.add","a":"KT","d":{},"c":0"#, "c can only"),
        (r#""k":"note.add","a":"KT","d":{},"c":true"#, "whole number"),
        (r#""k":"session.open","a":"KT","d":{}"#, "session.open"),
        (r#""k":"session.seal","a":"KT","d":{"events":2,"head":"0"}"#, "seal"),
        (deep.as_str(), "deeper"),
        (long.as_str(), "64 KiB"),
    ] {
        let found = verdict(&with_last_body(&body(rest)));
        let problem = found.problem.unwrap_or_else(|| panic!("{rest} passed"));
        assert!(problem.what.contains(part), "{rest}: {problem}");
        assert_eq!((problem.line, found.count), (4, 3), "{rest}");
    }
}

#[test]
fn an_envelope_that_is_wrong_is_refused_though_its_hash_is_right() {
    let rest = r#""k":"note.add","a":"KT","d":{}"#;
    let time = r#""t":"2026-08-23T14:15:06.000+02:00""#;
    for (body, part) in [
        (format!("{{\"n\":4,{time},\"m\":1,\"r\":1,{rest}"), "event 3"),
        (format!("{{\"n\":03,{time},\"m\":1,\"r\":1,{rest}"), "event 3"),
        (format!("{{ \"n\":3,{time},\"m\":1,\"r\":1,{rest}"), "event 3"),
        (format!("\u{feff}{{\"n\":3,{time},\"m\":1,\"r\":1,{rest}"), "event 3"),
        (format!("{{\"n\":3,\"t\":\"2026-08-23\",\"m\":1,\"r\":1,{rest}"), "time"),
        (format!("{{\"n\":3,\"t\":\"2026-08-23T14:15:06+02:00\",\"m\":1,\"r\":1,{rest}"), "time"),
        (format!("{{\"n\":3,{time},\"m\":-1,\"r\":1,{rest}"), "whole number"),
        (format!("{{\"n\":3,{time},\"m\":1.5,\"r\":1,{rest}"), "whole number"),
        (format!("{{\"n\":3,{time},\"m\":1,\"r\":0,{rest}"), "counted from 1"),
        (format!("{{\"n\":3,{time},\"m\":1,\"r\":3,{rest}"), "run"),
        (format!("{{\"n\":3,{time},\"m\":1,{rest}"), "run"),
        (format!("{{\"n\":3,\"m\":1,\"r\":1,{rest}"), "time"),
        (format!("{{\"n\":3,{time},\"r\":1,{rest}"), "steady"),
    ] {
        let problem = verdict(&with_last_body(body.as_bytes())).problem.unwrap_or_else(|| panic!("{body} passed"));
        assert!(problem.what.contains(part), "{body}: {problem}");
    }
    let mut not_text = body_of_bytes(b"\xff\xfe");
    assert!(verdict(&with_last_body(&not_text)).problem.unwrap().what.contains("UTF-8"));
    not_text = body_of_bytes("µ".as_bytes().split_last().unwrap().1);
    assert!(verdict(&with_last_body(&not_text)).problem.unwrap().what.contains("UTF-8"));
}

fn body_of_bytes(inside: &[u8]) -> Vec<u8> {
    [&body("\"k\":\"note.add\",\"a\":\"KT\",\"d\":{\"x\":\"")[..], inside, b"\"}"].concat()
}

/// Section 3: fields and kinds that a newer minor version adds are kept and shown.
#[test]
fn what_a_newer_minor_version_adds_is_kept_and_counted() {
    let text = with_last_body(&body(r#""k":"probe.add","a":"KT","d":{"x":0.5},"z":[1,{"y":"new"}]"#));
    let disk = MemoryDisk::new();
    disk.put("log.jsonl".as_ref(), &text);
    let (events, check) = read_on(&disk, "log.jsonl".as_ref());
    assert_eq!((check.class, check.not_understood, check.critical_unknown), (Class::Clean, 1, None));
    let last = events.last().unwrap();
    assert_eq!(last.kind, EventKind::Unknown("probe.add".to_owned()));
    assert_eq!(last.others["z"], json!([1, {"y": "new"}]));
    SessionLog::resume(on(&disk, "minor"), "log.jsonl".as_ref(), WrongTail::Refuse).unwrap();
    // The mark c:1 says that the kind must be understood.
    let text = with_last_body(&body(r#""k":"probe.add","a":"KT","d":{},"c":1"#));
    assert_eq!(verdict(&text).critical_unknown, Some(3));
    disk.put("log.jsonl".as_ref(), &text);
    let refused = SessionLog::resume(on(&disk, "minor"), "log.jsonl".as_ref(), WrongTail::Refuse).err().unwrap();
    assert_eq!(refused.class(), ErrorClass::NewerVersion);
}

#[test]
fn a_newer_major_version_is_checked_but_not_interpreted_nor_written() {
    let mut all = bodies(&sample(4));
    let header = String::from_utf8(all[0].clone()).unwrap();
    for newer in [header.replace("\"fv\":1", "\"fv\":2"), header.replace("\"min\":1", "\"min\":2")] {
        all[0] = newer.into_bytes();
        *all.last_mut().unwrap() = b"{\"n\":3,\"k\":\"written in a way that this version cannot know\"".to_vec();
        let text = chained(&all);
        let disk = MemoryDisk::new();
        disk.put("log.jsonl".as_ref(), &text);
        let (events, check) = read_on(&disk, "log.jsonl".as_ref());
        assert!(check.is_newer());
        assert_eq!((events.len(), check.class, check.count), (1, Class::Clean, 4), "only the header is read");
        let refused = SessionLog::resume(on(&disk, "major"), "log.jsonl".as_ref(), WrongTail::SetAside).err().unwrap();
        assert_eq!(refused.class(), ErrorClass::NewerVersion);
        assert!(refused.to_string().contains("newer version"), "{refused}");
        assert_eq!(disk.contents("log.jsonl".as_ref()).unwrap(), text);
        let mut changed = text.clone();
        let at = changed.len() - 200;
        changed[at] ^= 1;
        assert_ne!(verdict(&changed).class, Class::Clean, "its chain is checked all the same");
    }
}

#[test]
fn a_header_of_another_format_is_no_log() {
    let header = String::from_utf8(bodies(&sample(1)).remove(0)).unwrap();
    for other in [
        header.replace("setwright-log", "another-log"),
        header.replace("\"fv\":1,", ""),
        header.replace("\"fv\":1", "\"fv\":0"),
        header.replace("\"fv\":1", "\"fv\":\"1\""),
        header.replace("\"sid\":", "\"side\":"),
        header.replace("session.open", "note.add"),
    ] {
        let found = verdict(&chained(&[other.into_bytes()]));
        assert_eq!((found.class, found.count), (Class::DamagedTail, 0));
    }
}

/// Random text under right hashes: never a panic, and what is taken is always what the strict rules allow.
fn random_text(seed: u64, tries: u64) -> u64 {
    let sound = bodies(&sample(4));
    let mut dice = Dice(seed);
    let mut taken = 0;
    for turn in 0..tries {
        let mut all = sound.clone();
        let which = dice.below(all.len());
        let body = &mut all[which];
        if turn % 3 == 0 {
            damage(body, &mut dice);
        } else {
            splice_grammar(body, &mut dice);
        }
        let text = chained(&all);
        let disk = MemoryDisk::new();
        disk.put("log.jsonl".as_ref(), &text);
        let (events, check) = read_on(&disk, "log.jsonl".as_ref());
        assert!(events.len() as u64 == check.count || check.is_newer());
        taken += u64::from(check.class == Class::Clean);
        for (number, event) in events.iter().enumerate() {
            assert_eq!(event.n, number as u64);
            // The general parser must be able to read whatever the strict one has taken.
            assert!(serde_json::to_string(&event.data).is_ok());
        }
    }
    taken
}

/// Puts a piece of JSON grammar somewhere into a body.
fn splice_grammar(body: &mut Vec<u8>, dice: &mut Dice) {
    const PIECES: [&str; 24] = [
        "{",
        "}",
        "[",
        "]",
        "\"",
        ":",
        ",",
        "\\",
        "\\u",
        "\\uD800",
        "\\u0000",
        "-",
        "0",
        "1e999",
        ".5",
        "null",
        "true",
        "9007199254740993",
        "\u{7f}",
        "\u{2028}",
        " ",
        "\t",
        "\"n\":3,",
        "\"d\":{}",
    ];
    let at = dice.below(body.len());
    let piece = PIECES[dice.below(PIECES.len())];
    let end = if dice.below(2) == 0 { at } else { (at + piece.len()).min(body.len()) };
    body.splice(at..end, piece.bytes());
}

#[test]
fn random_text_under_right_hashes_never_breaks_the_reader() {
    let taken = random_text(0xc0ff_ee11, 60_000);
    // A changed digit or letter inside a text is sound JSON; most changes are not.
    assert!(taken > 0 && taken < 40_000, "{taken}");
}

#[test]
#[ignore = "twenty million tries take some minutes; see the head of this file for the command"]
fn twenty_million_random_texts_under_right_hashes_never_break_the_reader() {
    let halves = [5, 11].map(|seed| std::thread::spawn(move || random_text(seed, 10_000_000)));
    assert!(halves.into_iter().map(|half| half.join().unwrap()).sum::<u64>() > 0);
}

#[test]
fn what_the_reader_would_refuse_is_not_written() {
    let disk = MemoryDisk::new();
    let mut log = create(on(&disk, "refuse"));
    let before = disk.contents(log.path()).unwrap();
    let huge = "x".repeat(70_000);
    let mut deep = json!(1);
    for _ in 0..20 {
        deep = json!([deep]);
    }
    for (kind, by, value, part) in [
        (Kind::EntryAdd, "KT", json!({"deg": 22.5}), "not whole"),
        (Kind::StepClose, "KT", json!({"fact": 0.25}), "not whole"),
        (Kind::EntryAdd, "KT", json!({"pm": 9_007_199_254_740_992_u64}), "2^53"),
        (Kind::NoteAdd, "KT", json!({"text": huge}), "64 KiB"),
        (Kind::NoteAdd, "KT", json!({"x": deep}), "16 levels"),
        (Kind::NoteAdd, " ", json!({}), "nobody"),
        (Kind::SessionOpen, "KT", json!({}), "log itself"),
        (Kind::SessionSeal, "KT", json!({}), "log itself"),
    ] {
        let calls = disk.calls().len();
        let error = log.append(kind, by, data(value)).unwrap_err();
        assert_eq!(error.class(), ErrorClass::Refused);
        assert!(error.to_string().contains(part), "{error}");
        assert!(!disk.calls()[calls..].contains(&"write"));
    }
    assert_eq!(disk.contents(log.path()).unwrap(), before);
    log.append(Kind::ReckoningAdd, "KT", data(json!({"outputs": {"turn": 0.1, "tiny": 5e-324, "big": 1.797e308}})))
        .unwrap();
    let turn = &read_on(&disk, log.path()).0[1].data["outputs"];
    assert_eq!(turn, &json!({"turn": 0.1, "tiny": 5e-324, "big": 1.797e308}));
}

#[test]
fn every_float_comes_back_bit_for_bit() {
    let disk = MemoryDisk::new();
    let mut log = create(on(&disk, "floats"));
    let mut dice = Dice(0x1357_9bdf);
    let mut sent = Vec::new();
    for _ in 0..200 {
        let values: Vec<f64> =
            std::iter::repeat_with(|| f64::from_bits(dice.next())).filter(|x| x.is_finite()).take(50).collect();
        log.append(Kind::ReckoningAdd, "KT", data(json!({"outputs": values}))).unwrap();
        sent.push(values);
    }
    let (events, _) = read_on(&disk, log.path());
    for (event, values) in events[1..].iter().zip(&sent) {
        let back: Vec<u64> =
            event.data["outputs"].as_array().unwrap().iter().map(|x| x.as_f64().unwrap().to_bits()).collect();
        let there: Vec<u64> = values.iter().map(|x| x.to_bits()).collect();
        assert_eq!(back, there);
    }
}

#[test]
fn a_header_takes_no_field_of_the_log_and_no_card_beyond_48_kib() {
    let founded = |value: Value| {
        let disk = MemoryDisk::new();
        let mut founding = sample::founding("sessions".as_ref());
        founding.data = data(value);
        SessionLog::create(on(&disk, "header"), &founding).map(|log| log.path().to_owned())
    };
    assert!(founded(json!({"sid": "mine"})).unwrap_err().to_string().contains("\"sid\""));
    let card = |bytes: usize| json!({"card": {"name": "x".repeat(bytes - 11)}});
    assert_eq!(card(49_152)["card"].to_string().len(), 49_152);
    founded(card(49_152)).unwrap();
    assert!(founded(card(49_153)).unwrap_err().to_string().contains("48 KiB"));
    assert!(founded(json!({"limit": 0.5})).unwrap_err().to_string().contains("not whole"));
}

/// A clock that tells what it is given.
struct Told(std::vec::IntoIter<(i64, u64)>);

impl Clock for Told {
    fn now(&mut self) -> Moment {
        let (wall_ms, steady_ms) = self.0.next().unwrap();
        Moment { wall_ms, offset_minutes: 120, steady_ms }
    }
}

/// Noon of a summer day, in milliseconds.
const NOON: i64 = 1_787_480_000_000;

#[test]
fn a_wall_clock_that_is_set_is_recorded_and_never_changes_the_order() {
    const SECOND: i64 = 1000;
    const YEAR: i64 = 31_556_952 * SECOND;
    let jumps = [1, 2, 3, 10, 60, 3600, 7200, 86_400, 2_592_000];
    let all = jumps.iter().flat_map(|jump| [jump * SECOND, -jump * SECOND]).chain([YEAR, -YEAR, 10 * YEAR, -10 * YEAR]);
    for jump in all.chain([2001, -2001, 2000, -2000, 0]) {
        let disk = MemoryDisk::new();
        let mut around = on(&disk, "clock");
        let looks = vec![(NOON, 500), (NOON + 1000, 1500), (NOON + 2000 + jump, 2500), (NOON + 3000 + jump, 3500)];
        around.clock = Box::new(Told(looks.into_iter()));
        let mut log = create(around);
        for _ in 0..3 {
            log.append(Kind::NoteAdd, "KT", Map::new()).unwrap();
        }
        let (events, check) = read_on(&disk, log.path());
        let steps: Vec<_> = events.iter().filter(|event| event.kind == Kind::ClockStep).collect();
        assert_eq!(steps.len(), usize::from(jump.abs() > 2000), "{jump}");
        for step in steps {
            assert_eq!((&step.data["wall_ms"], &step.data["steady_ms"]), (&json!(1000 + jump), &json!(1000)));
            assert_eq!((step.n, step.by.as_str()), (2, "setwright"));
        }
        assert_eq!(check.class, Class::Clean);
        assert_eq!(check.clock_went_back, if jump < -1000 { vec![2] } else { vec![] }, "{jump}");
        let order: Vec<_> = events.iter().map(|event| event.m).collect();
        assert!(order.is_sorted() && order[0] == 0, "{order:?}");
    }
}

#[test]
fn a_clock_that_goes_back_between_two_runs_is_flagged_and_not_refused() {
    let disk = MemoryDisk::new();
    let log = create(on(&disk, "one"));
    let path = log.path().to_owned();
    drop(log);
    let mut around = on(&disk, "two");
    around.clock = Box::new(FixedClock::parse("2016-01-01T00:00:00Z").unwrap());
    let mut log = SessionLog::resume(around, &path, WrongTail::Refuse).unwrap();
    log.append(Kind::SessionResume, "KT", Map::new()).unwrap();
    let (events, check) = read_on(&disk, &path);
    assert_eq!((check.class, check.clock_went_back), (Class::Clean, vec![1]));
    assert_eq!((events[1].r, events[1].m), (2, 1000));
    assert!(events[1].t.starts_with("2016-01-01T00:00:0"));
}

#[test]
fn times_are_written_with_milliseconds_and_the_offset_of_the_place() {
    // RFC 3339, section 5.6 and the examples of 5.8; ISO 8601 for the offset of a half hour.
    let at = |wall_ms, offset_minutes| Moment { wall_ms, offset_minutes, steady_ms: 0 }.rfc3339();
    assert_eq!(at(0, 0), "1970-01-01T00:00:00.000+00:00");
    assert_eq!(at(NOON + 7, 120), "2026-08-23T12:13:20.007+02:00");
    assert_eq!(at(-1, -210), "1969-12-31T20:29:59.999-03:30");
    assert_eq!(at(851_042_397_000, -480), "1996-12-19T16:39:57.000-08:00");
    assert_eq!(at(i64::MAX, 0), "1970-01-01T00:00:00.807+00:00");
    assert_eq!(
        FixedClock::parse("1996-12-19T16:39:57-08:00").unwrap().now().rfc3339(),
        "1996-12-19T16:39:57.000-08:00"
    );
    for wrong in ["yesterday", "2026-08-23", "2026-08-23T14:15:02", ""] {
        assert!(FixedClock::parse(wrong).unwrap_err().contains("is not a time"), "{wrong}");
    }
}

#[test]
fn times_of_other_programs_pass_when_they_have_the_shape() {
    // RFC 3339 allows Z, an unknown offset -00:00, and a leap second.
    for time in [
        "2026-08-23T14:15:06.000Z",
        "2026-08-23T14:15:06.000-00:00",
        "2016-12-31T23:59:60.000Z",
        "2026-03-29T02:30:00.000+01:00",
        "0000-01-01T00:00:00.000+00:00",
        "9999-12-31T23:59:59.999-12:00",
    ] {
        let body = format!("{{\"n\":3,\"t\":\"{time}\",\"m\":1,\"r\":1,\"k\":\"note.add\",\"a\":\"KT\",\"d\":{{}}");
        assert_eq!(verdict(&with_last_body(body.as_bytes())).class, Class::Clean, "{time}");
    }
}

#[test]
fn the_field_cases_of_other_line_logs_are_told_apart() {
    let text = sample(6);
    let judge = |bad: &[u8]| {
        let found = verdict(bad);
        (found.class, found.count)
    };
    // The last line is torn, and a next record was glued on by a careless program.
    let torn = &text[..text.len() - 40];
    assert_eq!(judge(torn), (Class::Torn, 5));
    assert_eq!(judge(&[torn, sample::lines(&text)[5]].concat()), (Class::DamagedTail, 5));
    // 200 to 700 NUL bytes, at the end and in the middle.
    assert_eq!(judge(&[&text[..], &[0; 200]].concat()), (Class::Torn, 6));
    assert_eq!(judge(&[&text[..], &[0; 699], b"\n"].concat()), (Class::Torn, 6));
    let middle = sample::line_starts(&text)[3];
    assert_eq!(judge(&[&text[..middle], &[0; 700], &text[middle..]].concat()), (Class::Damaged, 3));
    // Half a UTF-8 character at the end.
    let half = text.iter().rposition(|byte| *byte == 0xc3).unwrap();
    assert_eq!(judge(&text[..=half]).0, Class::Torn);
    // An editor changed the line ends, or put a mark in front.
    assert_eq!(judge(b"\xef\xbb\xbf{}\n").0, Class::DamagedTail);
    // Nothing at all, an empty line, another file.
    assert_eq!(judge(b""), (Class::Clean, 0));
    assert_eq!(judge(b"\n"), (Class::DamagedTail, 0));
    assert_eq!(judge(&vec![b'x'; 70_000]), (Class::Damaged, 0));
    assert_eq!(judge(&[0; 1000]), (Class::Torn, 0));
}

#[test]
fn a_log_without_a_first_event_is_refused_and_left_alone() {
    let text = sample(2);
    for bad in [&b""[..], &text[..30], &[0; 600], b"{}\n", b"not a log\n"] {
        let disk = MemoryDisk::new();
        disk.put("sessions/a.jsonl".as_ref(), bad);
        let refused = SessionLog::resume(on(&disk, "empty"), "sessions/a.jsonl".as_ref(), WrongTail::SetAside);
        let error = refused.err().unwrap();
        assert!(matches!(error, LogError::NoHeader { .. } | LogError::Damaged { .. }), "{error}");
        assert_eq!(error.class(), ErrorClass::BadData);
        assert_eq!(disk.contents("sessions/a.jsonl".as_ref()).unwrap(), bad);
        assert_eq!(disk.paths().len(), 1, "no lock, no side file");
    }
}

#[test]
fn logs_of_one_folder_name_the_one_before() {
    let disk = MemoryDisk::new();
    let mut first = create(on(&disk, "one"));
    assert!(!first.header().unwrap().data.contains_key("prev"));
    say_next(&mut first).unwrap();
    let mut around = on(&disk, "two");
    around.clock = Box::new(FixedClock::parse("2026-08-24T08:00:00+02:00").unwrap());
    // An empty file with a newer name holds no session and is passed over.
    disk.put("sessions/20260823T200000Z_x_00000000.jsonl".as_ref(), b"");
    let second = create(around);
    let previous = &second.header().unwrap().data["prev"];
    let sid = &first.header().unwrap().sid;
    assert_eq!(previous, &json!({"sid": sid, "n": 1, "h": first.head().as_str()}));
}
