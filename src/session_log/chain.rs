//! The chain: takes one line after the other and says whether each belongs where it stands.

use std::sync::Arc;

use serde_json::{Map, Value};

use super::clock::is_before;
use super::event::{Envelope, MAX_LINE, begins_with_number, envelope, split};
use super::head::Head;
use super::kind::Kind;

/// The format version that this program writes and fully knows.
pub const FORMAT_VERSION: u64 = 1;
/// The format's name in every header.
pub const FORMAT_NAME: &str = "setwright-log";

/// How many events with a time before the event before them are remembered by number.
const REMEMBERED: usize = 100;

/// What the first event says of the whole log.
#[derive(Debug, Clone, PartialEq)]
pub struct Header {
    /// The session's id: 32 hexadecimal digits.
    pub sid: String,
    /// Format version.
    pub version: u64,
    /// Least format version that a reader must know.
    pub least: u64,
    /// Everything the first event holds, the card included.
    pub data: Map<String, Value>,
}

impl Header {
    /// Tells whether only a newer program can understand the log.
    pub const fn is_newer(&self) -> bool {
        self.version > FORMAT_VERSION || self.least > FORMAT_VERSION
    }

    fn read(data: Map<String, Value>) -> Option<Self> {
        let whole = |key: &str| data.get(key).and_then(Value::as_u64).filter(|number| *number > 0);
        if data.get("f").and_then(Value::as_str) != Some(FORMAT_NAME) {
            return None;
        }
        let sid = data.get("sid").and_then(Value::as_str)?.to_owned();
        Some(Self { sid, version: whole("fv")?, least: whole("min")?, data })
    }
}

/// The state of a chain after the lines taken so far.
#[derive(Debug, Clone)]
pub(super) struct Chain {
    pub(super) count: u64,
    pub(super) head: Head,
    pub(super) header: Option<Arc<Header>>,
    pub(super) sealed: bool,
    pub(super) last_run: u64,
    pub(super) not_understood: u64,
    pub(super) critical_unknown: Option<u64>,
    pub(super) clock_went_back: Vec<u64>,
    last_time: String,
}

/// A line that the chain has taken: its parts, or nothing where only a newer program could read them.
pub(super) type Taken<'a> = Option<Envelope<'a>>;

impl Chain {
    /// Starts before the first line.
    pub(super) const fn new() -> Self {
        Self {
            count: 0,
            head: Head::START,
            header: None,
            sealed: false,
            last_run: 0,
            not_understood: 0,
            critical_unknown: None,
            clock_went_back: Vec::new(),
            last_time: String::new(),
        }
    }

    /// Takes the next line (without its line feed), or says what is wrong with it and stays as it was.
    pub(super) fn take<'a>(&mut self, line: &'a [u8]) -> Result<Taken<'a>, String> {
        if line.len() >= MAX_LINE {
            return Err("the line is longer than 64 KiB".to_owned());
        }
        let (body, hash) = split(line).ok_or("the line does not end with a hash")?;
        let head = self.head.after(body);
        if head.digits() != hash {
            return Err("the hash does not match: this line, or one removed or moved before it, was changed".to_owned());
        }
        if !begins_with_number(body, self.count) {
            return Err(format!("the line does not begin as event {}", self.count));
        }
        let taken = self.understand(line)?;
        self.head = head;
        self.count += 1;
        Ok(taken)
    }

    /// Reads the parts of a line whose hash holds.
    fn understand<'a>(&mut self, line: &'a [u8]) -> Result<Taken<'a>, String> {
        if self.header.as_ref().is_some_and(|header| header.is_newer()) {
            return Ok(None);
        }
        let text = std::str::from_utf8(line).map_err(|_| "the line is not UTF-8 text")?;
        let parts = envelope(text)?;
        if self.sealed {
            return Err("an event stands after the seal".to_owned());
        }
        if (self.count == 0) != (parts.kind == Kind::SessionOpen) {
            return Err("a log begins with session.open, and only there".to_owned());
        }
        let header = if self.count == 0 { Some(header_of(&parts)?) } else { None };
        if parts.r != self.last_run.max(1) && parts.r != self.last_run + 1 {
            return Err("the run (r) does not follow the run before".to_owned());
        }
        if parts.kind == Kind::SessionSeal {
            self.check_seal(&parts)?;
            self.sealed = true;
        }
        if header.is_some() {
            self.header = header.map(Arc::new);
        }
        self.note(&parts);
        Ok(Some(parts))
    }

    fn check_seal(&self, parts: &Envelope<'_>) -> Result<(), String> {
        let data = parts.data()?;
        let events = data.get("events").and_then(Value::as_u64);
        let head = data.get("head").and_then(Value::as_str);
        if events == Some(self.count) && head == Some(self.head.as_str()) {
            Ok(())
        } else {
            Err("the seal names another number of events or another head".to_owned())
        }
    }

    /// Remembers what is worth a remark but no fault.
    fn note(&mut self, parts: &Envelope<'_>) {
        self.last_run = parts.r;
        if parts.kind.known().is_none() {
            self.not_understood += 1;
            if parts.critical && self.critical_unknown.is_none() {
                self.critical_unknown = Some(self.count);
            }
        }
        if is_before(&parts.t, &self.last_time) && self.clock_went_back.len() < REMEMBERED {
            self.clock_went_back.push(self.count);
        }
        self.last_time.clear();
        self.last_time.push_str(&parts.t);
    }
}

fn header_of(parts: &Envelope<'_>) -> Result<Header, String> {
    Header::read(parts.data()?).ok_or_else(|| "the first event is not a header of this format".to_owned())
}
