//! What each move is looked at for.

mod clearance;
mod cutting;
mod rotary;
mod travel;

use crate::program::place::Move;
use crate::program::walker::Walker;

pub(super) use cutting::{feed_per_turn, minute_feed};

/// What the checks remember from move to move.
#[derive(Debug, Default)]
pub(super) struct Watch {
    rotary: rotary::Turned,
    travel: travel::Reached,
    cutting: cutting::Told,
}

impl Watch {
    /// Forgets what belonged to the tool before.
    pub(super) fn new_tool(&mut self) {
        self.cutting = cutting::Told::default();
    }
}

/// Looks at a move from every side.
pub(super) fn look_at(walker: &mut Walker<'_>, one: &Move) {
    rotary::look(walker, one);
    travel::look(walker, one);
    clearance::look(walker, one);
    let in_metal = clearance::is_in_metal(walker, one);
    if in_metal && !one.is_rapid() {
        cutting::look(walker, one);
    }
    walker.first.see(&walker.modes, walker.at, one, in_metal, walker.expected);
    walker.path.see(one);
    if in_metal && !one.is_rapid() {
        walker.holes.see(&walker.modes, walker.at, one, walker.expected, &mut walker.reports);
    } else {
        walker.holes.leave(one, walker.expected, &mut walker.reports);
    }
}
