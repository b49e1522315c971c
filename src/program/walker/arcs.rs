//! Arcs and helices, by centre (I, J, K) or by radius (R).

use std::f64::consts::{PI, TAU};

use super::Walker;
use crate::program::block::Block;
use crate::program::modes::{Motion, Plane};
use crate::program::place::{Arc, Kind, Spot, Within, X, Y, Z, known};
use crate::program::trouble::Trouble;

/// How far the two ends of an arc may differ in their distance from its centre: RS274/NGC allows 0.002 mm, rounding of
/// inches to four places needs a little more.
const CLOSES_MM: f64 = 0.005;

impl Walker<'_> {
    pub(super) fn arc(&mut self, block: &Block) {
        let Motion::Arc(clockwise) = self.modes.motion else { return };
        let to = self.target(block, false);
        let kind = match self.arc_of(block, &to, clockwise) {
            Some(arc) => Kind::Arc(arc),
            None => Kind::Feed,
        };
        self.go(to, kind, Within::Block);
    }

    fn arc_of(&mut self, block: &Block, to: &Spot, clockwise: bool) -> Option<Arc> {
        // First and second axis of the plane, counted so that counter-clockwise takes the first to the second.
        let (first, second, offsets) = match self.modes.plane {
            Plane::Xy => (X, Y, [b'I', b'J']),
            Plane::Zx => (Z, X, [b'K', b'I']),
            Plane::Yz => (Y, Z, [b'J', b'K']),
        };
        let start = known(&self.spot, first).zip(known(&self.spot, second));
        let end = known(to, first).zip(known(to, second));
        let (Some(start), Some(end)) = (start, end) else { return None };
        let has_offset = offsets.iter().any(|letter| block.word(*letter).is_some());
        let radius = block.number_of(b'R').map(|radius| radius * self.unit());
        let centre = match (has_offset, radius) {
            (true, _) => {
                let [i, j] = offsets.map(|letter| block.number_of(letter).unwrap_or(0.0) * self.unit());
                Some((start.0 + i, start.1 + j))
            }
            (false, Some(radius)) => by_radius(start, end, radius, clockwise),
            (false, None) => None,
        };
        let Some(centre) = centre else {
            self.report(Trouble::ArcWithoutCentre);
            return None;
        };
        let (from, until) = (away(start, centre), away(end, centre));
        if (from - until).abs() > CLOSES_MM.max(1e-4 * from) {
            self.report(Trouble::ArcDoesNotClose { off: (from - until).abs() });
        }
        let plan = self.modes.plane == Plane::Xy;
        Some(Arc {
            centre: plan.then_some(centre),
            radius: from,
            sweep: sweep(start, end, centre, clockwise),
            clockwise,
        })
    }
}

fn away(point: (f64, f64), centre: (f64, f64)) -> f64 {
    (point.0 - centre.0).hypot(point.1 - centre.1)
}

/// Finds the centre from a radius; a negative one asks for the longer arc. A chord longer than the diameter by no more
/// than rounding is taken for a half circle.
fn by_radius(start: (f64, f64), end: (f64, f64), radius: f64, clockwise: bool) -> Option<(f64, f64)> {
    let (dx, dy) = (end.0 - start.0, end.1 - start.1);
    let chord = dx.hypot(dy);
    if chord < 1e-9 || radius.abs() < 1e-9 || chord / 2.0 > radius.abs() + CLOSES_MM {
        return None;
    }
    let height = (radius * radius - chord * chord / 4.0).max(0.0).sqrt();
    let side = if clockwise == (radius > 0.0) { -1.0 } else { 1.0 };
    let along = side * height / chord;
    Some((f64::midpoint(start.0, end.0) - dy * along, f64::midpoint(start.1, end.1) + dx * along))
}

/// Returns the angle turned; ends that coincide mean a whole turn.
fn sweep(start: (f64, f64), end: (f64, f64), centre: (f64, f64), clockwise: bool) -> f64 {
    let from = (start.1 - centre.1).atan2(start.0 - centre.0);
    let until = (end.1 - centre.1).atan2(end.0 - centre.0);
    let turned = if clockwise { from - until } else { until - from }.rem_euclid(TAU);
    if turned < 1e-9 || (start.0 - end.0).hypot(start.1 - end.1) < 1e-9 { TAU } else { turned.clamp(0.0, 2.0 * PI) }
}

#[cfg(test)]
mod tests {
    use super::*;

    // Schoolbook geometry: a quarter of a circle of radius 10 about the origin.
    #[test]
    fn a_quarter_circle_by_radius() {
        let centre = by_radius((10.0, 0.0), (0.0, 10.0), 10.0, false).unwrap();
        assert!(centre.0.abs() < 1e-12 && centre.1.abs() < 1e-12, "{centre:?}");
        assert!((sweep((10.0, 0.0), (0.0, 10.0), centre, false) - PI / 2.0).abs() < 1e-12);
        let longer = by_radius((10.0, 0.0), (0.0, 10.0), -10.0, true).unwrap();
        assert!(longer.0.abs() < 1e-12 && longer.1.abs() < 1e-12, "{longer:?}");
        assert!((sweep((10.0, 0.0), (0.0, 10.0), longer, true) - 1.5 * PI).abs() < 1e-12);
        let other = by_radius((10.0, 0.0), (0.0, 10.0), 10.0, true).unwrap();
        assert!((other.0 - 10.0).abs() < 1e-12 && (other.1 - 10.0).abs() < 1e-12, "{other:?}");
    }

    #[test]
    fn a_chord_that_is_too_long_has_no_centre_and_coinciding_ends_are_a_whole_turn() {
        assert_eq!(by_radius((0.0, 0.0), (21.0, 0.0), 10.0, false), None);
        assert_eq!(by_radius((0.0, 0.0), (0.0, 0.0), 10.0, false), None);
        assert!((sweep((1.0, 0.0), (1.0, 0.0), (0.0, 0.0), true) - TAU).abs() < 1e-12);
    }
}
