//! Any bytes as a log: read without a panic, and accepted as clean only when a chain worked out here holds.

#![no_main]

use libfuzzer_sys::fuzz_target;
use setwright::session_log::{Class, Head, Reader, check};

fuzz_target!(|data: &[u8]| {
    let verdict = check(data).expect("memory does not fail");
    let valid = usize::try_from(verdict.valid_len).expect("no longer than the data");
    let good = &data[..valid];
    let mut head = Head::START;
    let mut count = 0;
    for line in good.split_inclusive(|byte| *byte == b'\n') {
        let line = line.strip_suffix(b"\n").unwrap_or(line);
        let (body, hash) = line.split_at(line.len() - 72);
        head = head.after(body);
        assert_eq!(hash, format!(",\"h\":\"{head}\"}}").as_bytes(), "a line that does not hold was taken");
        count += 1;
    }
    assert_eq!((verdict.count, verdict.head), (count, head));
    assert!(verdict.class != Class::Clean || valid == data.len(), "something behind a clean log");
    // The good part alone is a good log of the same events, and reading the events says the same.
    let again = check(good).expect("memory does not fail");
    assert_eq!((again.count, again.head, again.problem), (count, head, None));
    let mut reader = Reader::new(data);
    while reader.next_event().expect("memory does not fail").is_some() {}
    let reading = reader.into_check();
    assert!(reading.count <= count, "reading finds more than checking");
});
