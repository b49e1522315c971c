//! One event, and one line of the log.
//!
//! `{"n":0,"t":"…","m":0,"r":1,"k":"session.open","a":"KT","d":{…},"h":"64 digits"}` and a line feed. The hash is
//! always the last 72 bytes before the line feed, so it is found without a parser, and the rest is parsed only once
//! the hash holds.

use std::borrow::Cow;

use serde_json::{Map, Value};

use super::clock::has_time_shape;
use super::head::Head;
use super::kind::Kind;
use super::strict::{Scanner, Wrong, unescaped, whole_number};

/// The longest line, its line feed included.
pub const MAX_LINE: usize = 65_536;
/// The largest job card that a header may hold, in bytes.
pub const MAX_CARD: usize = 49_152;

const BEFORE_HASH: &[u8] = b",\"h\":\"";
const AFTER_HASH: &[u8] = b"\"}";
/// Bytes of a line after its body: `,"h":"`, 64 digits, `"}`.
const TAIL: usize = BEFORE_HASH.len() + 64 + AFTER_HASH.len();

/// The kind of an event that was read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum EventKind {
    /// A kind of the table.
    Known(Kind),
    /// A kind that a newer program has added. It is kept and shown as it stands.
    Unknown(String),
}

impl EventKind {
    /// Gives the kind of the table, if it is one.
    pub const fn known(&self) -> Option<Kind> {
        match self {
            Self::Known(kind) => Some(*kind),
            Self::Unknown(_) => None,
        }
    }

    /// Gives the name as it stands in the log.
    pub fn name(&self) -> &str {
        match self {
            Self::Known(kind) => kind.name(),
            Self::Unknown(name) => name,
        }
    }
}

impl PartialEq<Kind> for EventKind {
    fn eq(&self, other: &Kind) -> bool {
        self.known() == Some(*other)
    }
}

/// One event of a log.
#[derive(Debug, Clone, PartialEq)]
pub struct Event {
    /// Number in the log, from 0. It orders for good.
    pub n: u64,
    /// Wall clock as RFC 3339 with milliseconds and local offset. A claim: the clock may have been wrong.
    pub t: String,
    /// Milliseconds since the run began, on a clock that never goes back.
    pub m: u64,
    /// Run of the program, from 1; one more each time the log is opened for writing.
    pub r: u64,
    /// What kind of event it is.
    pub kind: EventKind,
    /// Initials of the person, or "setwright" where the log itself speaks.
    pub by: String,
    /// What the event says.
    pub data: Map<String, Value>,
    /// Whether a reader that does not know the kind must refuse to replay the log.
    pub critical: bool,
    /// Fields beside these that a newer program has added, kept as they stand.
    pub others: Map<String, Value>,
}

/// The parts of a sound line, still as text.
pub(super) struct Envelope<'a> {
    pub(super) n: u64,
    pub(super) t: Cow<'a, str>,
    m: u64,
    pub(super) r: u64,
    pub(super) kind: EventKind,
    by: Cow<'a, str>,
    data: &'a [u8],
    pub(super) critical: bool,
    others: Vec<(String, &'a [u8])>,
}

impl Envelope<'_> {
    /// Builds the event.
    pub(super) fn event(&self) -> Result<Event, Wrong> {
        let parsed = |text: &[u8]| serde_json::from_slice::<Value>(text).map_err(|_| "a value cannot be read");
        let mut others = Map::new();
        for (key, text) in &self.others {
            others.insert(key.clone(), parsed(text)?);
        }
        Ok(Event {
            n: self.n,
            t: self.t.as_ref().to_owned(),
            m: self.m,
            r: self.r,
            kind: self.kind.clone(),
            by: self.by.as_ref().to_owned(),
            data: self.data()?,
            critical: self.critical,
            others,
        })
    }

    /// Builds only what the event says.
    pub(super) fn data(&self) -> Result<Map<String, Value>, Wrong> {
        serde_json::from_slice(self.data).map_err(|_| "its data cannot be read")
    }
}

/// Splits a line (without its line feed) into body and hash; `None` when the last 72 bytes have not the fixed shape.
pub(super) fn split(line: &[u8]) -> Option<(&[u8], &[u8])> {
    let (body, tail) = line.split_at_checked(line.len().checked_sub(TAIL)?)?;
    let hash = tail.strip_prefix(BEFORE_HASH)?.strip_suffix(AFTER_HASH)?;
    Some((body, hash))
}

/// Joins a body and its hash into a line with its line feed.
pub(super) fn join(body: &[u8], head: &Head) -> Vec<u8> {
    [body, BEFORE_HASH, head.digits(), AFTER_HASH, b"\n"].concat()
}

/// Tells whether a body begins as the event with this number must: `{"n":7,`.
pub(super) fn begins_with_number(body: &[u8], n: u64) -> bool {
    let digits = body.strip_prefix(b"{\"n\":").and_then(|rest| rest.split(|byte| *byte == b',').next());
    let is_shortest = digits.is_some_and(|digits| digits.len() == 1 || digits.first() != Some(&b'0'));
    is_shortest && digits.and_then(whole_number) == Some(n)
}

/// What the parts of a line say so far.
#[derive(Default)]
struct Parts<'a> {
    n: Option<u64>,
    t: Option<Cow<'a, str>>,
    m: Option<u64>,
    r: Option<u64>,
    k: Option<Cow<'a, str>>,
    a: Option<Cow<'a, str>>,
    d: Option<&'a [u8]>,
    critical: bool,
    others: Vec<(String, &'a [u8])>,
    floats_in_data: usize,
    floats_in_card: usize,
}

/// Reads a line (without its line feed) strictly. Numbers that are not whole may stand only in a reckoning, in the
/// header's card, and in kinds that this program does not know.
pub(super) fn envelope(line: &str) -> Result<Envelope<'_>, Wrong> {
    let mut parts = Parts::default();
    let mut scanner = Scanner::new(line);
    scanner.whole_object(|scanner, key| member(scanner, key, &mut parts))?;
    let t = parts.t.ok_or("the time (t) is missing")?;
    if !has_time_shape(&t) {
        return Err("the time (t) is not like 2026-08-23T14:15:02.114+02:00");
    }
    let name = parts.k.ok_or("the kind (k) is missing")?;
    let kind = Kind::named(&name).map_or_else(|| EventKind::Unknown(name.into_owned()), EventKind::Known);
    let forbidden = match kind.known() {
        Some(Kind::ReckoningAdd) | None => 0,
        Some(Kind::SessionOpen) => parts.floats_in_data - parts.floats_in_card,
        Some(_) => parts.floats_in_data,
    };
    if forbidden > 0 {
        return Err("a number that is not whole stands where only whole numbers may (write it as text)");
    }
    let r = parts.r.ok_or("the run (r) is missing")?;
    if r == 0 {
        return Err("runs (r) are counted from 1");
    }
    Ok(Envelope {
        n: parts.n.ok_or("the number (n) is missing")?,
        t,
        m: parts.m.ok_or("the steady time (m) is missing")?,
        r,
        kind,
        by: parts.a.ok_or("the person (a) is missing")?,
        data: parts.d.ok_or("the data (d) are missing")?,
        critical: parts.critical,
        others: parts.others,
    })
}

fn member<'a>(scanner: &mut Scanner<'a>, key: &[u8], parts: &mut Parts<'a>) -> Result<(), Wrong> {
    match key {
        b"n" => parts.n = Some(scanner.whole()?),
        b"t" => parts.t = Some(text(scanner)?),
        b"m" => parts.m = Some(scanner.whole()?),
        b"r" => parts.r = Some(scanner.whole()?),
        b"k" => parts.k = Some(text(scanner)?),
        b"a" => parts.a = Some(text(scanner)?),
        b"d" => data(scanner, parts)?,
        b"c" if scanner.whole()? == 1 => parts.critical = true,
        b"c" => return Err("the mark c can only be 1"),
        b"h" => drop(scanner.string()?),
        other => {
            let name = String::from_utf8_lossy(other).into_owned();
            let value = scanner.value()?;
            parts.others.push((name, value));
        }
    }
    Ok(())
}

fn data<'a>(scanner: &mut Scanner<'a>, parts: &mut Parts<'a>) -> Result<(), Wrong> {
    let start = scanner.at();
    let before = scanner.floats;
    scanner.object(|scanner, key| {
        let before = scanner.floats;
        scanner.value()?;
        if key == b"card" {
            parts.floats_in_card += scanner.floats - before;
        }
        Ok(())
    })?;
    parts.floats_in_data = scanner.floats - before;
    parts.d = Some(scanner.since(start));
    Ok(())
}

fn text<'a>(scanner: &mut Scanner<'a>) -> Result<Cow<'a, str>, Wrong> {
    let wrong = "a text is not UTF-8";
    match unescaped(scanner.string()?) {
        Cow::Borrowed(plain) => std::str::from_utf8(plain).map(Cow::Borrowed).map_err(|_| wrong),
        Cow::Owned(text) => String::from_utf8(text).map(Cow::Owned).map_err(|_| wrong),
    }
}

/// What a new line is made of.
pub(super) struct Draft<'a> {
    pub(super) n: u64,
    pub(super) t: &'a str,
    pub(super) m: u64,
    pub(super) r: u64,
    pub(super) kind: Kind,
    pub(super) by: &'a str,
    pub(super) data: &'a Map<String, Value>,
}

impl Draft<'_> {
    /// Writes the body: everything of the line before its hash.
    pub(super) fn body(&self) -> Vec<u8> {
        let quoted = |text: &str| Value::from(text).to_string();
        let data = serde_json::to_string(self.data).unwrap_or_default();
        format!(
            "{{\"n\":{},\"t\":{},\"m\":{},\"r\":{},\"k\":\"{}\",\"a\":{},\"d\":{data}",
            self.n,
            quoted(self.t),
            self.m,
            self.r,
            self.kind.name(),
            quoted(self.by),
        )
        .into_bytes()
    }
}
