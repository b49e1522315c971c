//! Joins checklist and log: decide, record, apply. What the screen shows is always what the disk holds.

mod ago;
mod audit;
mod card_files;
mod consequences;
mod house;
mod learned;
mod overview;
mod playback;
mod streams;
mod trail;
mod whole_file;

use std::path::{Path, PathBuf};
use std::sync::Arc;

use serde_json::{Map, Value, json};

use crate::checklist::{
    Checklist, Command, Consultation, Doubt, Event, EventFault, Happening, Progress, Refusal, Slot, Stamp,
};
use crate::job::{self, CardFaults, CardUnit, JobCard, Learned};
use crate::session_log::{
    self, Check, Founding, Kind, LogError, SessionLog, Surroundings, WrongTail, minutes_between, slug,
};
use crate::steps;

pub use ago::ago;
pub use audit::{Audit, Difference, Remade, audit, remade};
pub use card_files::{CardFileError, card_files, card_text, keep_card, read_card};
pub use consequences::{Changed, if_crossed_out, made_by};
pub use house::House;
pub use learned::machine;
pub use overview::{Overview, Standing, Stopped, overview, overviews, session_files};
pub use playback::Playback;
pub use streams::{
    Ended, ForPeople, LONGEST_LINE, Line, Opening, StreamError, is_initials, read_line, without_controls,
};
pub use trail::{TrailLine, follow_trail, trail};
pub use whole_file::write_whole;

/// What can go wrong with a session.
#[derive(Debug, thiserror::Error)]
pub enum SessionError {
    /// The log.
    #[error(transparent)]
    Log(#[from] LogError),
    /// The card in the log is no card.
    #[error("the job card in this log cannot be read: {0}")]
    Card(CardFaults),
    /// An event is beyond this version.
    #[error(transparent)]
    Event(#[from] EventFault),
    /// There is no card in the header.
    #[error("{0}: this log holds no job card, so it is no session of this program")]
    NoCard(PathBuf),
}

/// What became of a command.
#[derive(Debug)]
pub enum Outcome {
    /// It is on the disk under these sequence numbers.
    Recorded(Vec<u64>),
    /// It was refused, and nothing was recorded.
    Refused(String),
    /// The value looks like a slip; the next [`Session::sure`] confirms it.
    Doubt(Doubt),
}

/// After so many minutes without an entry it is asked whether anything has moved: a shop default.
const LONG_PAUSE_MINUTES: u64 = 30;

/// A session open for writing.
pub struct Session {
    log: SessionLog,
    machines: Option<PathBuf>,
    progress: Progress,
    by: String,
    doubted: Option<(Command, Doubt)>,
    closed: Vec<(Slot, Consultation)>,
}

impl Session {
    /// Starts a session from a card.
    pub fn start(around: Surroundings, folder: &Path, card: JobCard, by: &str) -> Result<Self, SessionError> {
        let mut data = Map::new();
        let embedded: Value = serde_json::from_str(&card.text).unwrap_or(Value::Null);
        data.insert("card".to_owned(), embedded);
        let machines = around.machines.clone();
        let learned = machines.as_deref().map(|folder| learned::read(folder, &card.machine.id)).unwrap_or_default();
        if !learned.is_empty() {
            data.insert("learned".to_owned(), Value::Object(learned.to_json()));
        }
        let unit = unit_name(card.unit);
        let founding = Founding { folder, slug: &slug(&card.id), by, unit, data };
        let log = SessionLog::create(around, &founding)?;
        let mut session = Self {
            log,
            progress: Progress::new(steps::checklist_for(&card), Arc::new(card)).knowing(learned),
            machines,
            by: by.to_owned(),
            doubted: None,
            closed: Vec::new(),
        };
        session.settle()?;
        Ok(session)
    }

    /// Goes on with an unfinished session.
    pub fn resume(around: Surroundings, path: &Path, by: &str, wrong_tail: WrongTail) -> Result<Self, SessionError> {
        let machines = around.machines.clone();
        let log = SessionLog::resume(around, path, wrong_tail)?;
        let progress = replay(path, log.events())?;
        let mut session = Self { log, machines, progress, by: by.to_owned(), doubted: None, closed: Vec::new() };
        let mut data = Map::new();
        data.insert("boot".to_owned(), json!(session.log.boot()));
        let left = session.log.events().last().map(|event| event.t.clone()).unwrap_or_default();
        let seq = session.write(Kind::SessionResume, data)?;
        session.progress.apply(&Stamp { seq, by: by.to_owned() }, &Event::Resumed);
        let now = session.log.events().last().map(|event| event.t.clone()).unwrap_or_default();
        session.tell_pause(minutes_between(&left, &now))?;
        session.settle()?;
        Ok(session)
    }

    /// Sets the initials under which everything from now on is recorded.
    pub fn set_by(&mut self, by: &str) {
        by.trim().clone_into(&mut self.by);
    }

    /// Returns the initials in force.
    pub fn by(&self) -> &str {
        &self.by
    }

    /// Carries a command out: decides, records, applies, and records what follows from it.
    pub fn take(&mut self, command: &Command) -> Result<Outcome, SessionError> {
        self.closed.clear();
        if let Some(outcome) = self.after_pause(command)? {
            return Ok(outcome);
        }
        match self.progress.decide(command, &self.by) {
            Err(Refusal::Refused(why)) => Ok(Outcome::Refused(why)),
            Err(Refusal::Doubt(doubt)) => {
                if command.answers() {
                    self.doubted = Some((command.clone(), doubt.clone()));
                }
                Ok(Outcome::Doubt(doubt))
            }
            Ok(events) => self.record_all(&events),
        }
    }

    /// After a long pause an answer may have to wait: what stood before is checked first.
    fn after_pause(&mut self, command: &Command) -> Result<Option<Outcome>, SessionError> {
        let minutes = if command.answers() { self.log.idle_minutes() } else { 0 };
        if minutes < LONG_PAUSE_MINUTES {
            return Ok(None);
        }
        let before = self.asked();
        if !self.tell_pause(minutes)? || self.asked() == before {
            return Ok(None);
        }
        Ok(Some(Outcome::Refused(format!(
            "{minutes} minutes since the last entry. Nothing is lost, but something is to be checked first: look at what is asked now."
        ))))
    }

    /// Records a pause that is long enough to ask whether anything has moved; returns whether it was.
    fn tell_pause(&mut self, minutes: u64) -> Result<bool, SessionError> {
        if minutes < LONG_PAUSE_MINUTES || self.progress.is_sealed() {
            return Ok(false);
        }
        self.record(&Event::Noted(format!("{minutes} minutes passed since the last entry")))?;
        self.record(&Event::Happened { what: Happening::LongPause })?;
        Ok(true)
    }

    /// Names the question that is asked now.
    fn asked(&self) -> Option<(&'static str, Option<u32>, &'static str, u32)> {
        let (slot, consultation) = self.consult()?;
        consultation.next.map(|ask| (slot.step.id(), slot.piece, ask.id, ask.round))
    }

    /// Records what was decided and what follows from it. On a full disk nothing is shown as saved, and the session goes on.
    fn record_all(&mut self, events: &[Event]) -> Result<Outcome, SessionError> {
        let mut recorded = Vec::new();
        for event in events {
            match self.record(event) {
                Ok(seq) => recorded.push(seq),
                Err(SessionError::Log(error)) if error.session_goes_on() => {
                    return Ok(Outcome::Refused(format!("NOT SAVED: {error}")));
                }
                Err(error) => return Err(error),
            }
        }
        self.doubted = None;
        match self.settle() {
            // What is owed stays owed and is recorded with the next entry.
            Err(SessionError::Log(error)) if error.session_goes_on() => {}
            other => other?,
        }
        Ok(Outcome::Recorded(recorded))
    }

    /// Confirms the value that was doubted last, with a reason.
    pub fn sure(&mut self, why: &str) -> Result<Outcome, SessionError> {
        match self.doubted.take() {
            None => Ok(Outcome::Refused("Nothing is in doubt now.".to_owned())),
            Some((command, doubt)) => {
                let outcome = self.take(&command.clone().confirmed(why))?;
                if matches!(outcome, Outcome::Refused(_)) {
                    self.doubted = Some((command, doubt));
                }
                Ok(outcome)
            }
        }
    }

    /// Lets a doubted value go.
    pub fn drop_doubt(&mut self) {
        self.doubted = None;
    }

    /// Returns the doubt that waits for an answer.
    pub fn doubt(&self) -> Option<&Doubt> {
        self.doubted.as_ref().map(|(_, doubt)| doubt)
    }

    /// Records one event and then applies it.
    fn record(&mut self, event: &Event) -> Result<u64, SessionError> {
        let seq = match Kind::named(event.kind()) {
            Some(Kind::SessionSeal) => self.log.seal(&self.by, event.to_data())?.n,
            Some(kind) => self.write(kind, event.to_data())?,
            None => {
                return Err(EventFault {
                    seq: 0,
                    kind: event.kind().to_owned(),
                    what: "a kind the log does not know".to_owned(),
                }
                .into());
            }
        };
        self.progress.apply(&Stamp { seq, by: self.by.clone() }, event);
        Ok(seq)
    }

    fn write(&mut self, kind: Kind, data: Map<String, Value>) -> Result<u64, SessionError> {
        Ok(self.log.append(kind, &self.by, data)?.n)
    }

    /// Records what is owed: calculations and step closings, until nothing is left.
    fn settle(&mut self) -> Result<(), SessionError> {
        loop {
            let owed = self.progress.owed();
            if owed.is_empty() {
                return Ok(());
            }
            for event in &owed {
                self.record(event)?;
                self.note_closing(event);
            }
        }
    }

    fn note_closing(&mut self, event: &Event) {
        let Event::StepClosed { step, piece, facts, .. } = event else { return };
        if let Some(folder) = &self.machines {
            // The session holds it as well; a profile that cannot be written is only not there next time.
            let _ = learned::keep(folder, &self.progress.card().machine.id, facts);
        }
        let slot = self.progress.checklist().step(step).map(|step| Slot { step, piece: *piece });
        if let Some(slot) = slot {
            self.closed.push((slot, self.progress.consult_slot(slot)));
        }
    }

    /// Lists the steps that the last command closed, each with its last answer: what a face shows before it goes on.
    pub fn closed(&self) -> &[(Slot, Consultation)] {
        &self.closed
    }

    /// Returns the state.
    pub fn progress(&self) -> &Progress {
        &self.progress
    }

    /// Asks the current step; `None` when every step is closed.
    pub fn consult(&self) -> Option<(Slot, Consultation)> {
        self.progress.consult()
    }

    /// Returns the log.
    pub fn log(&self) -> &SessionLog {
        &self.log
    }

    /// Returns the session's short name: its file name without the ending.
    pub fn name(&self) -> String {
        session_name(self.log.path())
    }
}

/// Returns a session's short name: its file name without the ending.
pub fn session_name(path: &Path) -> String {
    path.file_stem().map(|stem| stem.to_string_lossy().into_owned()).unwrap_or_default()
}

/// Returns the name of a card's unit.
pub const fn unit_name(unit: CardUnit) -> &'static str {
    match unit {
        CardUnit::Millimetre => "mm",
        CardUnit::Inch => "in",
    }
}

/// A session read from its log without writing to it.
pub struct Review {
    /// Where it was read.
    pub path: PathBuf,
    /// What the chain says.
    pub check: Check,
    /// The events.
    pub events: Vec<session_log::Event>,
    /// The state at the end.
    pub progress: Progress,
}

/// Reads a session without writing to it.
pub fn review(path: &Path) -> Result<Review, SessionError> {
    let reading = session_log::read(path)?;
    let progress = replay(path, &reading.events)?;
    Ok(Review { path: path.to_owned(), check: reading.check, events: reading.events, progress })
}

/// Folds the events of a log up to (and without) a sequence number into the state they led to.
pub fn replay_until(path: &Path, events: &[session_log::Event], end: u64) -> Result<Progress, SessionError> {
    let kept: Vec<_> = events.iter().filter(|event| event.n < end).cloned().collect();
    replay(path, &kept)
}

fn replay(path: &Path, events: &[session_log::Event]) -> Result<Progress, SessionError> {
    let mut progress = begin(path, events)?;
    let checklist = progress.checklist();
    for event in events {
        apply(&mut progress, checklist, event)?;
    }
    Ok(progress)
}

/// Begins with the card in the header and nothing entered.
fn begin(path: &Path, events: &[session_log::Event]) -> Result<Progress, SessionError> {
    let card =
        events.first().and_then(|event| event.data.get("card")).ok_or_else(|| SessionError::NoCard(path.to_owned()))?;
    let card = job::read(&card.to_string()).map_err(SessionError::Card)?;
    let learned = events.first().and_then(|event| event.data.get("learned")).and_then(Value::as_object);
    let learned = learned.map(Learned::from_json).unwrap_or_default();
    Ok(Progress::new(steps::checklist_for(&card), Arc::new(card)).knowing(learned))
}

fn apply(progress: &mut Progress, checklist: Checklist, event: &session_log::Event) -> Result<(), SessionError> {
    if let Some(known) = Event::from_data(checklist, event.n, event.kind.name(), &event.data)? {
        progress.apply(&Stamp { seq: event.n, by: event.by.clone() }, &known);
    }
    Ok(())
}
