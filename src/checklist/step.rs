//! What a step is, and the situation that it is asked about.

use crate::checklist::{AskSpec, Consultation, Entry, HandedOn, Happening};
use crate::job::{JobCard, Learned};

/// The fact with which the piece check says what comes next: `next-piece` or `hand-over`.
pub const WHAT_NEXT: &str = "check.what-next";

/// The ask under which the serial of the piece on the machine is entered.
pub const SERIAL: &str = "tram.serial";

/// Whether a step is done once or for each piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Scope {
    /// Once for the setup.
    Setup,
    /// Again for each piece.
    EachPiece,
}

/// A step of the checklist: a pure question.
pub trait Step: Sync {
    /// Returns the permanent id that appears in logs.
    fn id(&self) -> &'static str;
    /// Returns the title shown to a person.
    fn title(&self) -> &'static str;
    /// Returns whether it is done once or for each piece.
    fn scope(&self) -> Scope;
    /// Lists the steps that must be closed before.
    fn needs(&self) -> &'static [&'static str];
    /// Lists the happenings after which a closed step must be looked at again.
    fn shaken_by(&self) -> &'static [Happening];
    /// Returns whether it belongs to a session that was left and gone on with: it opens with each resume and is not on
    /// the list before the first.
    fn follows_resume(&self) -> bool {
        false
    }
    /// Lists every ask that it can make.
    fn asks(&self) -> &'static [&'static AskSpec];
    /// Lists the ids of its findings, gates and facts, each with what it says.
    fn names(&self) -> &'static [(&'static str, &'static str)];
    /// Answers a situation.
    fn consult(&self, at: &Situation<'_>) -> Consultation;
}

/// The steps in their order.
#[derive(Clone, Copy)]
pub struct Checklist {
    /// The steps, first one first.
    pub steps: &'static [&'static dyn Step],
}

impl Checklist {
    /// Finds a step by its id.
    pub fn step(&self, id: &str) -> Option<&'static dyn Step> {
        self.steps.iter().find(|step| step.id() == id).copied()
    }

    /// Finds an ask of a step by its id.
    pub fn ask(&self, id: &str) -> Option<&'static AskSpec> {
        self.steps.iter().flat_map(|step| step.asks()).find(|spec| spec.id == id).copied()
    }
}

/// A gate that was passed with a reason.
#[derive(Debug, Clone, PartialEq)]
pub struct Concession {
    /// Sequence number in the log; 0 until it is recorded.
    pub seq: u64,
    /// The step.
    pub step: &'static str,
    /// The piece, for steps done for each piece.
    pub piece: Option<u32>,
    /// The gate.
    pub gate: String,
    /// Which one of several.
    pub about: String,
    /// The entries that the gate rested on when it was conceded.
    pub rests_on: Vec<u64>,
    /// The reason.
    pub why: String,
    /// Initials.
    pub by: String,
}

/// A happening as it stands in the log.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Happened {
    /// Sequence number.
    pub seq: u64,
    /// What happened.
    pub what: Happening,
    /// The piece that was on the machine.
    pub piece: u32,
    /// The step (and piece) that was being worked on.
    pub during: Option<(&'static str, Option<u32>)>,
}

/// What a step may know of the run besides readings.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct RunFacts {
    /// Everything that happened, in order.
    pub happened: Vec<Happened>,
    /// The piece on the machine, from 1.
    pub piece: u32,
    /// What earlier sessions have learned of the machine.
    pub learned: Learned,
    /// Sequence numbers at which the session was gone on with.
    pub resumed: Vec<u64>,
    /// Serials as entered, each with its piece, those crossed out left off.
    pub serials: Vec<(u32, u64, String)>,
}

impl RunFacts {
    /// Returns the serial entered for a piece.
    pub fn serial(&self, piece: u32) -> Option<&str> {
        self.serials.iter().rev().find(|(of, ..)| *of == piece).map(|(.., serial)| serial.as_str())
    }

    /// Returns how many happenings of some kinds came after a point in the log, and the last one.
    pub fn since(&self, seq: u64, kinds: &[Happening]) -> Vec<&Happened> {
        self.happened.iter().filter(|happened| happened.seq > seq && kinds.contains(&happened.what)).collect()
    }
}

/// All that a step is given to answer with.
pub struct Situation<'a> {
    /// The job card.
    pub card: &'a JobCard,
    /// What earlier steps handed on.
    pub handed: &'a HandedOn,
    /// The standing entries of this step (and piece), in the order made.
    pub entries: Vec<&'a Entry>,
    /// The concessions of this step (and piece).
    pub concessions: Vec<&'a Concession>,
    /// The piece, for steps done for each piece.
    pub piece: Option<u32>,
    /// What happened.
    pub run: &'a RunFacts,
}
