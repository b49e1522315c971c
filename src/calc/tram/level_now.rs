//! How level the pads are as they stand now: the readings in place, helped by what the other tries foretell.

use super::level_line::{Line, Seen};

/// The difference as it stands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Now {
    /// Rear minus front, millimetres.
    pub(super) difference: f64,
    /// Its variance.
    pub(super) variance: f64,
    /// Whether the readings in place fit what the other tries foretell.
    pub(super) as_foretold: bool,
}

/// How many deviations the readings in place may lie off what the other tries foretell.
const FURTHEST_FROM_FORETOLD: f64 = 3.0;

/// Joins the readings of the newest try (variance without the rotary's repeat) with what the others foretell.
///
/// The rotary's repeat at the newest try is part of what stands there now, so it widens only what is foretold.
pub(super) fn now(line: &Line, newest: &Seen, share: f64, in_place: f64) -> Now {
    let alone = |as_foretold| Now { difference: newest.difference, variance: in_place, as_foretold };
    let (fitted, fitted_variance) = line.at(newest.turned);
    let own = share / newest.variance;
    let others = fitted_variance.recip() - own;
    if others <= own * 1e-9 {
        return alone(true);
    }
    let foretold = (fitted / fitted_variance - newest.difference * own) / others;
    let repeat = (newest.variance - in_place).max(0.0);
    let spread = others.recip() + repeat;
    let off = newest.difference - foretold;
    if off.abs() > FURTHEST_FROM_FORETOLD * (spread + in_place).sqrt() {
        return alone(false);
    }
    let gain = spread / (spread + in_place);
    Now { difference: foretold + gain * off, variance: gain * in_place, as_foretold: true }
}
