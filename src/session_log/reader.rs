//! Reading a log from its start: stops at the first bad line and says what it means.

use std::fmt;
use std::io::{self, BufRead, BufReader, Read};
use std::path::Path;
use std::sync::Arc;

use super::chain::{Chain, Header};
use super::disk::Disk;
use super::error::LogError;
use super::event::{Event, MAX_LINE, split};
use super::head::Head;
use super::store::Store;

/// What stands after the last good line of a log.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Class {
    /// Nothing: the log is whole.
    Clean,
    /// A whole good event whose line feed is missing. It counts.
    Unterminated,
    /// One unfinished line: the write was cut off. It was never shown as saved.
    Torn,
    /// One last line that was finished and is wrong. A person decides.
    DamagedTail,
    /// A bad line with more after it. Such a log is never written again.
    Damaged,
}

impl Class {
    /// Gives the word for the class: "damaged tail".
    pub const fn name(self) -> &'static str {
        match self {
            Self::Clean => "clean",
            Self::Unterminated => "unterminated",
            Self::Torn => "torn",
            Self::DamagedTail => "damaged tail",
            Self::Damaged => "damaged",
        }
    }
}

impl fmt::Display for Class {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

/// What alone would make a damaged log whole again.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Hint {
    /// Some program changed the line ends or put a byte order mark in front.
    LineEndsOrMark,
}

impl fmt::Display for Hint {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::LineEndsOrMark => f.write_str(
                "changing the line ends back from CR LF to LF, and taking away a byte order mark at the start, would make it whole",
            ),
        }
    }
}

/// The first bad line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Problem {
    /// The line, from 1. It should hold event number `line` − 1.
    pub line: u64,
    /// What is wrong with it.
    pub what: String,
    /// What alone would heal the whole file, if anything would.
    pub hint: Option<Hint>,
}

impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "line {}: {}", self.line, self.what)?;
        self.hint.iter().try_for_each(|hint| write!(f, " ({hint})"))
    }
}

/// What is known of a log after reading it.
#[derive(Debug, Clone)]
pub struct Check {
    /// What stands after the last good line.
    pub class: Class,
    /// Good events.
    pub count: u64,
    /// Bytes from the start to the end of the last good line.
    pub valid_len: u64,
    /// The hash of the last good event.
    pub head: Head,
    /// The first event; `None` when not even that one is good.
    pub header: Option<Arc<Header>>,
    /// Whether the last good event is a seal.
    pub sealed: bool,
    /// Run number of the last good event.
    pub last_run: u64,
    /// The first bad line.
    pub problem: Option<Problem>,
    /// Events of kinds that this program does not know.
    pub not_understood: u64,
    /// The first of those that must be understood to replay the log.
    pub critical_unknown: Option<u64>,
    /// Events whose wall clock is before that of the event before them (the first hundred): flagged, no fault.
    pub clock_went_back: Vec<u64>,
}

impl Check {
    /// Tells whether only a newer program can understand the log; its chain was checked all the same.
    pub fn is_newer(&self) -> bool {
        self.header.as_ref().is_some_and(|header| header.is_newer())
    }
}

/// A log that was read whole.
#[derive(Debug, Clone)]
pub struct Reading {
    /// The good events; only the header when a newer program is needed to understand the rest.
    pub events: Vec<Event>,
    /// What is known of the log.
    pub check: Check,
}

/// Reads a log and keeps its events. The file is not changed and need not be unlocked.
///
/// # Errors
/// The file is missing, is no regular file, or cannot be read. A damaged log is no error: see [`Check::class`].
pub fn read(path: &Path) -> Result<Reading, LogError> {
    read_in(&Disk, path)
}

/// Checks a log without keeping its events: memory does not grow with the file.
///
/// # Errors
/// As [`read`].
pub fn verify(path: &Path) -> Result<Check, LogError> {
    verify_in(&Disk, path)
}

/// Reads a log and hands over each event as it comes, keeping none: memory does not grow with the file.
///
/// # Errors
/// As [`read`].
pub fn walk(path: &Path, take: impl FnMut(Event)) -> Result<Check, LogError> {
    walk_in(&Disk, path, take)
}

/// [`read`] in any store.
pub(super) fn read_in(store: &dyn Store, path: &Path) -> Result<Reading, LogError> {
    let mut events = Vec::new();
    let check = walk_in(store, path, |event| events.push(event))?;
    Ok(Reading { events, check })
}

fn walk_in(store: &dyn Store, path: &Path, mut take: impl FnMut(Event)) -> Result<Check, LogError> {
    let mut reader = Reader::new(open_in(store, path)?);
    while let Some(event) = reader.next_event().map_err(|source| LogError::io(path, "read", source))? {
        take(event);
    }
    Ok(with_hint(store, path, reader.into_check()))
}

/// [`verify`] in any store.
pub(super) fn verify_in(store: &dyn Store, path: &Path) -> Result<Check, LogError> {
    let check = check(open_in(store, path)?).map_err(|source| LogError::io(path, "read", source))?;
    Ok(with_hint(store, path, check))
}

/// Checks the bytes of a log from any source, without keeping events and without the search for a hint.
///
/// # Errors
/// The source cannot be read.
pub fn check(source: impl Read) -> io::Result<Check> {
    run_through(Reader::new(source))
}

fn run_through(mut reader: Reader<impl Read>) -> io::Result<Check> {
    while reader.pass()? {}
    Ok(reader.into_check())
}

fn open_in(store: &dyn Store, path: &Path) -> Result<Box<dyn Read + Send>, LogError> {
    store.open_read(path).map_err(|source| LogError::io(path, "read", source))
}

/// Reads the file once more without carriage returns and byte order mark where those may be all that is wrong.
fn with_hint(store: &dyn Store, path: &Path, mut check: Check) -> Check {
    if let Some(problem) = &mut check.problem
        && matches!(check.class, Class::Damaged | Class::DamagedTail)
        && store
            .open_read(path)
            .and_then(|file| run_through(Reader { healing: true, ..Reader::new(file) }))
            .is_ok_and(|healed| healed.class == Class::Clean && healed.count > 0)
    {
        problem.hint = Some(Hint::LineEndsOrMark);
    }
    check
}

/// Reads events one by one from any source of bytes, with a bounded line length.
pub struct Reader<R> {
    source: BufReader<R>,
    chain: Chain,
    line: Vec<u8>,
    valid_len: u64,
    end: Option<(Class, Option<Problem>)>,
    /// Reads as if no program had changed the line ends or put a byte order mark in front.
    healing: bool,
}

/// How a line ended.
enum Ending {
    LineFeed,
    EndOfFile,
    TooLong,
}

impl<R: Read> Reader<R> {
    /// Starts at the first byte of a log.
    pub fn new(source: R) -> Self {
        Self {
            source: BufReader::with_capacity(4 * MAX_LINE, source),
            chain: Chain::new(),
            line: Vec::new(),
            valid_len: 0,
            end: None,
            healing: false,
        }
    }

    /// Goes on behind the lines that a chain has taken; offsets count from here.
    pub(super) fn going_on(source: R, chain: Chain) -> Self {
        Self { chain, ..Self::new(source) }
    }

    /// Reads the next good event; `None` at the end of the good ones, and behind the header when a newer program is
    /// needed to understand the rest (whose chain is still checked).
    ///
    /// # Errors
    /// The source cannot be read.
    pub fn next_event(&mut self) -> io::Result<Option<Event>> {
        let event = self.step(|parts| parts.event().map_err(str::to_owned).map(Some))?;
        match event {
            Some(Some(event)) => Ok(Some(event)),
            Some(None) => {
                while self.pass()? {}
                Ok(None)
            }
            None => Ok(None),
        }
    }

    /// Passes over the next good event without keeping it; `false` at the end of the good ones.
    ///
    /// # Errors
    /// The source cannot be read.
    pub fn pass(&mut self) -> io::Result<bool> {
        Ok(self.step(|_| Ok(None))?.is_some())
    }

    /// Gives the body of the line that was taken last: everything before its hash.
    pub(super) fn last_body(&self) -> &[u8] {
        let line = self.line.strip_suffix(b"\n").unwrap_or(&self.line);
        split(line).map_or(&[], |(body, _)| body)
    }

    /// Gives the chain up to here.
    pub(super) const fn chain_so_far(&self) -> &Chain {
        &self.chain
    }

    /// Tells what is known of the log up to here; the class is only certain after the last event.
    pub fn into_check(self) -> Check {
        let (class, problem) = self.end.unwrap_or((Class::Clean, None));
        let chain = self.chain;
        Check {
            class,
            count: chain.count,
            valid_len: self.valid_len,
            head: chain.head,
            header: chain.header,
            sealed: chain.sealed,
            last_run: chain.last_run,
            problem,
            not_understood: chain.not_understood,
            critical_unknown: chain.critical_unknown,
            clock_went_back: chain.clock_went_back,
        }
    }

    /// Takes one line; `None` at the end, `Some(None)` for a line that only a newer program understands.
    #[expect(clippy::option_option, reason = "the outer one is the end, the inner one a line not understood")]
    fn step<F>(&mut self, keep: F) -> io::Result<Option<Option<Event>>>
    where
        F: FnOnce(&super::event::Envelope<'_>) -> Result<Option<Event>, String>,
    {
        if self.end.is_some() {
            return Ok(None);
        }
        let ending = self.fill()?;
        if self.line.is_empty() && matches!(ending, Ending::EndOfFile) {
            self.end = Some((Class::Clean, None));
            return Ok(None);
        }
        let mut line = self.line.strip_suffix(b"\n").unwrap_or(&self.line);
        if self.healing {
            line = line.strip_suffix(b"\r").unwrap_or(line);
            line = line.strip_prefix(b"\xef\xbb\xbf").filter(|_| self.chain.count == 0).unwrap_or(line);
        }
        let taken = match ending {
            Ending::TooLong => Err("the line is longer than 64 KiB".to_owned()),
            Ending::LineFeed | Ending::EndOfFile => self.chain.take(line),
        };
        match taken.and_then(|parts| parts.map_or(Ok(None), |parts| keep(&parts))) {
            Ok(event) => {
                self.valid_len += line.len() as u64;
                match ending {
                    Ending::LineFeed => self.valid_len += 1,
                    Ending::EndOfFile | Ending::TooLong => self.end = Some((Class::Unterminated, None)),
                }
                Ok(Some(event))
            }
            Err(what) => {
                let class = self.classify(&ending)?;
                let problem = Problem { line: self.chain.count + 1, what, hint: None };
                self.end = Some((class, Some(problem)));
                Ok(None)
            }
        }
    }

    /// Says what a bad line means (the table of the format description, section "Opening").
    fn classify(&mut self, ending: &Ending) -> io::Result<Class> {
        Ok(match ending {
            Ending::TooLong => Class::Damaged,
            Ending::EndOfFile => Class::Torn,
            Ending::LineFeed if !self.source.fill_buf()?.is_empty() => Class::Damaged,
            Ending::LineFeed if self.line.contains(&0) => Class::Torn,
            Ending::LineFeed => Class::DamagedTail,
        })
    }

    /// Reads the next line with its line feed, at most one byte more than a line may have.
    fn fill(&mut self) -> io::Result<Ending> {
        self.line.clear();
        let limit = MAX_LINE as u64 + 1;
        self.source.by_ref().take(limit).read_until(b'\n', &mut self.line)?;
        Ok(if self.line.len() > MAX_LINE {
            Ending::TooLong
        } else if self.line.last() == Some(&b'\n') {
            Ending::LineFeed
        } else {
            Ending::EndOfFile
        })
    }
}

impl<R: Read> Iterator for Reader<R> {
    type Item = io::Result<Event>;

    fn next(&mut self) -> Option<Self::Item> {
        self.next_event().transpose()
    }
}
