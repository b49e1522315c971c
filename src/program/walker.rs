//! Walks a program block by block: keeps the modes, works out every move, and shows each move to the checks.
//!
//! RS274/NGC as the NIST interpreter has it, and the words of ISO 6983. Coordinates are those of the claimed register,
//! whatever is called: a wrong call is reported once and then followed as if it were right, so that one mistake does not
//! hide the others.

mod arcs;
mod calls;
mod codes;
mod cycles;
mod moves;

pub(super) use cycles::pecks;

use crate::job::JobCard;
use crate::program::block::{Block, Oddity};
use crate::program::checks::Watch;
use crate::program::expected::Expected;
use crate::program::holes::Holes;
use crate::program::modes::Modes;
use crate::program::path::Path;
use crate::program::place::{Place, Spot};
use crate::program::plan::FirstMoves;
use crate::program::reports::{At, Reports};
use crate::program::trouble::Trouble;

/// What a block asks for beyond itself.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Next {
    /// The next block.
    On,
    /// A subprogram, so often.
    Call(u32, u32),
    /// Back to the caller.
    Back,
    /// The end of the program.
    End,
}

/// A program being walked.
pub(super) struct Walker<'e> {
    pub(super) card: &'e JobCard,
    pub(super) expected: &'e Expected,
    pub(super) modes: Modes,
    pub(super) spot: Spot,
    pub(super) at: At,
    pub(super) reports: Reports,
    pub(super) watch: Watch,
    pub(super) holes: Holes,
    pub(super) first: FirstMoves,
    pub(super) path: Path,
    pub(super) moves: u64,
    calls: calls::Told,
}

impl<'e> Walker<'e> {
    /// Stands before the first block: nothing is known of where the tool is.
    pub(super) fn new(card: &'e JobCard, expected: &'e Expected) -> Self {
        Self {
            card,
            expected,
            modes: Modes::at_start(),
            spot: [Place::Unknown; 4],
            at: At::default(),
            reports: Reports::default(),
            watch: Watch::default(),
            holes: Holes::default(),
            first: FirstMoves::default(),
            path: Path::default(),
            moves: 0,
            calls: calls::Told::default(),
        }
    }

    /// Reports a trouble at the block that is being walked.
    pub(super) fn report(&mut self, trouble: Trouble) {
        self.reports.add(self.at, trouble);
    }

    /// Walks one block.
    pub(super) fn walk(&mut self, block: &Block) -> Next {
        self.at = At { line: block.line, number: block.number };
        for odd in &block.odd {
            self.report(match odd {
                Oddity::NotUnderstood(text) => Trouble::NotUnderstood(text.clone()),
                Oddity::Twice(letter) => Trouble::LetterTwice(char::from(*letter)),
                Oddity::OpenComment => Trouble::OpenComment,
                Oddity::TooLong => Trouble::LineTooLong,
            });
        }
        if block.words.is_empty() && block.label.is_none() {
            return Next::On;
        }
        self.carry_out(block)
    }

    /// Ends the walk: what can only be said of the whole.
    pub(super) fn finish(&mut self, ended: bool) {
        self.holes.close(self.expected, &mut self.reports);
        self.at = At::default();
        if !ended {
            self.report(Trouble::NoEnd);
        }
        if self.moves == 0 {
            self.report(Trouble::NothingMoves);
        } else if self.expected.work_turns.is_none() {
            self.report(Trouble::SenseUnknown);
        }
        self.holes.compare(self.expected, &mut self.reports);
    }
}
