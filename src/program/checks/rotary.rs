//! The rotary: safe height, forbidden ranges, the long way round, hoses (D15, mistakes 30, 36, 37).

use crate::program::expected::Forbidden;
use crate::program::place::{A, Move, Place, X, Y, Z, known};
use crate::program::trouble::Trouble;
use crate::program::walker::Walker;

/// A turn of more than this has a shorter way.
const HALF_TURN: f64 = 180.0;
/// Angles nearer than this are the same.
const SAME: f64 = 1e-6;

/// Where the rotary began.
#[derive(Debug, Default)]
pub(super) struct Turned {
    began: Option<f64>,
    wound: bool,
}

pub(super) fn look(walker: &mut Walker<'_>, one: &Move) {
    if !one.moves(A) {
        return;
    }
    height(walker, one);
    if !one.is_rapid() && (one.moves(X) || one.moves(Y) || one.moves(Z)) {
        walker.report(Trouble::IndexInCut);
    }
    let Some(to) = known(&one.to, A) else { return };
    let from = known(&one.from, A);
    ranges(walker, from, to);
    turns(walker, from, to);
}

/// The tip must be above everything that swings on the whole way.
fn height(walker: &mut Walker<'_>, one: &Move) {
    let safe = walker.expected.index_height;
    let ends = [one.from.get(Z), one.to.get(Z)].map(|place| place.copied().unwrap_or_default());
    let lowest = ends.iter().filter_map(|place| place.at()).reduce(f64::min);
    if ends.contains(&Place::Unknown) {
        walker.report(Trouble::IndexTooLow { height: None, safe });
    } else if let Some(height) = lowest.filter(|height| *height < safe - SAME) {
        walker.report(Trouble::IndexTooLow { height: Some(height), safe });
    }
}

fn ranges(walker: &mut Walker<'_>, from: Option<f64>, to: f64) {
    let touched = walker.expected.forbidden.iter().find(|range| passes(range, from.unwrap_or(to), to));
    if let Some(Forbidden { what, from, to }) = touched.cloned() {
        walker.report(Trouble::IndexForbidden { what, from, to });
    }
}

/// Returns whether a turn from one angle to another, in the direction commanded, comes into a range that goes round the
/// circle.
fn passes(range: &Forbidden, from: f64, to: f64) -> bool {
    let (low, high) = (from.min(to), from.max(to));
    let width = (range.to - range.from).rem_euclid(360.0);
    if high - low >= 360.0 {
        return true;
    }
    // Counted from the start of the range, the turn begins at `start`; it is inside at once, or reaches the next round.
    let start = (low - range.from).rem_euclid(360.0);
    start < width || start + (high - low) > 360.0
}

fn turns(walker: &mut Walker<'_>, from: Option<f64>, to: f64) {
    let began = *walker.watch.rotary.began.get_or_insert(from.unwrap_or(to));
    let Some(from) = from else { return };
    let turned = to - from;
    // Going back to where it began unwinds the hoses, however far that is.
    let unwinds = (to - began).abs() < SAME;
    if turned.abs() > HALF_TURN + SAME && !unwinds {
        walker.report(Trouble::IndexLongWay { turns: turned });
    }
    let wound = (to - began).abs() > 360.0 + SAME;
    if wound && !walker.watch.rotary.wound {
        walker.report(Trouble::IndexWinds { turned: to - began });
    }
    walker.watch.rotary.wound = wound;
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_turn_passes_a_range_round_the_circle() {
        let range = |from, to| Forbidden { what: String::new(), from, to };
        assert!(passes(&range(80.0, 100.0), 0.0, 90.0));
        assert!(passes(&range(80.0, 100.0), 180.0, 0.0));
        assert!(!passes(&range(80.0, 100.0), 100.0, 300.0));
        assert!(!passes(&range(80.0, 100.0), 0.0, 79.0));
        assert!(passes(&range(350.0, 10.0), -20.0, -5.0));
        assert!(passes(&range(350.0, 10.0), 340.0, 365.0));
        assert!(passes(&range(350.0, 10.0), 5.0, 5.0));
        assert!(!passes(&range(350.0, 10.0), 20.0, 20.0));
        assert!(passes(&range(200.0, 210.0), 220.0, 580.0));
    }
}
