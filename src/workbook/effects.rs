//! What the screen does to the world: opening sessions and recording commands.

use std::collections::VecDeque;
use std::path::PathBuf;
use std::time::{Duration, Instant};

use crate::checklist::Command;
use crate::job::{self, Draft, JobCard};
use crate::session::{
    Changed, House, Outcome, Playback, Review, Session, SessionError, card_files, card_text, if_crossed_out, keep_card,
    machine, made_by, overview, read_card, review, session_files,
};
use crate::session_log::WrongTail;
use crate::workbook::model::{CardRow, CardTable, Model, Opens, Page, Panel, ReasonFor};
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
    /// Work out what crossing an entry out would change.
    Weigh(u64),
    /// Work out what an entry changed.
    Look(u64),
    /// Play a log to after so many of its events, and show the step as it stood.
    GoTo(usize),
    /// List the job cards.
    ListCards,
    /// Lay a job card on the table.
    LayOut(CardRow),
    /// Keep the card on the table in its file.
    KeepCard,
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
    playback: Option<Box<Playback>>,
    snapshot: Option<Snapshot>,
    pending: Option<Pending>,
    unread: Option<VecDeque<PathBuf>>,
}

impl Desk {
    /// Sits down at an empty desk.
    pub(super) fn new(house: House, by: Option<String>) -> Self {
        Self { house, by, session: None, playback: None, snapshot: None, pending: None, unread: None }
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
            Start::Review(review) => self.look_at(*review, model),
        }
        self.open_pending(model)
    }

    /// Reads some more sessions for the front page, for about as long as nobody notices; returns whether anything was
    /// read, so that the page is drawn anew.
    pub(super) fn read_some(&mut self, model: &mut Model) -> bool {
        if model.page != Page::Front {
            return false;
        }
        let Some(unread) = &mut self.unread else {
            model.rows = front::fixed(&self.house);
            let files = session_files(&self.house.sessions).unwrap_or_default();
            model.unread = files.len();
            self.unread = Some(files.into());
            return true;
        };
        let mut clock = self.house.surroundings().clock;
        let began = Instant::now();
        let before = unread.len();
        while began.elapsed() < A_MOMENT {
            let Some(path) = unread.pop_front() else { break };
            let place = front::add(&mut model.rows, &overview(&path), &clock.now());
            // The arrow stays on the row on which it stands.
            model.arrow = model.arrow.map(|at| if place <= at { at + 1 } else { at });
        }
        model.unread = unread.len();
        before > 0
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
            Effect::Weigh(seq) => model.changes = self.weighed(seq),
            Effect::Look(seq) => model.changes = self.changed_by(seq),
            Effect::GoTo(at) => self.go_to(at, model)?,
            Effect::ListCards => self.list_cards(model),
            Effect::LayOut(row) => lay_out(&row, model),
            Effect::KeepCard => self.keep_card(model),
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
        let trail = self.snapshot.take().map(|before| before.trail).unwrap_or_default();
        self.snapshot = match (&self.session, &self.playback) {
            (Some(session), _) => Some(Snapshot::of(session, trail)),
            (None, Some(playback)) => Some(Snapshot::of_playback(playback, trail)),
            (None, None) => None,
        };
    }

    fn clear(&mut self, model: &mut Model) {
        self.session = None;
        self.playback = None;
        self.snapshot = None;
        self.unread = None;
        *model = Model::new();
    }

    /// Says which steps would stand otherwise if an entry were crossed out.
    fn weighed(&self, seq: u64) -> Vec<String> {
        let Some(session) = &self.session else { return Vec::new() };
        said_of(&if_crossed_out(session.progress(), seq), "Without it")
    }

    /// Says which steps stand otherwise since an entry.
    fn changed_by(&self, seq: u64) -> Vec<String> {
        let Some(session) = &self.session else { return Vec::new() };
        match made_by(session.log().path(), session.log().events(), seq) {
            Ok(changes) if changes.is_empty() => vec![format!("Since entry {seq}: every step stands as before it")],
            Ok(changes) => said_of(&changes, &format!("Since entry {seq}")),
            Err(error) => vec![error.to_string()],
        }
    }

    fn go_to(&mut self, at: usize, model: &mut Model) -> Result<(), SessionError> {
        if let Some(playback) = &mut self.playback {
            playback.go_to(at)?;
            model.page = Page::Then;
            model.said = None;
        }
        Ok(())
    }

    fn list_cards(&self, model: &mut Model) {
        let own = card_files(&self.house.cards).into_iter();
        model.cards = own
            .map(|path| CardRow { title: front::file_name(&path), path: Some(path), practice: None })
            .chain(job::practice_cards().iter().map(|(id, _)| CardRow {
                title: (*id).to_owned(),
                path: None,
                practice: Some(*id),
            }))
            .collect();
        model.go(Page::Cards);
    }

    fn keep_card(&self, model: &mut Model) {
        let Some(table) = &mut model.card else { return };
        match keep_card(&self.house.cards, table.draft.name(), &table.draft.text()) {
            Ok(path) => {
                table.changed = false;
                model.say(format!("Kept: {}", path.display()));
            }
            Err(error) => model.warn(error.to_string()),
        }
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
            Opens::Sums => return model.go(Page::Sums),
            Opens::Cards => return self.list_cards(model),
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
                Ok(review) => return self.look_at(review, model),
                Err(error) => return model.warn(error.to_string()),
            },
        }
        self.tried(model, Self::open_pending);
    }

    fn look_at(&mut self, review: Review, model: &mut Model) {
        self.playback = Some(Box::new(Playback::of(review)));
        self.look_again();
        model.go(Page::Past);
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

/// So long the front page may read before it looks for a key again.
const A_MOMENT: Duration = Duration::from_millis(12);

fn said_of(changes: &[Changed], lead: &str) -> Vec<String> {
    let piece = |changed: &Changed| changed.piece.map(|piece| format!(", piece {piece}")).unwrap_or_default();
    let words = |changed: &Changed| {
        format!("{lead}: {}{} is {}, not {}", changed.step, piece(changed), changed.to.word(), changed.from.word())
    };
    changes.iter().map(words).collect()
}

/// Lays a card on the table; of a practice card it is a copy, to be given a name of its own.
fn lay_out(row: &CardRow, model: &mut Model) {
    let practice = job::practice_cards().into_iter().find(|(id, _)| Some(*id) == row.practice);
    let text = match (&row.path, practice) {
        (Some(path), _) => card_text(path).map_err(|error| error.to_string()),
        (None, Some((_, text))) => Ok(text.to_owned()),
        (None, None) => Err("That practice card is not here.".to_owned()),
    };
    let no_card = || format!("{}: this is no job card (no JSON object).", row.title);
    match text.and_then(|text| Draft::of(&text).ok_or_else(no_card)) {
        Ok(draft) => {
            model.card = Some(CardTable { draft, typing: None, changed: false, asked: false });
            model.go(Page::Card);
            if row.path.is_none() {
                model.say("A copy of a practice card: give it an id of its own, change what differs, F5 keeps it.");
            }
        }
        Err(why) => model.warn(why),
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
