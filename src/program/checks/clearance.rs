//! Clearance: rapids near the work, rapids into it, and the fixture (D15, D19, mistakes 37, 38, 45).
//!
//! Seen along the axis the part is a circle. A rapid need not go in a straight line, so the whole box between its ends is
//! looked at.

use crate::program::place::{A, Move, X, Y, known};
use crate::program::trouble::Trouble;
use crate::program::walker::Walker;

/// What rounding may take away.
const HAIR_MM: f64 = 1e-6;
/// A rapid that ends this little below the surface still only touches it: the program's rounding.
const TOUCHES_MM: f64 = 0.01;

pub(super) fn look(walker: &mut Walker<'_>, one: &Move) {
    let Some(lowest) = one.lowest() else { return };
    let Some((beside, half)) = nearness(walker, one) else { return };
    if over_fixture(walker, one, half) && lowest < surface_height(walker.expected.swing, beside) - HAIR_MM {
        walker.report(Trouble::IntoFixture { height: lowest, swing: walker.expected.swing });
        return;
    }
    if !one.is_rapid() || goes_straight_up(one) {
        return;
    }
    let radius = walker.expected.part_radius;
    let clearance = walker.card.first_run.clearance.mm();
    let surface = surface_height(radius, beside);
    if beside >= radius + clearance || lowest >= walker.expected.clearance_plane - HAIR_MM {
        return;
    }
    if lowest < surface - TOUCHES_MM && beside < radius {
        if !walker.holes.is_inside(one) {
            walker.report(Trouble::RapidIntoWork { depth: surface - lowest });
        }
        return;
    }
    // Beside the part the gap is the straight distance to it.
    let gap = if lowest > 0.0 { beside.hypot(lowest) - radius } else { beside - radius };
    if gap < clearance - HAIR_MM && !walker.holes.is_inside(one) {
        walker.report(Trouble::RapidLow { gap, clearance });
    }
}

/// Returns the height of a round surface beside its middle; nothing stands beside the circle.
fn surface_height(radius: f64, beside: f64) -> f64 {
    if beside < radius { (radius * radius - beside * beside).sqrt() } else { f64::NEG_INFINITY }
}

/// Returns how near the tool's edge comes to the plane through the axis, and the tool's radius.
fn nearness(walker: &Walker<'_>, one: &Move) -> Option<(f64, f64)> {
    let half = walker.modes.tool.and_then(|tool| walker.expected.tool(tool)).map_or(0.0, |tool| tool.diameter / 2.0);
    known(&one.to, Y)?;
    Some(((one.nearest_y() - half).max(0.0), half))
}

fn over_fixture(walker: &Walker<'_>, one: &Move, half: f64) -> bool {
    let Some((low, high)) = one.range_x() else { return false };
    let sign = walker.expected.top_sign;
    let nearest = (sign * low).min(sign * high) - half;
    let farthest = (sign * low).max(sign * high) + half;
    farthest > 0.0 && nearest < walker.expected.fixture_along - HAIR_MM
}

fn goes_straight_up(one: &Move) -> bool {
    !one.moves(X) && !one.moves(Y) && !one.moves(A) && one.step(crate::program::place::Z).is_some_and(|step| step > 0.0)
}

/// Returns whether a move comes below the surface of the part.
pub(super) fn is_in_metal(walker: &Walker<'_>, one: &Move) -> bool {
    let (Some(lowest), Some((beside, _))) = (one.lowest(), nearness(walker, one)) else { return false };
    lowest < surface_height(walker.expected.part_radius, beside) - TOUCHES_MM
}

#[cfg(test)]
mod tests {
    use super::*;

    // Schoolbook: 3, 4, 5.
    #[test]
    fn a_round_surface_falls_away_to_the_side() {
        assert!((surface_height(5.0, 3.0) - 4.0).abs() < 1e-12);
        assert!(surface_height(5.0, 5.0) < -1e300);
    }
}
