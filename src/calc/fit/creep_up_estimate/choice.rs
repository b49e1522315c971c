//! Choosing the next pass: the one most likely to land in the window among those that hardly ever overshoot it.

use super::cutter::{Luck, cuts};
use super::filter::Filter;

/// What is likely to land less often than this is only a step on the way: then the boldest pass is taken.
const LEAST_LANDING: f64 = 0.15;
/// Offsets between which the boldest pass is looked for, micrometres a wall.
const SPAN: (f64, f64) = (-60.0, 300.0);
const HALVINGS: u32 = 15;
const CANDIDATES: u32 = 14;

/// What a pass is likely to do.
#[derive(Debug, Clone, Copy)]
pub(super) struct Pass {
    /// More off each wall, micrometres; minus backs off.
    pub(super) offset: f64,
    pub(super) lands: f64,
    pub(super) overshoots: f64,
    /// Chance that the cutter is engaged enough to cut at all.
    pub(super) cuts: f64,
    /// Expected opening of the slot.
    pub(super) opens: f64,
}

/// The passes that could be made next, all tried out with the same luck.
pub(super) struct Choice<'a> {
    filter: &'a Filter,
    luck: Vec<(f64, Luck)>,
    window: (f64, f64),
}

impl<'a> Choice<'a> {
    /// Prepares to try passes out against a window of clearance.
    pub(super) fn new(filter: &'a mut Filter, window: (f64, f64)) -> Self {
        let luck = filter.next_passes();
        Self { filter, luck, window }
    }

    /// Chooses the next pass, which may overshoot with this chance at most.
    pub(super) fn next(&self, allowed: f64) -> Pass {
        let boldest = self.boldest(allowed);
        let step = boldest.offset.abs().max(10.0) * 0.05;
        let milder = (1..=CANDIDATES).map(|count| self.outcome(boldest.offset - f64::from(count) * step));
        let best = milder.fold(boldest, |best, pass| if pass.lands > best.lands + 1e-9 { pass } else { best });
        if best.lands < LEAST_LANDING { boldest } else { best }
    }

    fn boldest(&self, allowed: f64) -> Pass {
        let (mut safe, mut too_bold) = SPAN;
        for _ in 0..HALVINGS {
            let middle = f64::midpoint(safe, too_bold);
            if self.outcome(middle).overshoots <= allowed { safe = middle } else { too_bold = middle }
        }
        self.outcome(safe)
    }

    /// Tries a pass out with this much more off each wall.
    pub(super) fn outcome(&self, offset: f64) -> Pass {
        let (low, high) = self.window;
        let mut pass = Pass { offset, lands: 0.0, overshoots: 0.0, cuts: 0.0, opens: 0.0 };
        for (particle, (stands, luck)) in self.filter.particles.iter().zip(&self.luck) {
            let engaged = particle.engaged(offset, *stands);
            let [front, back] = luck.taken(particle.share, engaged);
            let clearance = particle.clearance + front + back;
            pass.opens += particle.weight * (front + back);
            if clearance > high {
                pass.overshoots += particle.weight;
            } else if clearance >= low {
                pass.lands += particle.weight;
            }
            if cuts(engaged) {
                pass.cuts += particle.weight;
            }
        }
        pass
    }
}
