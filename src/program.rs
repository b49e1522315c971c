//! Reads an RS-274 program and walks it against a setup: what would go wrong, and the plan of the first run.
//!
//! - `block`, `reader`: a line taken apart, streaming, in bounded memory; `subprograms`: what a call may reach.
//! - `setup`, `expected`: what the program is compared with, worked out once by registered calculations.
//! - `modes`, `place`, `walker`: the control's modes and every move of the tip, in coordinates of the claimed register.
//! - `checks`, `holes`: what each move is looked at for; `trouble`, `reports`: what was found, with its weight.
//! - `plan`, `path`, `picture`: the prove-out plan and the path across the axis.

pub mod block;
mod checks;
pub mod expected;
mod holes;
mod modes;
mod path;
mod picture;
pub mod place;
mod plan;
pub mod reader;
mod reports;
mod setup;
mod subprograms;
mod trouble;
mod walker;

use std::io::{self, BufRead};

use crate::calc::Refused;
use crate::program::block::{Block, Label};
use crate::program::expected::Expected;
use crate::program::reader::Reader;
use crate::program::subprograms::RETURN;
use crate::program::walker::{Next, Walker};
use crate::scene::Scene;

pub use plan::{Approach, Cut, Stop, ToolPart};
pub use reports::{At, KEPT_OF_A_KIND, Report, Reports};
pub use setup::{Found, Setup};
pub use subprograms::Subprograms;
pub use trouble::{Flip, Severity, Transform, Trouble};

/// Blocks of subprograms that are followed in all; what calls more is said to go too deep.
const MOST_FOLLOWED: u64 = 1_000_000;
/// How deep subprograms may call each other: RS274/NGC and most controls allow 10 or fewer.
const DEEPEST: usize = 10;

/// Why a program cannot be proved at all.
#[derive(Debug, thiserror::Error)]
pub enum ProveError {
    /// The stream failed.
    #[error("the program cannot be read: {0}")]
    Stream(#[from] io::Error),
    /// It is no text.
    #[error("this is no text: a program is plain text, one block a line. Was it saved as UTF-16, or packed?")]
    NoText,
    /// A calculation refuses what the setup says.
    #[error("the setup cannot be worked out: {0}")]
    Setup(Refused),
}

/// What came of walking a program.
#[derive(Debug, Clone)]
pub struct Proof {
    /// Lines read.
    pub lines: u64,
    /// Moves walked.
    pub moves: u64,
    /// What was found.
    pub reports: Reports,
    /// The prove-out plan, tool by tool in the order of use.
    pub plan: Vec<ToolPart>,
    /// The path across the axis.
    pub picture: Scene,
    /// Whether machine coordinates were known.
    pub in_machine: bool,
}

/// Walks a program against a setup. `subprograms` were collected from the same file in an earlier reading.
///
/// Memory does not grow with the program's length.
///
/// # Errors
/// The stream fails, it is no text, or the setup cannot be worked out.
pub fn prove(input: impl BufRead, subprograms: &Subprograms, setup: &Setup<'_>) -> Result<Proof, ProveError> {
    let expected = Expected::of(setup).map_err(ProveError::Setup)?;
    let mut walk =
        Walk { walker: Walker::new(setup.card, &expected), subprograms, followed: 0, ended: false, passing: None };
    let mut reader = Reader::new(input);
    let mut block = Block::default();
    while reader.next_block(&mut block)? {
        if reader.text().contains(&0) {
            return Err(ProveError::NoText);
        }
        walk.main(&block);
    }
    walk.walker.finish(walk.ended);
    Ok(Proof {
        lines: reader.line(),
        moves: walk.walker.moves,
        plan: walk.walker.first.plan(setup.card, &expected),
        picture: picture::picture(setup.card, &expected, &walk.walker.path),
        reports: walk.walker.reports,
        in_machine: expected.written.is_some(),
    })
}

struct Walk<'e> {
    walker: Walker<'e>,
    subprograms: &'e Subprograms,
    followed: u64,
    ended: bool,
    /// The subprogram whose lines are being passed by in the file.
    passing: Option<(u32, Label)>,
}

impl Walk<'_> {
    /// Takes a block of the file in: walked, or passed by when it belongs to a subprogram or stands after the end.
    fn main(&mut self, block: &Block) {
        if let Some((number, label)) = self.passing {
            let over = match label {
                Label::Sub => block.label == Some((number, Label::EndSub)),
                _ => block.has_code(b'M', RETURN),
            };
            if over {
                self.passing = None;
            }
            return;
        }
        match block.label {
            Some((number, label @ (Label::Begin | Label::Sub))) if self.subprograms.get(number).is_some() => {
                self.passing = Some((number, label));
                return;
            }
            _ => {}
        }
        if self.ended {
            if !block.is_empty() && !self.walker.reports.has("after-the-end") {
                self.walker.at = At { line: block.line, number: block.number };
                self.walker.report(Trouble::AfterTheEnd);
            }
            return;
        }
        match self.walker.walk(block) {
            Next::On => {}
            Next::Call(number, times) => self.follow(number, times, 1),
            Next::Back => {
                self.walker.report(Trouble::RunsForEver);
                self.ended = true;
            }
            Next::End => self.ended = true,
        }
    }

    /// Follows a subprogram as often as it is called.
    fn follow(&mut self, number: u32, times: u32, depth: usize) {
        let Some(body) = self.subprograms.get(number) else {
            return self.walker.report(Trouble::SubprogramMissing(number));
        };
        let mut block = Block::default();
        for _ in 0..times {
            if depth > DEEPEST || self.followed > MOST_FOLLOWED {
                return self.walker.report(Trouble::SubprogramTooDeep(number));
            }
            let mut reader = Reader::after_line(body.text.as_slice(), body.line);
            while let Ok(true) = reader.next_block(&mut block) {
                self.followed += 1;
                match self.walker.walk(&block) {
                    Next::On => {}
                    Next::Call(inner, times) => self.follow(inner, times, depth + 1),
                    Next::Back => break,
                    Next::End => {
                        self.ended = true;
                        return;
                    }
                }
                if self.ended || self.followed > MOST_FOLLOWED {
                    break;
                }
            }
            if self.ended {
                return;
            }
        }
    }
}
