//! The holes that a program cuts, each compared with the features of the card (D2, D4, mistakes 1 to 4, 46, 49).

mod matching;

use crate::program::expected::Expected;
use crate::program::modes::Modes;
use crate::program::place::{A, Kind, Move, Spot, X, Y, Z, known};
use crate::program::reports::{At, Reports};
use crate::program::trouble::Trouble;
use matching::SAME_SPOT_MM;

/// How many holes are kept to look for a mirrored pattern.
const MOST_KEPT: usize = 512;

/// One hole as the program cuts it, in coordinates of the claimed register.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Cut {
    pub(super) x: f64,
    pub(super) y: f64,
    /// A, where it is known: a program may leave it where the last one did.
    pub(super) a: Option<f64>,
    pub(super) bottom: f64,
    pub(super) tool: Option<u32>,
    /// Diameter of the tool, where it is known.
    pub(super) cutter: Option<f64>,
    /// Diameter of a bore that is circled.
    pub(super) bored: Option<f64>,
    pub(super) at: At,
}

/// The holes of a program.
#[derive(Debug, Default)]
pub(super) struct Holes {
    open: Option<Cut>,
    kept: Vec<Cut>,
    /// The features that were cut, by their place on the card.
    cut: Vec<bool>,
    seen: u64,
}

impl Holes {
    /// Takes a move in that cuts nothing: once it goes sideways, the open hole is done.
    pub(super) fn leave(&mut self, one: &Move, expected: &Expected, reports: &mut Reports) {
        if goes_sideways(one) {
            self.close(expected, reports);
        }
    }

    /// Takes a feed move in that cuts.
    pub(super) fn see(&mut self, modes: &Modes, at: At, one: &Move, expected: &Expected, reports: &mut Reports) {
        let (Some(x), Some(y), Some(bottom)) = (known(&one.to, X), known(&one.to, Y), one.lowest()) else { return };
        let cutter = modes.tool.and_then(|tool| expected.tool(tool)).map(|tool| tool.diameter);
        let cut = Cut { x, y, a: known(&one.to, A), bottom, tool: modes.tool, cutter, bored: None, at };
        match one.kind {
            Kind::Arc(arc) if arc.is_whole() => {
                let Some((x, y)) = arc.centre else { return };
                let bored = cutter.map(|cutter| 2.0 * arc.radius + cutter);
                matching::pocket(&Cut { x, y, ..cut }, expected, reports);
                self.grow(Cut { x, y, bored, ..cut }, expected, reports);
            }
            _ if !goes_sideways(one) => self.grow(cut, expected, reports),
            _ => matching::sideways(&cut, one, expected, reports),
        }
    }

    /// A stroke in the same place makes the open hole deeper or wider; elsewhere another one begins.
    fn grow(&mut self, cut: Cut, expected: &Expected, reports: &mut Reports) {
        match &mut self.open {
            Some(open) if open.tool == cut.tool && matching::same_spot(open, &cut) => {
                open.bottom = open.bottom.min(cut.bottom);
                open.bored = match (open.bored, cut.bored) {
                    (Some(one), Some(other)) => Some(one.max(other)),
                    (one, other) => one.or(other),
                };
                if cut.bored.is_some() {
                    (open.x, open.y) = (cut.x, cut.y);
                }
            }
            _ => {
                self.close(expected, reports);
                self.open = Some(cut);
            }
        }
    }

    /// Ends the open hole and compares it.
    pub(super) fn close(&mut self, expected: &Expected, reports: &mut Reports) {
        let Some(cut) = self.open.take() else { return };
        self.seen += 1;
        if self.kept.len() < MOST_KEPT {
            self.kept.push(cut);
        }
        if expected.holes.is_empty() {
            return;
        }
        self.cut.resize(expected.holes.len(), false);
        if let Some(place) = matching::judge(&cut, expected, reports)
            && let Some(done) = self.cut.get_mut(place)
        {
            *done = true;
        }
    }

    /// Says which features were never cut, and whether the pattern would match with one sign the other way.
    pub(super) fn compare(&mut self, expected: &Expected, reports: &mut Reports) {
        self.cut.resize(expected.holes.len(), false);
        if self.seen == 0 && reports.has("nothing-moves") {
            return;
        }
        for (hole, _) in expected.holes.iter().zip(&self.cut).filter(|(_, done)| !**done) {
            reports.add(At::default(), Trouble::FeatureNotCut { feature: hole.id.clone() });
        }
        if let Some(flip) = matching::mirrored(&self.kept, expected) {
            reports.add(At::default(), Trouble::Mirrored { flip });
        }
    }

    /// Returns whether the tip stands in the hole that is being cut.
    pub(super) fn is_below(&self, spot: &Spot) -> bool {
        let Some(open) = &self.open else { return false };
        known(spot, Z).is_some_and(|height| height <= open.bottom + IN_CUT_MM)
    }

    /// Returns whether a move stays in the hole that is open, above its bottom.
    pub(super) fn is_inside(&self, one: &Move) -> bool {
        let Some(open) = &self.open else { return false };
        let (Some(x), Some(y), Some(lowest)) = (known(&one.to, X), known(&one.to, Y), one.lowest()) else {
            return false;
        };
        let beside = (x - open.x).hypot(y - open.y);
        !one.moves(X) && !one.moves(Y) && !one.moves(A) && beside < SAME_SPOT_MM && lowest > open.bottom
    }
}

/// The tip counts as in the cut when it is no further than this from the bottom reached.
const IN_CUT_MM: f64 = 0.3;

fn goes_sideways(one: &Move) -> bool {
    one.moves(X) || one.moves(Y) || one.moves(A)
}
