//! How much readings of a level scatter: what was assumed, what the repeats show, and what is to be reckoned with.

use statrs::distribution::{ChiSquared, ContinuousCDF};

/// What is reckoned with.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Noise {
    /// Variance of one reading.
    pub(super) variance: f64,
    /// Degrees of freedom of that variance.
    pub(super) freedom: f64,
    /// Variance of one reading that the repeats show, when there are any.
    pub(super) found: Option<f64>,
    /// Whether the repeats scatter more than was assumed.
    pub(super) exceeds: bool,
}

/// How many readings what was assumed beforehand is worth.
const WORTH_OF_ASSUMED: f64 = 10.0;
/// Repeats as wide as these come by chance once in a hundred levels.
const BY_CHANCE: f64 = 0.01;

/// Weighs the repeats (their squares about their own means, and the degrees of freedom) against what was assumed.
///
/// Rounding by the display is in the repeats, so it is allowed for in what was assumed. When the repeats scatter too much
/// for chance, what was assumed no longer counts.
pub(super) fn noise(assumed: f64, display_step: f64, squares: f64, freedom: f64) -> Noise {
    let expected = assumed + display_step.powi(2) / 12.0;
    if freedom < 1.0 {
        return Noise { variance: assumed, freedom: WORTH_OF_ASSUMED, found: None, exceeds: false };
    }
    let found = squares / freedom;
    if found > expected && beyond(squares / expected, freedom) < BY_CHANCE {
        return Noise { variance: found, freedom, found: Some(found), exceeds: true };
    }
    let joined = (WORTH_OF_ASSUMED * assumed + squares) / (WORTH_OF_ASSUMED + freedom);
    Noise { variance: joined, freedom: WORTH_OF_ASSUMED + freedom, found: Some(found), exceeds: false }
}

/// Returns the probability of a sum of squares beyond this one.
fn beyond(squares: f64, freedom: f64) -> f64 {
    ChiSquared::new(freedom).map_or(1.0, |distribution| distribution.sf(squares))
}
