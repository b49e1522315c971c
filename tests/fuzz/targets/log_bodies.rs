//! Any bodies with right hashes as a log, so that the fuzzer gets past the chain to the JSON.
//!
//! An odd first byte puts a good header before them and begins each body with its number and a good envelope.

#![no_main]

use libfuzzer_sys::fuzz_target;
use serde_json::Value;
use setwright::session_log::{Class, Head, Reader, check};

const HEADER: &str = r#"{"n":0,"t":"2026-08-23T14:15:02.114+02:00","m":0,"r":1,"k":"session.open","a":"KT","d":{"f":"setwright-log","fv":1,"min":1,"sid":"0123456789abcdef0123456789abcdef","app":"setwright","calc":"1","boot":"0123456789abcdef0123456789abcdef","unit":"mm"}"#;

fuzz_target!(|data: &[u8]| {
    let Some((first, rest)) = data.split_first() else { return };
    let mut bodies: Vec<Vec<u8>> = if first % 2 == 1 { vec![HEADER.as_bytes().to_vec()] } else { Vec::new() };
    for piece in rest.split(|byte| *byte == b'\n') {
        let n = bodies.len();
        bodies.push(match first % 4 {
            0 | 1 => [format!("{{\"n\":{n},").as_bytes(), piece].concat(),
            2 => piece.to_vec(),
            _ => [
                format!("{{\"n\":{n},\"t\":\"2026-08-23T14:15:03.000+02:00\",\"m\":{n},\"r\":1,").as_bytes(),
                b"\"k\":\"note.add\",\"a\":\"KT\",\"d\":{",
                piece,
                b"}",
            ]
            .concat(),
        });
    }
    let log = chained(&bodies);
    let verdict = check(log.as_slice()).expect("memory does not fail");
    let mut reader = Reader::new(log.as_slice());
    let mut events = 0;
    while reader.next_event().expect("memory does not fail").is_some() {
        events += 1;
    }
    // A newer program's log is checked but not read.
    assert!(events == verdict.count || verdict.is_newer() || verdict.class != Class::Clean);
    if !verdict.is_newer() {
        let good = &log[..usize::try_from(verdict.valid_len).expect("no longer than the log")];
        for (n, line) in good.split_inclusive(|byte| *byte == b'\n').enumerate() {
            let line: Value = serde_json::from_slice(line).expect("a line that was taken is JSON");
            assert_eq!(line["n"], n, "numbered in order");
            assert!(line["d"].is_object() && line["a"].is_string() && line["t"].is_string());
        }
    }
});

fn chained(bodies: &[Vec<u8>]) -> Vec<u8> {
    let mut head = Head::START;
    let mut log = Vec::new();
    for body in bodies {
        head = head.after(body);
        log.extend_from_slice(body);
        log.extend_from_slice(format!(",\"h\":\"{head}\"}}\n").as_bytes());
    }
    log
}
