//! How the damaged logs of the corpus are made: each is the plain one with one thing done to it.

use crate::corpus::{Made, envelope, flipped, made, plain, sealed};
use crate::sample::{bodies, chained, line_starts, lines};

/// What a note without words holds.
const NOTE: &str = r#""k":"note.add","a":"KT","d":{}"#;

/// The plain log with its lines put together in another way.
fn relined(text: &[u8], change: impl Fn(&mut Vec<Vec<u8>>)) -> Vec<u8> {
    let mut all: Vec<Vec<u8>> = lines(text).into_iter().map(<[u8]>::to_vec).collect();
    change(&mut all);
    all.concat()
}

/// The plain log with another last line whose hash is right.
fn ending_with(text: &[u8], last: Vec<u8>) -> Vec<u8> {
    let mut all = bodies(text);
    *all.last_mut().unwrap() = last;
    chained(&all)
}

fn replaced(text: &[u8], from: &str, to: &str) -> Vec<u8> {
    String::from_utf8(text.to_vec()).unwrap().replace(from, to).into_bytes()
}

/// Logs that something has happened to.
pub(crate) fn damaged() -> Vec<Made> {
    let text = plain();
    let mut logs = damaged_bytes(&text);
    logs.extend(damaged_lines(&text));
    logs.extend(unsound(&text));
    logs.extend(misplaced(&text));
    logs.extend(forged(&text));
    logs
}

/// Bits, bytes, holes.
fn damaged_bytes(text: &[u8]) -> Vec<Made> {
    let starts = line_starts(text);
    let middle = starts[8];
    let mut upper = text.to_vec();
    let tail = starts[7] - 67;
    upper[tail..tail + 64].make_ascii_uppercase();
    let mut hole = text.to_vec();
    hole[middle + 30..middle + 600].fill(0);
    let mut last_zeroed = text.to_vec();
    let end = text.len() - 1;
    last_zeroed[starts[16] + 20..end].fill(0);
    let half = [&text[..starts[16]], "{\"n\":16,\"t\":\"µ".as_bytes().split_last().unwrap().1].concat();
    vec![
        made("bit-in-the-middle", "one bit of event 8", flipped(text, 8, 100), "damaged", 8),
        made("bit-in-the-header", "one bit of the first event", flipped(text, 0, 100), "damaged", 0),
        made("bit-in-the-last-line", "one bit of the last event", flipped(text, 16, 100), "damaged tail", 16),
        made(
            "bit-of-a-line-feed",
            "a line feed became another character",
            flipped(text, 8, starts[9] - middle - 1),
            "damaged",
            8,
        ),
        made("upper-case-hash", "a hash written in capitals", upper, "damaged", 6),
        made("hole-of-zeros", "570 zero bytes in the middle", hole, "damaged", 8),
        made("zeros-at-the-end", "600 zero bytes behind the last event", [text, &[0; 600]].concat(), "torn", 17),
        made("last-line-zeroed", "the last line holds zero bytes and ends", last_zeroed, "torn", 16),
        made("zeros-in-front", "700 zero bytes, then the log", [&[0; 700], text].concat(), "damaged", 0),
        made("half-a-character", "the last line ends within a character", half, "torn", 16),
        made(
            "long-tail",
            "70,000 bytes without a line feed behind the last event",
            [text, &vec![b'x'; 70_000]].concat(),
            "damaged",
            17,
        ),
        made(
            "mark-in-front",
            "an editor put a byte order mark in front",
            [b"\xef\xbb\xbf", text].concat(),
            "damaged",
            0,
        ),
        made("empty", "nothing at all", Vec::new(), "clean", 0),
        made("torn-header", "only the start of the first event", text[..120].to_vec(), "torn", 0),
    ]
}

/// Lines.
fn damaged_lines(text: &[u8]) -> Vec<Made> {
    let glued = relined(text, |all| all[8].truncate(60));
    vec![
        made("line-missing", "event 8 is gone", relined(text, |all| drop(all.remove(8))), "damaged", 8),
        made("first-line-missing", "the first event is gone", relined(text, |all| drop(all.remove(0))), "damaged", 0),
        made("line-twice", "event 8 stands twice", relined(text, |all| all.insert(9, all[8].clone())), "damaged", 9),
        made(
            "last-line-twice",
            "the last event stands twice",
            relined(text, |all| all.push(all[16].clone())),
            "damaged tail",
            17,
        ),
        made("lines-swapped", "events 8 and 9 changed places", relined(text, |all| all.swap(8, 9)), "damaged", 8),
        made(
            "empty-line-within",
            "a line feed too many",
            relined(text, |all| all.insert(8, b"\n".to_vec())),
            "damaged",
            8,
        ),
        made(
            "empty-line-behind",
            "a line feed too many at the end",
            relined(text, |all| all.push(b"\n".to_vec())),
            "damaged tail",
            17,
        ),
        made("glued-on", "a torn line with the next event glued on", glued, "damaged", 8),
        made("line-ends-changed", "an editor wrote CR LF", replaced(text, "\n", "\r\n"), "damaged", 0),
        made(
            "space-behind-a-line",
            "a space before a line feed",
            relined(text, |all| {
                let before_the_line_feed = all[8].len() - 1;
                all[8].insert(before_the_line_feed, b' ');
            }),
            "damaged",
            8,
        ),
        made(
            "foreign-line",
            "a line of another log in the middle",
            relined(text, |all| all[8] = lines(&sealed())[8].to_vec()),
            "damaged",
            8,
        ),
        made(
            "cut-off-at-a-line-end",
            "the last three events are gone: only a remembered head shows it",
            relined(text, |all| all.truncate(14)),
            "clean",
            14,
        ),
    ]
}

/// A log whose chain holds for so many events and whose reader must stop before that.
fn chain_holds(log: Made, all: usize) -> Made {
    Made { chain_alone: ("clean", all), ..log }
}

/// Last lines whose hash is right and whose text is not.
fn unsound(text: &[u8]) -> Vec<Made> {
    let deep = format!("\"k\":\"note.add\",\"a\":\"KT\",\"d\":{{\"x\":{}{}}}", "[".repeat(20), "]".repeat(20));
    let mut not_text = envelope(16, "\"k\":\"note.add\",\"a\":\"KT\",\"d\":{\"x\":\"");
    not_text.extend_from_slice(b"\xff\"}");
    let last = |rest: &str| ending_with(text, envelope(16, rest));
    [
        ("key-twice", "one key twice", last(r#""k":"note.add","a":"KT","a":"MB","d":{}"#)),
        ("number-too-large", "beyond 2^53", last(r#""k":"note.add","a":"KT","d":{"x":9007199254740993}"#)),
        ("reading-not-whole", "an entry with a fraction", last(r#""k":"entry.add","a":"KT","d":{"deg":22.5}"#)),
        ("half-a-pair", "half of a pair of surrogates", last(r#""k":"note.add","a":"KT","d":{"x":"\uD83D"}"#)),
        ("too-deep", "nested too deep", last(&deep)),
        ("no-text", "bytes that are no UTF-8", ending_with(text, not_text)),
        ("run-skipped", "a run that does not follow", replaced_last(text, "\"r\":1", "\"r\":3")),
        (
            "seal-of-another",
            "a seal that names another head",
            last(r#""k":"session.seal","a":"KT","d":{"events":16,"head":"0"}"#),
        ),
    ]
    .map(|(name, about, bytes)| chain_holds(made(name, about, bytes, "damaged tail", 16), 17))
    .into()
}

/// Events that stand where they may not.
fn misplaced(text: &[u8]) -> Vec<Made> {
    let long = format!("\"k\":\"note.add\",\"a\":\"KT\",\"d\":{{\"x\":\"{}\"}}", "x".repeat(66_000));
    let mut after_seal = bodies(&sealed());
    let sealed_events = after_seal.len();
    after_seal.push(envelope(sealed_events, NOTE));
    let after_seal = chained(&after_seal);
    let after_seal =
        made("event-after-the-seal", "one stands behind the seal", after_seal, "damaged tail", sealed_events);
    let mut no_header = bodies(text);
    no_header[0] = replaced(&no_header[0], "session.open", "note.add");
    let no_header = made("no-header", "the first event is no header", chained(&no_header), "damaged", 0);
    let wrong_number = ending_with(text, envelope(17, NOTE));
    vec![
        chain_holds(after_seal, sealed_events + 1),
        chain_holds(no_header, 17),
        made("wrong-number", "the last event has another number", wrong_number, "damaged tail", 16),
        made("line-too-long", "a line of 66,000 bytes", ending_with(text, envelope(16, &long)), "damaged", 16),
        made("text-behind", "words of a person behind", [text, b"checked, EM\n"].concat(), "damaged tail", 17),
    ]
}

fn replaced_last(text: &[u8], from: &str, to: &str) -> Vec<u8> {
    let last = bodies(text).pop().unwrap();
    ending_with(text, replaced(&last, from, to))
}

/// Whole chains that are not what they seem, or that this program cannot understand.
fn forged(text: &[u8]) -> Vec<Made> {
    let mut all = bodies(text);
    all[1] = replaced(&all[1], "12500000", "12400000");
    let forged = chained(&all);
    let mut newer = bodies(text);
    newer[0] = replaced(&newer[0], "\"fv\":1", "\"fv\":2");
    let mut critical = bodies(text);
    critical.push(envelope(17, r#""k":"probe.add","a":"KT","d":{},"c":1"#));
    vec![
        made(
            "forged-from-the-middle",
            "a reading changed and every hash made anew: only a remembered head shows it",
            forged,
            "clean",
            17,
        ),
        made("newer-format", "of a newer version: checked, not interpreted, not written", chained(&newer), "clean", 17),
        made(
            "unknown-kind-that-must-be-understood",
            "a newer program says that it must be",
            chained(&critical),
            "clean",
            18,
        ),
    ]
}
