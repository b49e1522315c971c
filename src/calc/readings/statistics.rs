//! Mean, scatter and range of repeats, and how wide a range good repeats may have.

use crate::calc::limits;

/// Ranges of 2, 3, … 20 normal values, in standard deviations, that are not passed with the probability with which one
/// normal value stays within three standard deviations (0.997 300 203 937).
///
/// Solved with mpmath 1.3 from P(range ≤ w) = n ∫ φ(x) (Φ(x+w) − Φ(x))^(n−1) dx; `scipy.stats.studentized_range` of
/// scipy 1.17.1 agrees to 6e-7. The first is 3√2.
const RANGE_FACTORS: [f64; 19] = [
    4.242_640_687_119_3,
    4.678_733_472_165_8,
    4.938_484_804_865_9,
    5.123_168_556_623_2,
    5.265_997_394_506_1,
    5.382_140_033_857_4,
    5.479_806_887_321_1,
    5.563_941_733_324_3,
    5.637_749_887_039_9,
    5.703_426_236_896_9,
    5.762_538_473_277_2,
    5.816_244_538_060_4,
    5.865_423_477_882,
    5.910_758_009_404_2,
    5.952_788_693_913_5,
    5.991_950_671_007_4,
    6.028_599_274_065_6,
    6.063_028_330_063_7,
    6.095_483_511_942_4,
];

/// Returns the widest range that good repeats have, in the unit of the repeatability; 20 repeats stand for any more.
pub(super) fn range_limit(repeats: usize, repeatability: f64, display_step: f64) -> f64 {
    let row = repeats.saturating_sub(2).min(RANGE_FACTORS.len() - 1);
    let factor = RANGE_FACTORS.get(row).copied().unwrap_or_default();
    factor * repeatability + 2.0 * display_step
}

/// Returns whether the range of some readings is no wider than its limit.
pub(super) fn range_agrees(readings: &[f64], range: f64, limit: f64) -> bool {
    limits::difference_within(range, limit, limits::largest(readings))
}

/// Repeats of one thing, summed up in two passes over the readings.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::calc) struct Statistics {
    /// How many readings.
    pub count: f64,
    /// Their mean.
    pub mean: f64,
    /// Sum of the squared differences from the mean.
    pub squares: f64,
    /// Largest minus smallest.
    pub range: f64,
}

impl Statistics {
    /// Sums up at least one reading.
    ///
    /// The first pass finds the mean roughly; the second puts it right by the mean of what is left, and takes the same
    /// rounding off the squares, so that a long common part of the readings costs no digits.
    pub(in crate::calc) fn of(readings: &[f64]) -> Self {
        #[expect(clippy::cast_precision_loss, reason = "no list has 2^53 entries")]
        let count = readings.len() as f64;
        let rough = readings.iter().map(|reading| reading / count).sum::<f64>();
        let left: f64 = readings.iter().map(|reading| reading - rough).sum();
        let squares: f64 = readings.iter().map(|reading| (reading - rough).powi(2)).sum();
        let squares = squares - left * left / count;
        // Not `max`, which would turn squares beyond all numbers into no scatter at all.
        let squares = if squares < 0.0 { 0.0 } else { squares };
        Self { count, mean: rough + left / count, squares, range: range(readings) }
    }

    /// Returns the variance of one reading, or none for a single one.
    pub(super) fn variance(&self) -> Option<f64> {
        (self.count > 1.0).then(|| self.squares / (self.count - 1.0))
    }

    /// Returns the standard deviation of one reading, or none for a single one.
    pub(super) fn standard_deviation(&self) -> Option<f64> {
        self.variance().map(f64::sqrt)
    }
}

/// Returns the largest minus the smallest.
pub(super) fn range(readings: &[f64]) -> f64 {
    let largest = readings.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let smallest = readings.iter().copied().fold(f64::INFINITY, f64::min);
    largest - smallest
}

/// Returns the standard deviation of residuals with so many degrees of freedom, or none without any.
pub(super) fn root_of_mean_square(residuals: &[f64], degrees_of_freedom: usize) -> Option<f64> {
    #[expect(clippy::cast_precision_loss, reason = "no list has 2^53 entries")]
    let freedom = (degrees_of_freedom > 0).then_some(degrees_of_freedom as f64)?;
    Some((residuals.iter().map(|residual| residual * residual).sum::<f64>() / freedom).sqrt())
}

/// Returns the middle value, or the mean of the two middle ones; at least one reading is needed.
pub(super) fn median(readings: &[f64]) -> f64 {
    let mut sorted = readings.to_vec();
    sorted.sort_by(f64::total_cmp);
    let place = |index: usize| sorted.get(index).copied().unwrap_or(f64::NAN);
    f64::midpoint(place(readings.len().saturating_sub(1) / 2), place(readings.len() / 2))
}

#[cfg(test)]
mod tests {
    use statrs::distribution::{Continuous, ContinuousCDF, Normal};

    use super::*;

    /// Integral in the words of the table, by Simpson's rule; the normal distribution of the library is good to 1e-10.
    fn not_passed(repeats: i32, range: f64) -> f64 {
        const STEPS: i32 = 4000;
        let normal = Normal::standard();
        let step = 18.0 / f64::from(STEPS);
        let density = |x: f64| normal.pdf(x) * (normal.cdf(x + range) - normal.cdf(x)).powi(repeats - 1);
        let sum: f64 = (0..=STEPS)
            .map(|place| {
                let weight = if place == 0 || place == STEPS { 1.0 } else { f64::from(2 + 2 * (place % 2)) };
                weight * density(-12.0 + f64::from(place) * step)
            })
            .sum();
        f64::from(repeats) * sum * step / 3.0
    }

    // Distribution of the range of normal values, textbook integral; the table came from another program.
    #[test]
    fn the_range_factors_have_the_probability_of_three_standard_deviations() {
        for (repeats, factor) in (2..).zip(RANGE_FACTORS) {
            let probability = not_passed(repeats, factor);
            assert!((probability - 0.997_300_203_936_74).abs() < 1e-9, "{repeats}: {probability}");
        }
        assert!((RANGE_FACTORS[0] - 3.0 * 2.0_f64.sqrt()).abs() < 1e-12);
    }

    // Rule 9 of the catalogue: squares of 1e300 are beyond all numbers, which must end in a refusal and never in a zero.
    #[test]
    fn squares_beyond_all_numbers_are_not_taken_for_no_scatter() {
        for readings in [[-1e300, 0.0, 1e300], [8e300, 7e300, 1.0], [1e200, 1e200, -1e160]] {
            let deviation = Statistics::of(&readings).standard_deviation().unwrap();
            assert!(!deviation.is_finite(), "{readings:?}: {deviation}");
        }
        assert_eq!(Statistics::of(&[0.1; 7]).standard_deviation(), Some(0.0));
    }

    // Common practice: more repeats reach further out; more than 20 are judged like 20.
    #[test]
    fn more_repeats_may_spread_wider_until_twenty() {
        let limits: Vec<f64> = (2..=25).map(|repeats| range_limit(repeats, 1.0, 0.0)).collect();
        assert!(limits[..19].windows(2).all(|pair| pair[0] < pair[1]));
        assert!(limits[18..].windows(2).all(|pair| (pair[0] - pair[1]).abs() <= 0.0));
    }
}
