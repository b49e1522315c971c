//! Comparing a reckoned number with a limit.

/// Returns whether a number is at most a limit; less than 1e-12 of the unit beyond it is noise of the arithmetic, so a
/// number that lies exactly on its limit is judged to lie on it.
pub(super) fn within(number: f64, limit: f64) -> bool {
    const NOISE: f64 = 1e-12;
    number <= limit + NOISE
}
