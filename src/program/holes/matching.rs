//! Compares what is cut with the features of the card.

use super::Cut;
use crate::program::expected::{Expected, Hole};
use crate::program::place::{A, Move, X, Y, known};
use crate::program::reports::Reports;
use crate::program::trouble::{Flip, Trouble};

/// Strokes nearer than this belong to one hole.
pub(super) const SAME_SPOT_MM: f64 = 0.005;
/// A hole further than this from every feature matches none, for small features.
const REACH_MM: f64 = 3.0;
/// A depth may differ by so much from the card's (common practice: a card gives no tolerance of depth).
const DEPTH_MM: f64 = 0.1;
/// A diameter may differ by so much from the card's, where the card gives no window (common practice).
const SIZE_MM: f64 = 0.05;
/// A share of the zone beside its place from which a hole is worth a look.
const SHARE_OF_ZONE: f64 = 0.25;

/// Returns whether two strokes belong to one hole; a circle takes in what was cut inside it.
pub(super) fn same_spot(open: &Cut, cut: &Cut) -> bool {
    let reach = open.bored.or(cut.bored).map_or(SAME_SPOT_MM, |bored| bored / 2.0);
    let same_a = match (open.a, cut.a) {
        (Some(one), Some(other)) => (one - other).abs() < 1e-6,
        (one, other) => one.is_none() && other.is_none(),
    };
    same_a && (open.x - cut.x).hypot(open.y - cut.y) <= reach
}

/// How far a cut lies from a feature: beside it, and round the axis on its surface.
struct Distance {
    beside: f64,
    turned: f64,
}

impl Distance {
    fn of(cut: &Cut, hole: &Hole) -> Self {
        // A program that never commands A is compared as if it stood where the feature wants it.
        let angle = cut.a.map_or(0.0, |a| (a - hole.a + 180.0).rem_euclid(360.0) - 180.0);
        Self { beside: (cut.x - hole.x).hypot(cut.y - hole.y), turned: hole.radius * angle.to_radians() }
    }

    fn whole(&self) -> f64 {
        self.beside.hypot(self.turned)
    }
}

/// Finds the feature that a cut belongs to: the nearest within reach, its own tool first where two are as near.
fn nearest<'e>(cut: &Cut, expected: &'e Expected) -> Option<(usize, &'e Hole, Distance)> {
    let within = expected.holes.iter().enumerate().map(|(place, hole)| (place, hole, Distance::of(cut, hole)));
    within
        .filter(|(_, hole, distance)| distance.whole() <= hole.diameter.max(REACH_MM))
        .min_by(|(_, _, one), (_, _, other)| one.whole().total_cmp(&other.whole()))
}

/// Compares a hole with its feature. Returns the place of the feature on the card when it is cut by this.
pub(super) fn judge(cut: &Cut, expected: &Expected, reports: &mut Reports) -> Option<usize> {
    let Some((place, hole, distance)) = nearest(cut, expected) else {
        reports.add(cut.at, Trouble::HoleUnknown { x: cut.x, y: cut.y, a: cut.a.unwrap_or(0.0) });
        return None;
    };
    position(cut, hole, &distance, reports);
    let is_its_own = cut.tool == Some(hole.tool) || cut.bored.is_some();
    size(cut, hole, is_its_own, reports);
    let too_deep = cut.bottom < hole.bottom - DEPTH_MM;
    let too_shallow = is_its_own && cut.bored.is_none() && cut.bottom > hole.bottom + DEPTH_MM;
    if too_deep || too_shallow {
        let feature = hole.id.clone();
        reports.add(cut.at, Trouble::HoleDepth { feature, found: cut.bottom, wanted: hole.bottom });
    }
    is_its_own.then_some(place)
}

fn position(cut: &Cut, hole: &Hole, distance: &Distance, reports: &mut Reports) {
    let (zone, feature) = (hole.zone, hole.id.clone());
    let turned = distance.turned.abs();
    if turned > SHARE_OF_ZONE * zone {
        let found = cut.a.unwrap_or(0.0);
        reports.add(cut.at, Trouble::HoleAngle { feature: feature.clone(), found, wanted: hole.a, off: turned, zone });
    }
    if distance.beside > SHARE_OF_ZONE * zone {
        reports.add(cut.at, Trouble::HolePosition { feature, off: distance.beside, zone });
    }
}

fn size(cut: &Cut, hole: &Hole, is_its_own: bool, reports: &mut Reports) {
    let Some(found) = cut.bored.or(cut.cutter) else { return };
    let (smallest, largest) = hole.window.unwrap_or((hole.diameter - SIZE_MM, hole.diameter + SIZE_MM));
    // A bore cut to size is drilled smaller first; another tool may open a hole that its own finishes.
    let too_small = found < smallest - SIZE_MM && is_its_own && hole.window.is_none();
    if found > largest + 1e-6 || too_small {
        reports.add(cut.at, Trouble::HoleSize { feature: hole.id.clone(), found, wanted: hole.diameter });
    }
}

/// A circle that is milled: the cutter must fit into the pocket.
pub(super) fn pocket(cut: &Cut, expected: &Expected, reports: &mut Reports) {
    let Some((_, hole, _)) = nearest(cut, expected) else { return };
    if let Some(cutter) = cut.cutter.filter(|cutter| *cutter >= hole.diameter) {
        reports.add(cut.at, Trouble::CutterTooLarge { cutter, pocket: hole.diameter });
    }
}

/// A cut sideways must stay inside a feature.
pub(super) fn sideways(cut: &Cut, one: &Move, expected: &Expected, reports: &mut Reports) {
    if expected.holes.is_empty() {
        return;
    }
    let half = cut.cutter.unwrap_or(0.0) / 2.0;
    let stays_in = |x: f64, y: f64, a: Option<f64>| {
        let there = Cut { x, y, a, ..*cut };
        nearest(&there, expected)
            .is_some_and(|(_, hole, distance)| distance.whole() + half <= hole.diameter / 2.0 + SIZE_MM)
    };
    let begins = known(&one.from, X).zip(known(&one.from, Y));
    let begins_in = begins.is_none_or(|(x, y)| stays_in(x, y, known(&one.from, A)));
    if !(begins_in && stays_in(cut.x, cut.y, cut.a)) {
        reports.add(cut.at, Trouble::CutUnknown { x: cut.x, y: cut.y, a: cut.a });
    }
}

/// A cut with one sign the other way.
type Turned = fn(&Cut) -> Cut;

/// Returns the sign that, turned, makes more holes match than match as they are.
pub(super) fn mirrored(cuts: &[Cut], expected: &Expected) -> Option<Flip> {
    let flips: [(Flip, Turned); 3] = [
        (Flip::Angles, |cut| Cut { a: cut.a.map(|a| -a), ..*cut }),
        (Flip::Across, |cut| Cut { y: -cut.y, ..*cut }),
        (Flip::Along, |cut| Cut { x: -cut.x, ..*cut }),
    ];
    let as_it_is = matches(cuts, expected, |cut| *cut);
    let best = flips.into_iter().map(|(flip, turned)| (flip, matches(cuts, expected, turned)));
    best.max_by_key(|(_, count)| *count).filter(|(_, count)| *count > as_it_is).map(|(flip, _)| flip)
}

/// Counts the features that a hole of their own tool hits.
fn matches(cuts: &[Cut], expected: &Expected, turned: impl Fn(&Cut) -> Cut) -> usize {
    let hits =
        |hole: &Hole, cut: &Cut| cut.tool == Some(hole.tool) && Distance::of(cut, hole).whole() <= hole.zone / 2.0;
    expected.holes.iter().filter(|hole| cuts.iter().any(|cut| hits(hole, &turned(cut)))).count()
}
