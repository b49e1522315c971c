//! Canned cycles G73, G81 to G86, G89: what one block of them does (RS274/NGC, NIST interpreter).

use super::Walker;
use crate::program::block::Block;
use crate::program::modes::{Motion, Plane};
use crate::program::place::{A, Kind, Place, Spot, Within, X, Y, Z, known};
use crate::program::trouble::Trouble;

/// How far above the last depth a peck comes back: 0.010 in in the NIST interpreter.
const PECK_RETURN_MM: f64 = 0.254;
/// More repeats in one block than this are not followed.
const MOST_REPEATS: u32 = 1000;

impl Walker<'_> {
    /// Carries out one block of the cycle in force.
    pub(super) fn cycle(&mut self, block: &Block) {
        let Motion::Cycle(code) = self.modes.motion else { return };
        self.called_before_motion(block);
        if self.modes.plane != Plane::Xy {
            self.report(Trouble::CycleWrong { what: "only the plane G17 is understood here" });
            return self.lose_place(block);
        }
        if block.word(b'A').is_some() {
            self.report(Trouble::IndexInCycle);
        }
        let to = self.target(block, false);
        self.keep_words(block);
        let Some((retract, bottom)) = self.depths(code) else {
            return self.lose_place(block);
        };
        let repeats = block.count_of(b'L').or_else(|| block.count_of(b'K')).unwrap_or(1);
        if repeats > MOST_REPEATS {
            self.report(Trouble::RepeatsTooOften);
        }
        let mut over = to;
        for turn in 0..repeats.min(MOST_REPEATS) {
            if turn > 0 && self.modes.is_incremental() {
                over = self.target(block, false);
            }
            self.drill(code, over, retract, bottom);
        }
    }

    /// Words that stay in force from block to block of a cycle.
    fn keep_words(&mut self, block: &Block) {
        let unit = self.unit();
        let length = |letter| block.number_of(letter).map(|number| number * unit);
        let words = &mut self.modes.cycle;
        words.bottom = length(b'Z').or(words.bottom);
        words.retract = length(b'R').or(words.retract);
        words.peck = length(b'Q').or(words.peck);
        words.dwell = block.number_of(b'P').or(words.dwell);
    }

    /// Returns R and the bottom as heights. In G91 R counts from where the cycle was called, Z from R.
    fn depths(&mut self, code: u32) -> Option<(f64, f64)> {
        let words = self.modes.cycle;
        let what = match (words.retract, words.bottom) {
            (None, _) => "R is missing",
            (_, None) => "Z is missing",
            _ if matches!(code, 730 | 830) && words.peck.is_none_or(|peck| peck <= 0.0) => {
                "Q is missing or not above zero"
            }
            _ if matches!(code, 820 | 890) && words.dwell.is_none() => "P is missing",
            (Some(retract), Some(bottom)) => {
                let (retract, bottom) = if self.modes.is_incremental() {
                    let from = self.modes.initial.at()?;
                    (from + retract, from + retract + bottom)
                } else {
                    (retract, bottom)
                };
                if retract >= bottom {
                    return Some((retract, bottom));
                }
                "R lies below the bottom"
            }
        };
        self.report(Trouble::CycleWrong { what });
        None
    }

    /// One hole: to the place, down to R, down to the bottom, out again.
    fn drill(&mut self, code: u32, over: Spot, retract: f64, bottom: f64) {
        let height = self.spot.get(Z).copied().unwrap_or_default();
        // Below R the tool first comes up to R.
        let safe = if known(&self.spot, Z).is_some_and(|now| now < retract) {
            self.go_to_height(Place::At(retract), Kind::Rapid, Within::Out);
            Place::At(retract)
        } else {
            height
        };
        let mut beside = over;
        if let Some(slot) = beside.get_mut(Z) {
            *slot = safe;
        }
        if [X, Y, A].iter().any(|axis| beside.get(*axis) != self.spot.get(*axis)) {
            self.go(beside, Kind::Rapid, Within::Approach);
        }
        self.go_to_height(Place::At(retract), Kind::Rapid, Within::Approach);
        let peck = if matches!(code, 730 | 830) { self.modes.cycle.peck } else { None };
        self.go_to_height(Place::At(bottom), Kind::Feed, Within::Down { peck });
        if matches!(code, 820 | 890) && self.modes.cycle.dwell.is_some_and(|seconds| seconds > 0.0) {
            self.report(Trouble::DwellInCut { hardens: self.card.part.material.work_hardens });
        }
        let up = match self.modes.initial {
            Place::At(initial) if !self.modes.to_retract && initial > retract => Place::At(initial),
            Place::Home if !self.modes.to_retract => Place::Home,
            _ => Place::At(retract),
        };
        let feeds_out = matches!(code, 840 | 850 | 890);
        if feeds_out {
            self.go_to_height(Place::At(retract), Kind::Feed, Within::Out);
        }
        self.go_to_height(up, Kind::Rapid, Within::Out);
    }

    fn go_to_height(&mut self, height: Place, kind: Kind, within: Within) {
        let mut to = self.spot;
        if let Some(slot) = to.get_mut(Z) {
            *slot = height;
        }
        if to != self.spot {
            self.go(to, kind, within);
        }
    }
}

/// Lists the pecks of G83 from R down to the bottom: the depth of each feed, and the height to which the rapid comes back
/// before the next. At most `most` of them.
pub(in crate::program) fn pecks(retract: f64, bottom: f64, peck: f64, most: usize) -> Vec<(f64, Option<f64>)> {
    let mut list = Vec::new();
    let mut depth = retract;
    while list.len() < most {
        depth -= peck;
        if depth <= bottom + 1e-9 || peck <= 0.0 {
            list.push((bottom, None));
            break;
        }
        list.push((depth, Some(depth + PECK_RETURN_MM)));
    }
    list
}

#[cfg(test)]
mod tests {
    use super::*;

    // NIST RS274/NGC interpreter, convert_cycle_g83_xy: R 2, Z -10, Q 4 (mm) feeds to -2, -6, -10 and comes back down to
    // -1.746 and -5.746.
    #[test]
    fn the_first_peck_counts_from_r() {
        let list = pecks(2.0, -10.0, 4.0, 100);
        let feeds: Vec<f64> = list.iter().map(|(feed, _)| *feed).collect();
        let back: Vec<f64> = list.iter().filter_map(|(_, back)| *back).collect();
        assert_eq!(feeds, [-2.0, -6.0, -10.0]);
        for (found, wanted) in back.iter().zip([-1.746, -5.746]) {
            assert!((found - wanted).abs() < 1e-12);
        }
        assert_eq!(back.len(), 2);
    }

    #[test]
    fn tiny_pecks_end() {
        assert_eq!(pecks(0.0, -1.0, 1e-300, 50).len(), 50);
        assert_eq!(pecks(0.0, -1.0, 0.0, 50), [(-1.0, None)]);
        assert_eq!(pecks(0.0, -1.0, 5.0, 50), [(-1.0, None)]);
    }
}
