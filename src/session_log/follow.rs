//! Following a log that another process is writing, without touching it.

use std::io::{self, Read};
use std::path::{Path, PathBuf};

use super::chain::Chain;
use super::disk::Disk;
use super::error::LogError;
use super::event::{Event, MAX_LINE};
use super::head::Head;
use super::reader::{Problem, Reader};
use super::store::Store;

/// The most bytes read at one look.
const PIECE: u64 = 16 * MAX_LINE as u64;

/// Follows a log as it grows. It only reads, so it may follow a locked, sealed or damaged log.
pub struct Follower {
    path: PathBuf,
    identity: Option<(u64, u64)>,
    chain: Chain,
    valid_len: u64,
    problem: Option<Problem>,
}

impl Follower {
    /// Starts before the first event of a log.
    ///
    /// # Errors
    /// The file is missing or is no regular file.
    pub fn open(path: &Path) -> Result<Self, LogError> {
        let facts = Disk.facts(path).map_err(|source| LogError::io(path, "follow", source))?;
        Disk.open_read(path).map_err(|source| LogError::io(path, "follow", source))?;
        Ok(Self { path: path.to_owned(), identity: facts.identity, chain: Chain::new(), valid_len: 0, problem: None })
    }

    /// Gives the good events that were finished since the last look, at most 1 MiB of them; none when nothing is new.
    /// The caller looks again after a pause of its choosing.
    ///
    /// # Errors
    /// The file was replaced, removed or cut, cannot be read, or its next line is bad: then at every further look too.
    pub fn poll(&mut self) -> Result<Vec<Event>, LogError> {
        if let Some(problem) = &self.problem {
            return Err(LogError::Damaged { path: self.path.clone(), problem: problem.clone() });
        }
        let text = self.new_lines()?;
        let mut reader = Reader::going_on(text.as_slice(), self.chain.clone());
        let mut events = Vec::new();
        while let Some(event) = reader.next_event().map_err(|source| self.failed(source))? {
            events.push(event);
        }
        self.chain = reader.chain_so_far().clone();
        let check = reader.into_check();
        self.valid_len += check.valid_len;
        self.problem = check.problem;
        if events.is_empty() && self.problem.is_some() { self.poll() } else { Ok(events) }
    }

    /// Gives the hash of the last event given out.
    pub const fn head(&self) -> Head {
        self.chain.head
    }

    /// Tells whether the last event given out is a seal, after which nothing follows.
    pub const fn is_sealed(&self) -> bool {
        self.chain.sealed
    }

    /// Reads whole lines behind what was read before.
    fn new_lines(&self) -> Result<Vec<u8>, LogError> {
        let facts = Disk.facts(&self.path).map_err(|source| self.failed(source))?;
        if facts.identity != self.identity {
            return Err(self.failed(io::Error::other("another file was put in its place")));
        }
        if facts.length < self.valid_len {
            return Err(self.failed(io::Error::other("the file was cut")));
        }
        let mut text = Vec::new();
        super::disk::open_read_from(&self.path, self.valid_len)
            .and_then(|file| file.take(PIECE).read_to_end(&mut text))
            .map_err(|source| self.failed(source))?;
        let whole = text.iter().rposition(|byte| *byte == b'\n').map_or(0, |last| last + 1);
        // A line without end is let through once it is too long, so that it is found to be bad.
        if whole > 0 || text.len() <= MAX_LINE {
            text.truncate(whole);
        }
        Ok(text)
    }

    fn failed(&self, source: io::Error) -> LogError {
        LogError::io(&self.path, "follow", source)
    }
}
