//! A log open for writing.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use serde_json::{Map, Value, json};

use super::appender::{Appender, Distrust, Failure, Room, is_full};
use super::chain::{Chain, Header};
use super::clock::{Clock, Moment, SystemClock};
use super::disk::Disk;
use super::error::{LogError, Rescue};
use super::event::{Draft, Event, MAX_LINE, join};
use super::head::Head;
use super::ids::{Ids, RandomIds};
use super::kind::Kind;
use super::places::lock_path;
use super::store::Store;
use super::{founding, opening};

/// The name under which the log itself speaks.
pub const PROGRAM: &str = "setwright";

/// How far the wall clock may move against the steady clock between two events of a run before it is recorded.
const CLOCK_STEP_MS: i64 = 2000;

/// What a log takes from outside: disk, time, identifiers, and the folder for a rescue.
pub struct Surroundings {
    /// The disk.
    pub store: Arc<dyn Store>,
    /// The time.
    pub clock: Box<dyn Clock>,
    /// Session ids, boot ids, name tails.
    pub ids: Box<dyn Ids>,
    /// Where the whole session is copied when its own file can no longer be trusted.
    pub fallback: PathBuf,
    /// Whether to sync twice an event on any medium; on removable ones that is done anyway.
    pub sync_twice: bool,
    /// Where what is learned of machines lies; `None` when nothing is to be learned.
    pub machines: Option<PathBuf>,
}

impl Surroundings {
    /// Takes the machine's disk, clocks and randomness.
    pub fn real(fallback: PathBuf) -> Self {
        Self {
            store: Arc::new(Disk),
            clock: Box::new(SystemClock::new()),
            ids: Box::new(RandomIds),
            fallback,
            sync_twice: false,
            machines: None,
        }
    }
}

/// What a new session is founded with.
#[derive(Debug, Clone)]
pub struct Founding<'a> {
    /// The folder for the log; made if it is missing.
    pub folder: &'a Path,
    /// The readable part of the file name, cleaned as [`super::slug`] does.
    pub slug: &'a str,
    /// Initials of the person.
    pub by: &'a str,
    /// The card's unit of length: "mm" or "in".
    pub unit: &'a str,
    /// What else the header holds, such as the card.
    pub data: Map<String, Value>,
}

/// What to do with a finished but wrong last line.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum WrongTail {
    /// Refuse with [`LogError::DamagedTail`], so that a person can be asked.
    #[default]
    Refuse,
    /// Set it aside in a file of its own and go on before it.
    SetAside,
}

/// An event that is safe on disk.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Saved {
    /// The event's number.
    pub n: u64,
    /// The head of the chain after it.
    pub head: Head,
}

/// Whether the log takes events.
pub(super) enum State {
    Open,
    Untrusted { why: String, last_sure: Option<u64>, rescue: Rescue },
}

/// A session's log, open for writing by this process alone.
pub struct SessionLog {
    pub(super) around: Surroundings,
    pub(super) path: PathBuf,
    pub(super) appender: Appender,
    /// Held for as long as the log is open; `None` where the file system knows no locks, and after the seal.
    pub(super) lock: Option<Box<dyn Send>>,
    pub(super) chain: Chain,
    pub(super) events: Vec<Event>,
    pub(super) bodies: Vec<Vec<u8>>,
    pub(super) run: u64,
    pub(super) boot: String,
    pub(super) run_began_ms: u64,
    pub(super) last: Option<Moment>,
    pub(super) state: State,
    pub(super) notices: Vec<String>,
}

impl SessionLog {
    /// Founds a new session: makes its file, locks it, writes and syncs its first event.
    ///
    /// # Errors
    /// The folder or file cannot be made, the disk is full, or the header cannot be written as it is.
    pub fn create(around: Surroundings, founding: &Founding<'_>) -> Result<Self, LogError> {
        founding::create(around, founding)
    }

    /// Opens an unfinished session to go on with it: locks it, mends its end as the format description says, and
    /// starts a new run. The caller then appends [`Kind::SessionResume`].
    ///
    /// # Errors
    /// The log is locked, sealed, damaged, of a newer version, no regular file, or cannot be written.
    pub fn resume(around: Surroundings, path: &Path, wrong_tail: WrongTail) -> Result<Self, LogError> {
        opening::resume(around, path, wrong_tail)
    }

    /// Goes on with the good part of a damaged log in a new file beside it, whose header names where it continues.
    ///
    /// # Errors
    /// The log is not damaged (resume it instead), is of a newer version, or the new file cannot be written.
    pub fn carry_on(around: Surroundings, path: &Path) -> Result<Self, LogError> {
        founding::carry_on(around, path)
    }

    /// Starts an amendment of a sealed log: a new file beside it that names the log's id, head and SHA-256.
    ///
    /// # Errors
    /// The log is not sealed, is not whole, is of a newer version, or the new file cannot be written.
    pub fn amend(around: Surroundings, path: &Path, by: &str, data: Map<String, Value>) -> Result<Self, LogError> {
        founding::amend(around, path, by, data)
    }

    /// Saves an event. When this returns `Ok`, the event is on the disk.
    ///
    /// Data may hold numbers that are not whole only in [`Kind::ReckoningAdd`]. A null there is an output that does not
    /// exist in this situation; the calculations themselves give no number that is not finite.
    ///
    /// # Errors
    /// [`LogError::Refused`] and [`LogError::NotSaved`] leave the log as it was; after [`LogError::Untrusted`] it takes
    /// no more events and the whole session has been copied to the fallback folder.
    #[expect(clippy::needless_pass_by_value, reason = "the caller makes the data for this event alone")]
    pub fn append(&mut self, kind: Kind, by: &str, data: Map<String, Value>) -> Result<Saved, LogError> {
        self.ensure_open()?;
        if kind.is_the_logs_own() {
            return Err(self.refused(format!("{kind} is written by the log itself")));
        }
        if by.trim().is_empty() {
            return Err(self.refused("nobody is named as the one who enters it".to_owned()));
        }
        let now = self.around.clock.now();
        self.note_clock_step(now, Room::Ordinary)?;
        self.write(kind, by, &data, now, Room::Ordinary)
    }

    /// Seals the log: the last event names how many events there are and the head before it; then the file is made
    /// read-only, where the file system can.
    ///
    /// # Errors
    /// As [`SessionLog::append`]. On a full disk the room kept for this is used.
    #[expect(clippy::needless_pass_by_value, reason = "the caller makes the data for this event alone")]
    pub fn seal(&mut self, by: &str, data: Map<String, Value>) -> Result<Saved, LogError> {
        self.ensure_open()?;
        let now = self.around.clock.now();
        self.closing(|log| log.note_clock_step(now, Room::Closing).map(|()| None))?;
        let saved = self.closing(|log| {
            let mut data = data.clone();
            data.insert("events".to_owned(), log.chain.count.into());
            data.insert("head".to_owned(), log.chain.head.as_str().into());
            log.write(Kind::SessionSeal, by, &data, now, Room::Closing).map(Some)
        })?;
        // A file system without such rights keeps the file writable; the seal holds all the same.
        let _ = self.around.store.set_read_only(&self.path);
        let _ = self.around.store.remove(&lock_path(&self.path));
        self.lock = None;
        saved.ok_or(LogError::Sealed { path: self.path.clone() })
    }

    /// Gives the whole minutes since the last event of this run, by the clock that never goes back.
    pub fn idle_minutes(&mut self) -> u64 {
        let now = self.around.clock.glance();
        self.last.map_or(0, |last| now.steady_ms.saturating_sub(last.steady_ms) / 60_000)
    }

    /// Gives the log's file.
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Gives every event so far, the header first.
    pub fn events(&self) -> &[Event] {
        &self.events
    }

    /// Gives the hash of the last event.
    pub const fn head(&self) -> Head {
        self.chain.head
    }

    /// Gives the first event's data; `None` only in theory, since a log without a header cannot be opened.
    pub fn header(&self) -> Option<&Header> {
        self.chain.header.as_deref()
    }

    /// Gives the number of this run of the program, from 1.
    pub const fn run(&self) -> u64 {
        self.run
    }

    /// Gives this run's random id, for the data of [`Kind::SessionResume`].
    pub fn boot(&self) -> &str {
        &self.boot
    }

    /// Tells whether the log is sealed.
    pub const fn is_sealed(&self) -> bool {
        self.chain.sealed
    }

    /// Gives what the person should be told about how the log was opened, such as a tail that was set aside.
    pub fn notices(&self) -> &[String] {
        &self.notices
    }

    /// Tries an event of closing; on a full disk once more after the kept room was given back.
    fn closing<F>(&mut self, attempt: F) -> Result<Option<Saved>, LogError>
    where
        F: Fn(&mut Self) -> Result<Option<Saved>, LogError>,
    {
        match attempt(self) {
            Err(LogError::NotSaved { source, .. }) if is_full(&source) => {
                if let Err(error) = self.appender.release_room() {
                    return Err(
                        self.distrust(&Distrust::Disk("the room kept for closing could not be released", error))
                    );
                }
                attempt(self)
            }
            other => other,
        }
    }

    fn ensure_open(&self) -> Result<(), LogError> {
        if self.chain.sealed {
            return Err(LogError::Sealed { path: self.path.clone() });
        }
        match &self.state {
            State::Open => Ok(()),
            State::Untrusted { why, last_sure, rescue } => Err(LogError::Untrusted {
                path: self.path.clone(),
                why: why.clone(),
                last_sure: *last_sure,
                last_saved: self.chain.count.saturating_sub(1),
                rescue: rescue.clone(),
            }),
        }
    }

    fn refused(&self, why: String) -> LogError {
        LogError::Refused { path: self.path.clone(), why }
    }

    /// Records that the wall clock was set, if it was.
    pub(super) fn note_clock_step(&mut self, now: Moment, room: Room) -> Result<(), LogError> {
        let Some(last) = self.last else { return Ok(()) };
        let wall = now.wall_ms.saturating_sub(last.wall_ms);
        let steady = i64::try_from(now.steady_ms.saturating_sub(last.steady_ms)).unwrap_or(i64::MAX);
        if wall.saturating_sub(steady).saturating_abs() <= CLOCK_STEP_MS {
            return Ok(());
        }
        let mut data = Map::new();
        data.insert("wall_ms".to_owned(), json!(wall));
        data.insert("steady_ms".to_owned(), json!(steady));
        self.write(Kind::ClockStep, PROGRAM, &data, now, room).map(drop)
    }

    /// Writes one event by the protocol.
    pub(super) fn write(
        &mut self,
        kind: Kind,
        by: &str,
        data: &Map<String, Value>,
        now: Moment,
        room: Room,
    ) -> Result<Saved, LogError> {
        let draft = Draft {
            n: self.chain.count,
            t: &now.rfc3339(),
            m: now.steady_ms.saturating_sub(self.run_began_ms),
            r: self.run,
            kind,
            by,
            data,
        };
        let body = draft.body();
        let mut chain = self.chain.clone();
        let (line, event) = taken(&mut chain, &body).map_err(|why| self.refused(why))?;
        match self.appender.append(&*self.around.store, &line, room) {
            Ok(()) => {}
            Err(Failure::Undone(source)) => return Err(LogError::NotSaved { path: self.path.clone(), source }),
            Err(Failure::Untrusted(why)) => return Err(self.distrust(&why)),
        }
        self.chain = chain;
        self.events.push(event);
        self.bodies.push(body);
        self.last = Some(now);
        Ok(Saved { n: self.chain.count.saturating_sub(1), head: self.chain.head })
    }

    /// Stops trusting the file: nothing is written to it or read back from it any more; the session is copied.
    fn distrust(&mut self, why: &Distrust) -> LogError {
        let last_saved = self.chain.count.saturating_sub(1);
        let last_sure = match why {
            Distrust::Disk(..) => last_saved.checked_sub(1),
            Distrust::Foreign(_) => Some(last_saved),
            Distrust::Gone(_) => None,
        };
        let rescue = match founding::rescue(&mut self.around, &self.path, &self.bodies, &self.chain) {
            Ok(copy) => Rescue::Copied(copy),
            Err(error) => Rescue::Failed(error.to_string()),
        };
        let why = why.to_string();
        self.state = State::Untrusted { why: why.clone(), last_sure, rescue: rescue.clone() };
        LogError::Untrusted { path: self.path.clone(), why, last_sure, last_saved, rescue }
    }
}

/// Chains a body as the strictest reader would take it, and gives the line and the event.
pub(super) fn taken(chain: &mut Chain, body: &[u8]) -> Result<(Vec<u8>, Event), String> {
    let line = join(body, &chain.head.after(body));
    if line.len() > MAX_LINE {
        return Err(format!("it is longer than 64 KiB ({} bytes as a line)", line.len()));
    }
    let inside = line.strip_suffix(b"\n").unwrap_or(&line);
    let event = match chain.take(inside)? {
        Some(parts) => parts.event()?,
        None => return Err("it could only be understood by a newer version".to_owned()),
    };
    Ok((line, event))
}
