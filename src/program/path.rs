//! The tool's path across the axis, a bounded part of it, for the picture.

use crate::program::place::{Move, Y, Z, known};

/// How many different strokes are kept.
const MOST_STROKES: usize = 400;

/// One stroke across the axis.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Stroke {
    pub(super) from: (f64, f64),
    pub(super) to: (f64, f64),
    pub(super) rapid: bool,
}

/// Strokes of the tip in Y and Z.
#[derive(Debug, Default)]
pub(super) struct Path {
    strokes: Vec<Stroke>,
}

impl Path {
    pub(super) fn see(&mut self, one: &Move) {
        if self.strokes.len() >= MOST_STROKES {
            return;
        }
        let across = |spot| known(spot, Y).zip(known(spot, Z));
        let (Some(from), Some(to)) = (across(&one.from), across(&one.to)) else { return };
        let stroke = Stroke { from, to, rapid: one.is_rapid() };
        if from != to && !self.strokes.contains(&stroke) {
            self.strokes.push(stroke);
        }
    }

    pub(super) fn strokes(&self) -> &[Stroke] {
        &self.strokes
    }
}
