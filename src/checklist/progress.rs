//! The state of a session, and the only two ways to move it: decide, then apply.

use std::collections::HashMap;
use std::sync::Arc;

use serde_json::{Map, Value};

use crate::checklist::doubt::doubt_about;
use crate::checklist::worksheet::unit_of;
use crate::checklist::{
    Ask, AskKind, Checklist, Command, Concession, Consultation, Doubt, Entry, EntryValue, Event, Fact, FactValue, Gate,
    GateKind, GateState, HandedOn, Happened, Happening, Reckoning, Refusal, RunFacts, SERIAL, Scope, Situation, Stamp,
    Step, Strike, Verdict, WHAT_NEXT,
};
use crate::job::{CardUnit, JobCard, Learned};
use crate::quantity::{Dimension, Unit};

/// The shortest reason that counts.
const SHORTEST_REASON: usize = 3;

/// A step, for a piece where it is done for each piece.
#[derive(Clone, Copy)]
pub struct Slot {
    /// The step.
    pub step: &'static dyn Step,
    /// The piece.
    pub piece: Option<u32>,
}

impl std::fmt::Debug for Slot {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(formatter, "{} {:?}", self.step.id(), self.piece)
    }
}

impl Slot {
    fn is(&self, step: &str, piece: Option<u32>) -> bool {
        self.step.id() == step && self.piece == piece
    }
}

/// How a step stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SlotState {
    /// A step before it must be closed first.
    Waiting,
    /// It is being worked on, or could be.
    Open,
    /// It has been closed.
    Closed,
    /// Something happened that made its results void.
    Void,
    /// Something before it changed.
    Stale,
}

impl SlotState {
    /// Returns the word used on screen and wire.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Waiting => "waiting",
            Self::Open => "open",
            Self::Closed => "closed",
            Self::Void => "void",
            Self::Stale => "stale",
        }
    }
}

/// A step with how it stands.
#[derive(Clone, Copy)]
pub struct SlotStatus {
    /// The step and piece.
    pub slot: Slot,
    /// How it stands.
    pub state: SlotState,
    /// The verdict with which it was last closed.
    pub verdict: Option<Verdict>,
    /// Whether it is the one being worked on.
    pub current: bool,
}

#[derive(Debug, Clone)]
struct Closing {
    seq: u64,
    step: &'static str,
    piece: Option<u32>,
    verdict: Verdict,
    facts: Vec<Fact>,
}

/// The state of a session: the fold of its events.
#[derive(Clone)]
pub struct Progress {
    checklist: Checklist,
    card: Arc<JobCard>,
    entries: Vec<Entry>,
    concessions: Vec<Concession>,
    closings: Vec<Closing>,
    reckoned: HashMap<(&'static str, Option<u32>, String), Reckoning>,
    handed: HandedOn,
    run: RunFacts,
    sealed: bool,
}

impl Progress {
    /// Begins with a card and nothing entered.
    pub fn new(checklist: Checklist, card: Arc<JobCard>) -> Self {
        Self {
            checklist,
            card,
            entries: Vec::new(),
            concessions: Vec::new(),
            closings: Vec::new(),
            reckoned: HashMap::new(),
            handed: HandedOn::default(),
            run: RunFacts { piece: 1, ..RunFacts::default() },
            sealed: false,
        }
    }

    /// Takes in what earlier sessions have learned of the machine.
    #[must_use]
    pub fn knowing(mut self, learned: Learned) -> Self {
        self.run.learned = learned;
        self
    }

    /// Returns the job card.
    pub fn card(&self) -> &JobCard {
        &self.card
    }

    /// Returns the checklist.
    pub fn checklist(&self) -> Checklist {
        self.checklist
    }

    /// Lists every entry ever made, struck and void ones too.
    pub fn entries(&self) -> &[Entry] {
        &self.entries
    }

    /// Lists every concession.
    pub fn concessions(&self) -> &[Concession] {
        &self.concessions
    }

    /// Returns what closed steps have handed on.
    pub fn handed(&self) -> &HandedOn {
        &self.handed
    }

    /// Returns what happened, and the piece on the machine.
    pub fn run(&self) -> &RunFacts {
        &self.run
    }

    /// Returns whether the session has been closed for good.
    pub fn is_sealed(&self) -> bool {
        self.sealed
    }

    // ----- slots -----

    /// Lists the steps in their order, those for each piece once for each piece begun.
    pub fn slots(&self) -> Vec<Slot> {
        let steps = self.checklist.steps;
        let last_of_piece = steps.iter().rposition(|step| step.scope() == Scope::EachPiece).map_or(0, |last| last + 1);
        let (before, after) = steps.split_at_checked(last_of_piece).unwrap_or((steps, &[]));
        let slot = |step: &&'static dyn Step, piece| Slot {
            step: *step,
            piece: (step.scope() == Scope::EachPiece).then_some(piece),
        };
        let is_due = |step: &&&'static dyn Step| !step.follows_resume() || !self.run.resumed.is_empty();
        let mut slots: Vec<Slot> = before.iter().filter(is_due).map(|step| slot(step, 1)).collect();
        for piece in 2..=self.run.piece {
            slots.extend(before.iter().filter(|step| step.scope() == Scope::EachPiece).map(|step| slot(step, piece)));
        }
        slots.extend(after.iter().map(|step| slot(step, 1)));
        slots
    }

    /// Lists every step with how it stands.
    pub fn statuses(&self) -> Vec<SlotStatus> {
        let current = self.current().map(|slot| (slot.step.id(), slot.piece));
        let status = |slot: Slot| SlotStatus {
            slot,
            state: self.state_of(slot),
            verdict: self.last_closing(slot.step.id(), slot.piece).map(|closing| closing.verdict),
            current: current == Some((slot.step.id(), slot.piece)),
        };
        self.slots().into_iter().map(status).collect()
    }

    /// Returns the step to work on: the first that is not closed and whose needs are; `None` when all are closed.
    pub fn current(&self) -> Option<Slot> {
        self.slots().into_iter().find(|slot| self.state_of(*slot) != SlotState::Closed && self.is_ready(*slot))
    }

    /// Returns the step of the work itself: the questions after a resume are none of it.
    fn worked_on(&self) -> Option<Slot> {
        self.slots().into_iter().find(|slot| {
            !slot.step.follows_resume() && self.state_of(*slot) != SlotState::Closed && self.is_ready(*slot)
        })
    }

    fn last_closing(&self, step: &str, piece: Option<u32>) -> Option<&Closing> {
        self.closings.iter().rev().find(|closing| closing.step == step && closing.piece == piece)
    }

    /// Returns how a step stands.
    fn state_of(&self, slot: Slot) -> SlotState {
        let Some(closing) = self.last_closing(slot.step.id(), slot.piece) else {
            return if self.is_ready(slot) { SlotState::Open } else { SlotState::Waiting };
        };
        // What happens later cannot undo a piece that has been finished.
        if slot.piece.is_some_and(|piece| piece < self.run.piece) {
            return SlotState::Closed;
        }
        if slot.step.follows_resume() && self.run.resumed.last().is_some_and(|resumed| *resumed > closing.seq) {
            return SlotState::Open;
        }
        if self.is_shaken(slot, closing.seq) {
            return SlotState::Void;
        }
        if self.was_struck_since(slot, closing.seq) {
            return SlotState::Open;
        }
        if self.is_stale(slot, closing.seq) { SlotState::Stale } else { SlotState::Closed }
    }

    fn is_ready(&self, slot: Slot) -> bool {
        let hand_over = slot.piece.is_none() && slot.step.needs().iter().any(|need| self.asks_what_next(need));
        let closed = slot.step.needs().iter().all(|need| {
            let Some(step) = self.checklist.step(need) else { return false };
            let piece = piece_for(step, slot, self.run.piece);
            self.last_closing(need, piece).is_some() && self.state_of(Slot { step, piece }) == SlotState::Closed
        });
        closed && (!hand_over || self.handed.word_of(Some(self.run.piece), WHAT_NEXT) == Some("hand-over"))
    }

    fn asks_what_next(&self, step: &str) -> bool {
        self.checklist.step(step).is_some_and(|step| step.names().iter().any(|(name, _)| *name == WHAT_NEXT))
    }

    fn is_shaken(&self, slot: Slot, closed: u64) -> bool {
        !self.run.since(closed, slot.step.shaken_by()).is_empty()
    }

    fn was_struck_since(&self, slot: Slot, closed: u64) -> bool {
        let struck = |entry: &Entry| entry.struck.as_ref().is_some_and(|strike| strike.seq > closed);
        self.entries.iter().any(|entry| slot.is(entry.step, entry.piece) && struck(entry))
    }

    fn is_stale(&self, slot: Slot, closed: u64) -> bool {
        slot.step.needs().iter().any(|need| {
            let Some(step) = self.checklist.step(need) else { return false };
            let piece = piece_for(step, slot, 1);
            if self.state_of(Slot { step, piece }) != SlotState::Closed {
                return true;
            }
            let of_need =
                || self.closings.iter().rev().filter(|closing| closing.step == *need && closing.piece == piece);
            let then = of_need().find(|closing| closing.seq < closed);
            let now = of_need().next();
            then.map(|closing| &closing.facts) != now.map(|closing| &closing.facts)
        })
    }

    // ----- consulting -----

    /// Asks the current step; `None` when every step is closed.
    pub fn consult(&self) -> Option<(Slot, Consultation)> {
        let slot = self.current()?;
        Some((slot, self.consult_slot(slot)))
    }

    /// Asks any step, as it stands now.
    pub fn consult_slot(&self, slot: Slot) -> Consultation {
        let belongs = |entry: &&Entry| slot.is(entry.step, entry.piece) && entry.stands();
        let conceded = |concession: &&Concession| slot.is(concession.step, concession.piece);
        let situation = Situation {
            card: &self.card,
            handed: &self.handed,
            entries: self.entries.iter().filter(belongs).collect(),
            concessions: self.concessions.iter().filter(conceded).collect(),
            piece: slot.piece,
            run: &self.run,
        };
        slot.step.consult(&situation)
    }

    /// Returns the calculation that was logged last under a role of a step.
    pub fn logged(&self, slot: Slot, role: &str) -> Option<&Reckoning> {
        self.reckoned.get(&(slot.step.id(), slot.piece, role.to_owned()))
    }

    /// Lists what must be recorded without anybody asking: calculations not yet in the log, then the step's closing.
    pub fn owed(&self) -> Vec<Event> {
        if self.sealed {
            return Vec::new();
        }
        let Some((slot, consultation)) = self.consult() else { return Vec::new() };
        let (step, piece) = (slot.step.id(), slot.piece);
        let is_new =
            |reckoning: &&Reckoning| self.reckoned.get(&(step, piece, reckoning.role.clone())) != Some(reckoning);
        let mut events: Vec<Event> = consultation
            .reckonings
            .iter()
            .filter(is_new)
            .map(|reckoning| Event::Reckoned { step, piece, reckoning: Box::new(reckoning.clone()) })
            .collect();
        if consultation.complete {
            events.push(Event::StepClosed { step, piece, verdict: consultation.verdict, facts: consultation.hands_on });
        }
        events
    }

    // ----- deciding -----

    /// Turns a command into the events to record, or says why not. Changes nothing.
    pub fn decide(&self, command: &Command, by: &str) -> Result<Vec<Event>, Refusal> {
        if self.sealed && !matches!(command, Command::Review { .. }) {
            return Err(refused(
                "This session has been closed for good: nothing can be added. Start a new one from it.",
            ));
        }
        match command {
            Command::Enter { text, sure } => self.decide_entry(text, sure.as_deref(), by, None),
            Command::EnterLate { text, paper, sure } => {
                self.decide_entry(text, sure.as_deref(), by, Some(paper_number(paper)?))
            }
            Command::Strike { seq, why } => self.decide_strike(*seq, why).map(|event| vec![event]),
            Command::Again { gate, why } => self.decide_again(gate, why),
            Command::Concede { gate, why, by } => self.decide_concession(gate, why, by).map(|event| vec![event]),
            Command::Happened { what } => Ok(vec![Event::Happened { what: *what }]),
            Command::Note { text } => written(text).map(|text| vec![Event::Noted(text)]),
            Command::Witness { text } => written(text).map(|text| vec![Event::Witnessed(text)]),
            Command::Review { text } => written(text).map(|text| vec![Event::Reviewed(text)]),
            Command::Seal => self.decide_seal(),
        }
    }

    fn decide_entry(
        &self,
        text: &str,
        sure: Option<&str>,
        by: &str,
        paper: Option<String>,
    ) -> Result<Vec<Event>, Refusal> {
        let (slot, consultation) =
            self.consult().ok_or_else(|| refused("Every step is closed: there is nothing left to enter."))?;
        let Some(ask) = &consultation.next else { return Err(refused(&blocked_words(&consultation))) };
        let spec = self.checklist.ask(ask.id).ok_or_else(|| refused("This question is not known."))?;
        let lengths = self.length_unit();
        let value = EntryValue::read(spec, text, unit_of(spec.kind, self.card.unit), lengths)
            .map_err(|fault| refused(&fault.0))?;
        let doubt = doubt_about(ask, text, &value, self.last_number_elsewhere(ask));
        let mut events = Vec::new();
        if let Some(doubt) = doubt {
            events.push(confirmed(doubt, sure)?);
        }
        let told = spec.names_happening.then(|| Happening::named(text.trim())).flatten();
        let entry = Entry { paper, ..self.entry(slot, ask, spec, value, by) };
        events.push(Event::Entered(Box::new(entry)));
        events.extend(told.map(|what| Event::Happened { what }));
        Ok(events)
    }

    fn entry(
        &self,
        slot: Slot,
        ask: &Ask,
        spec: &'static crate::checklist::AskSpec,
        value: EntryValue,
        by: &str,
    ) -> Entry {
        Entry {
            seq: 0,
            step: slot.step.id(),
            piece: slot.piece,
            spec,
            round: ask.round,
            value,
            instrument: ask.instrument.clone(),
            replaces: self.replaced(slot, ask),
            by: by.to_owned(),
            paper: None,
            struck: None,
            void: None,
        }
    }

    /// Finds the newest struck entry of the same ask and round that nothing has replaced yet.
    fn replaced(&self, slot: Slot, ask: &Ask) -> Option<u64> {
        let same =
            |entry: &&Entry| slot.is(entry.step, entry.piece) && entry.spec.id == ask.id && entry.round == ask.round;
        let replaced: Vec<u64> = self.entries.iter().filter(same).filter_map(|entry| entry.replaces).collect();
        let struck = self
            .entries
            .iter()
            .rev()
            .filter(same)
            .find(|entry| entry.struck.is_some() && !replaced.contains(&entry.seq));
        struck.map(|entry| entry.seq)
    }

    fn last_number_elsewhere(&self, ask: &Ask) -> Option<f64> {
        let last = self.entries.iter().rev().find(|entry| entry.stands())?;
        (last.spec.id != ask.id && last.spec.kind == ask.kind).then(|| last.number())
    }

    fn length_unit(&self) -> &'static Unit {
        unit_of(AskKind::Length, self.card.unit).unwrap_or_else(|| Dimension::Length.base_unit())
    }

    fn decide_strike(&self, seq: u64, why: &str) -> Result<Event, Refusal> {
        let why = reason(why)?;
        let entry = self.entries.iter().find(|entry| entry.seq == seq);
        let entry = entry.ok_or_else(|| {
            refused(&format!("Number {seq} in this log is no entry: only entries can be crossed out."))
        })?;
        if entry.struck.is_some() {
            return Err(refused(&format!("Entry {seq} has been crossed out already.")));
        }
        if entry.piece.is_some_and(|piece| piece < self.run.piece) {
            return Err(refused(&format!("Entry {seq} belongs to a piece that is finished: write a note instead.")));
        }
        Ok(Event::Struck { of: seq, why })
    }

    fn decide_again(&self, gate: &str, why: &str) -> Result<Vec<Event>, Refusal> {
        let why = reason(why)?;
        let gate = self.failed_gate(gate)?;
        if gate.rests_on.is_empty() {
            return Err(refused(
                "This gate rests on no reading of this step: cross out the reading it rests on by its number.",
            ));
        }
        gate.rests_on.iter().map(|seq| self.decide_strike(*seq, &why)).collect()
    }

    fn decide_concession(&self, id: &str, why: &str, by: &str) -> Result<Event, Refusal> {
        let why = reason(why)?;
        if by.trim().is_empty() {
            return Err(refused("Whose decision is it? Going on with a reason needs initials."));
        }
        let gate = self.failed_gate(id)?;
        if gate.kind == GateKind::Stop {
            return Err(refused(&format!("`{id}` cannot be passed with a reason: {}", gate.says)));
        }
        let slot = self.current().ok_or_else(|| refused("Every step is closed."))?;
        Ok(Event::Conceded(Concession {
            seq: 0,
            step: slot.step.id(),
            piece: slot.piece,
            gate: gate.id.to_owned(),
            about: gate.about,
            rests_on: gate.rests_on,
            why,
            by: by.trim().to_owned(),
        }))
    }

    fn failed_gate(&self, id: &str) -> Result<Gate, Refusal> {
        let failed = self.consult().and_then(|(_, consultation)| {
            consultation.gates.into_iter().find(|gate| gate.id == id && gate.state == GateState::Fail)
        });
        failed.ok_or_else(|| refused(&format!("`{id}` does not stand in the way now.")))
    }

    fn decide_seal(&self) -> Result<Vec<Event>, Refusal> {
        match self.current() {
            None => Ok(vec![Event::Sealed]),
            Some(slot) => Err(refused(&format!("The session cannot be closed yet: {} is open.", slot.step.title()))),
        }
    }

    // ----- applying -----

    /// Takes a recorded event in.
    pub fn apply(&mut self, stamp: &Stamp, event: &Event) {
        match event {
            Event::Entered(entry) => self.take_entry(stamp, entry),
            Event::Struck { of, why } => self.strike(stamp, *of, why),
            Event::Reckoned { step, piece, reckoning } => {
                self.reckoned.insert((step, *piece, reckoning.role.clone()), (**reckoning).clone());
            }
            Event::Conceded(concession) => self.concessions.push(Concession { seq: stamp.seq, ..concession.clone() }),
            Event::StepClosed { step, piece, verdict, facts } => self.close(stamp, step, *piece, *verdict, facts),
            Event::Happened { what } => self.happen(stamp, *what),
            Event::Sealed => self.sealed = true,
            Event::Resumed => self.run.resumed.push(stamp.seq),
            Event::Opened
            | Event::Doubted(..)
            | Event::Noted(_)
            | Event::Witnessed(_)
            | Event::Reviewed(_)
            | Event::Recovered
            | Event::ClockStepped => {}
        }
    }

    fn take_entry(&mut self, stamp: &Stamp, entry: &Entry) {
        if entry.spec.id == SERIAL {
            self.run.serials.push((entry.piece.unwrap_or(1), stamp.seq, entry.word().to_owned()));
        }
        self.entries.push(Entry { seq: stamp.seq, by: stamp.by.clone(), ..entry.clone() });
    }

    fn strike(&mut self, stamp: &Stamp, of: u64, why: &str) {
        self.run.serials.retain(|(_, seq, _)| *seq != of);
        if let Some(entry) = self.entries.iter_mut().find(|entry| entry.seq == of) {
            entry.struck = Some(Strike { seq: stamp.seq, why: why.to_owned(), by: stamp.by.clone() });
        }
    }

    fn close(&mut self, stamp: &Stamp, step: &'static str, piece: Option<u32>, verdict: Verdict, facts: &[Fact]) {
        for fact in facts {
            self.handed.take(piece, fact.clone());
        }
        let next_piece =
            facts.iter().any(|fact| fact.id == WHAT_NEXT && fact.value == FactValue::Word("next-piece".to_owned()));
        if next_piece && piece == Some(self.run.piece) {
            self.run.piece += 1;
        }
        self.closings.push(Closing { seq: stamp.seq, step, piece, verdict, facts: facts.to_vec() });
    }

    fn happen(&mut self, stamp: &Stamp, what: Happening) {
        let piece = self.run.piece;
        let during = self.worked_on().map(|slot| (slot.step.id(), slot.piece));
        for entry in &mut self.entries {
            let of_this_piece = entry.piece.is_none_or(|own| own == piece);
            if of_this_piece && entry.stands() && entry.spec.voided_by.contains(&what) {
                entry.void = Some(stamp.seq);
            }
        }
        self.run.happened.push(Happened { seq: stamp.seq, what, piece, during });
    }

    /// Returns everything that matters of the state in one value, to compare two sessions by.
    pub fn digest(&self) -> Value {
        // What is asked after a resume is no part of the work.
        let of_the_work = |id: &str| self.checklist.step(id).is_none_or(|step| !step.follows_resume());
        let entries = self.entries.iter().filter(|entry| entry.stands() && of_the_work(entry.step));
        let entry = |entry: &Entry| {
            serde_json::json!([entry.step, entry.piece, entry.spec.id, entry.round, entry.value.to_string()])
        };
        let slot =
            |status: &SlotStatus| serde_json::json!([status.slot.step.id(), status.slot.piece, status.state.word()]);
        let mut all = Map::new();
        all.insert("entries".to_owned(), entries.map(entry).collect());
        let statuses = self.statuses();
        let of_work = statuses.iter().filter(|status| of_the_work(status.slot.step.id()));
        all.insert("steps".to_owned(), of_work.map(slot).collect());
        all.insert("handed".to_owned(), Value::String(format!("{:?}", self.handed)));
        Value::Object(all)
    }

    /// Returns the card's unit.
    pub fn unit(&self) -> CardUnit {
        self.card.unit
    }
}

/// Returns the piece that a step for the setup looks at, or the slot's own.
fn piece_for(step: &dyn Step, slot: Slot, setup_looks_at: u32) -> Option<u32> {
    (step.scope() == Scope::EachPiece).then(|| slot.piece.unwrap_or(setup_looks_at))
}

fn refused(words: &str) -> Refusal {
    Refusal::Refused(words.to_owned())
}

fn reason(why: &str) -> Result<String, Refusal> {
    let why = why.trim();
    if why.chars().count() < SHORTEST_REASON {
        return Err(refused("A reason is needed, in a few words."));
    }
    written(why)
}

/// The longest number of a paper, in characters.
const LONGEST_PAPER: usize = 40;

fn paper_number(paper: &str) -> Result<String, Refusal> {
    let paper = paper.trim();
    if paper.is_empty() || paper.chars().count() > LONGEST_PAPER || paper.chars().any(char::is_control) {
        return Err(refused("Which paper was it written on? Its number, up to 40 characters."));
    }
    Ok(paper.to_owned())
}

fn written(text: &str) -> Result<String, Refusal> {
    let cleaned: String = text.trim().chars().map(|letter| if letter.is_control() { ' ' } else { letter }).collect();
    if cleaned.is_empty() || cleaned.len() > 2000 {
        return Err(refused("Write something, up to 2,000 characters."));
    }
    Ok(cleaned)
}

fn confirmed(doubt: Doubt, sure: Option<&str>) -> Result<Event, Refusal> {
    match sure {
        None => Err(Refusal::Doubt(doubt)),
        Some(why) => reason(why).map(|why| Event::Doubted(doubt, why)),
    }
}

fn blocked_words(consultation: &Consultation) -> String {
    consultation.blocked_by().map_or_else(
        || "Nothing is asked here now.".to_owned(),
        |gate| match gate.kind {
            GateKind::Stop => format!("{} Nothing else can be entered before that.", gate.says),
            GateKind::Ask => format!("{} Cross out and read again, or go on with a reason.", gate.says),
        },
    )
}
