//! Comparing a reckoned number with a limit.
//!
//! The arithmetic may miss a limit by its last bits. What is forgiven is a share of the numbers compared, never a fixed
//! length: inputs of any size are judged alike.

/// Returns whether a number is at most a limit; up to 1e-12 of the limit beyond it is noise of the arithmetic, so a
/// number that lies exactly on its limit is judged to lie on it.
///
/// For a limit of zero this is the plain comparison; a number that is a small difference of large ones belongs to
/// [`difference_within`].
pub(super) fn within(number: f64, limit: f64) -> bool {
    const NOISE: f64 = 1e-12;
    number <= limit + NOISE * limit.abs()
}

/// Returns whether a difference is at most a limit; the last bits of the quantities that it is the difference of, the
/// largest of which is given, are noise.
pub(super) fn difference_within(difference: f64, limit: f64, largest: f64) -> bool {
    within(difference, limit + noise_of(largest))
}

/// Returns how far a sum or difference of a few quantities may be off by rounding, for the largest of them.
pub(super) fn noise_of(largest: f64) -> f64 {
    const LAST_BITS: f64 = 8.0 * f64::EPSILON;
    LAST_BITS * largest.abs()
}

/// Returns the largest of some numbers without their signs.
pub(super) fn largest(numbers: &[f64]) -> f64 {
    numbers.iter().fold(0.0, |largest, number| number.abs().max(largest))
}

#[cfg(test)]
mod tests {
    use super::*;

    // By hand: 0.1 + 0.2 is one bit above 0.3, and 200.3 - 200.2 is 100 bits off 0.1.
    #[test]
    fn a_number_on_its_limit_is_within_whatever_its_size() {
        for scale in [1e-25, 1e-13, 1.0, 1e13] {
            assert!(within(scale * (0.1 + 0.2), scale * 0.3) && !within(scale * 0.300_000_001, scale * 0.3));
            let difference = scale * 200.3 - scale * 200.2;
            assert!(difference_within(difference, scale * 0.1, scale * 200.3), "{scale}");
            assert!(!difference_within(difference, scale * 0.099_999_9, scale * 200.3), "{scale}");
            assert!(!within(scale, 0.0) && !within(-scale, -2.0 * scale));
        }
        assert!(within(0.0, 0.0) && within(-1.0, -1.0) && !within(f64::INFINITY, 1e300));
    }
}
