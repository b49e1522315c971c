//! What the screen does to the world: opening sessions and recording commands.

use std::path::PathBuf;

use crate::checklist::Command;
use crate::job::{self, JobCard};
use crate::session::{House, Outcome, Review, Session, SessionError, machine, read_card, review};
use crate::session_log::WrongTail;
use crate::workbook::model::{Model, Opens, Page, Panel, ReasonFor};
use crate::workbook::snapshot::Snapshot;
use crate::workbook::{Ended, Start, front};

/// What `update` asks for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Effect {
    /// Carry a command out.
    Take(Command),
    /// Keep the doubted value, with this reason.
    Sure(String),
    /// Let the doubted value go.
    DropDoubt,
    /// Open something from the front page.
    Open(Opens),
    /// These are the initials.
    By(String),
    /// Back to the front page; the session is saved.
    Front,
    /// Leave.
    Leave,
    /// Leave at once (Ctrl-C).
    Interrupt,
}

/// A session card to be opened once the initials are known.
enum Pending {
    Card(Box<JobCard>),
    Resume(PathBuf),
}

/// The desk at which a session lies.
pub(super) struct Desk {
    house: House,
    by: Option<String>,
    session: Option<Session>,
    review: Option<Box<Review>>,
    snapshot: Option<Snapshot>,
    pending: Option<Pending>,
}

impl Desk {
    /// Sits down at an empty desk.
    pub(super) fn new(house: House, by: Option<String>) -> Self {
        Self { house, by, session: None, review: None, snapshot: None, pending: None }
    }

    /// Returns the session at this moment.
    pub(super) fn snapshot(&self) -> Option<&Snapshot> {
        self.snapshot.as_ref()
    }

    /// Returns the name under which the open session can be resumed.
    pub(super) fn name(&self) -> Option<String> {
        self.session.as_ref().filter(|session| !session.progress().is_sealed()).map(Session::name)
    }

    /// Opens what the screen begins with.
    pub(super) fn begin(&mut self, start: Start, model: &mut Model) -> Result<(), SessionError> {
        match start {
            Start::Front => {}
            Start::Card(card) => self.pending = Some(Pending::Card(card)),
            Start::Resume(path) => self.pending = Some(Pending::Resume(path)),
            Start::Review(review) => self.look_at(review, model),
        }
        self.open_pending(model)
    }

    /// Reads the front page's rows after its frame has been drawn.
    pub(super) fn fill_front(&mut self, model: &mut Model) {
        if model.page == Page::Front && model.rows.is_none() {
            model.rows = Some(front::rows(&self.house));
            model.touch();
        }
    }

    /// Carries an effect out; returns how the screen ends, when it does.
    pub(super) fn carry_out(&mut self, effect: Effect, model: &mut Model) -> Result<Option<Ended>, SessionError> {
        match effect {
            Effect::Leave => return Ok(Some(Ended::Left(self.name()))),
            Effect::Interrupt => return Ok(Some(Ended::Interrupted(self.name()))),
            Effect::Front => self.clear(model),
            Effect::By(by) => {
                self.by = Some(by);
                self.tried(model, Self::open_pending);
            }
            Effect::Open(opens) => self.open(opens, model),
            Effect::DropDoubt => {
                if let Some(session) = &mut self.session {
                    session.drop_doubt();
                }
            }
            Effect::Sure(why) => self.record(model, |session| session.sure(&why))?,
            Effect::Take(command) => {
                let seals = command == Command::Seal;
                self.record(model, |session| session.take(&command))?;
                if seals && self.session.as_ref().is_some_and(|session| session.progress().is_sealed()) {
                    return Ok(self.session.as_ref().map(|session| Ended::Sealed(session.name())));
                }
            }
        }
        self.look_again();
        Ok(None)
    }

    fn look_again(&mut self) {
        self.snapshot = match (&self.session, &self.review) {
            (Some(session), _) => Some(Snapshot::of(session)),
            (None, Some(review)) => Some(Snapshot::of_review(review)),
            (None, None) => None,
        };
    }

    fn clear(&mut self, model: &mut Model) {
        self.session = None;
        self.review = None;
        *model = Model::new();
    }

    /// Tries to open something; a fault is said on the front page.
    fn tried(&mut self, model: &mut Model, opening: impl FnOnce(&mut Self, &mut Model) -> Result<(), SessionError>) {
        if let Err(error) = opening(self, model) {
            self.pending = None;
            self.clear(model);
            model.warn(error.to_string());
        }
    }

    fn open(&mut self, opens: Opens, model: &mut Model) {
        match opens {
            Opens::Resume(path) => self.pending = Some(Pending::Resume(path)),
            Opens::Practice(id) => match practice(id) {
                Some(card) => self.pending = Some(Pending::Card(Box::new(card))),
                None => return model.warn("That practice card is not here."),
            },
            Opens::Quick(task, unit) => match job::quick_card(task, unit, &machine(&self.house, None)) {
                Ok(card) => self.pending = Some(Pending::Card(Box::new(card))),
                Err(faults) => return model.warn(faults.to_string()),
            },
            Opens::Card(path) => match read_card(&path) {
                Ok(card) => self.pending = Some(Pending::Card(Box::new(card))),
                Err(error) => return model.warn(error.to_string()),
            },
            Opens::Review(path) => match review(&path) {
                Ok(review) => return self.look_at(Box::new(review), model),
                Err(error) => return model.warn(error.to_string()),
            },
        }
        self.tried(model, Self::open_pending);
    }

    fn look_at(&mut self, review: Box<Review>, model: &mut Model) {
        self.review = Some(review);
        self.look_again();
        model.go(Page::Trail);
        model.back = Page::Step;
    }

    /// Opens what waits, or asks who is at the machine.
    fn open_pending(&mut self, model: &mut Model) -> Result<(), SessionError> {
        if self.pending.is_none() {
            return Ok(());
        }
        let Some(by) = self.by.clone() else {
            model.page = Page::Who;
            return Ok(());
        };
        let session = match self.pending.take() {
            Some(Pending::Card(card)) => Session::start(self.house.surroundings(), &self.house.sessions, *card, &by)?,
            Some(Pending::Resume(path)) => Session::resume(self.house.surroundings(), &path, &by, WrongTail::Refuse)?,
            None => return Ok(()),
        };
        for notice in session.log().notices() {
            model.say(notice.clone());
        }
        self.session = Some(session);
        self.look_again();
        model.page = Page::Step;
        model.back = Page::Step;
        Ok(())
    }

    /// Records a command and says what became of it.
    fn record(
        &mut self,
        model: &mut Model,
        act: impl FnOnce(&mut Session) -> Result<Outcome, SessionError>,
    ) -> Result<(), SessionError> {
        let Some(session) = &mut self.session else { return Ok(()) };
        match act(session) {
            Ok(Outcome::Recorded(all)) => {
                model.arrow = None;
                model.panel = None;
                let number = all.last().copied().unwrap_or_default();
                let done: Vec<String> = session
                    .closed()
                    .iter()
                    .map(|(slot, answer)| format!("{}: {}", slot.step.title(), answer.verdict.word().to_uppercase()))
                    .collect();
                model.say(if done.is_empty() {
                    format!("saved as {number}")
                } else {
                    format!("saved as {number}.  {}", done.join("  "))
                });
            }
            Ok(Outcome::Refused(why)) => model.warn(why),
            Ok(Outcome::Doubt(_)) => {
                model.panel = Some(Panel::Doubt(0));
                model.warn("");
            }
            // The log has said what is sure and what is not; the person must read it, so the session is left with it.
            Err(error) => return Err(error),
        }
        Ok(())
    }
}

fn practice(id: &str) -> Option<JobCard> {
    let (_, text) = job::practice_cards().into_iter().find(|(name, _)| *name == id)?;
    job::read(text).ok()
}

/// Turns a typed reason into what it is for.
pub(super) fn reasoned(what: &ReasonFor, text: &str, by: &str) -> Effect {
    let why = text.trim().to_owned();
    match what {
        ReasonFor::Sure => Effect::Sure(why),
        ReasonFor::Strike(seq) => Effect::Take(Command::Strike { seq: *seq, why }),
        ReasonFor::Again(gate) => Effect::Take(Command::Again { gate: gate.clone(), why }),
        ReasonFor::GoOn(gate) => Effect::Take(Command::Concede { gate: gate.clone(), why, by: by.to_owned() }),
        ReasonFor::Note => Effect::Take(Command::Note { text: why }),
        ReasonFor::Seal => Effect::Take(Command::Seal),
    }
}
