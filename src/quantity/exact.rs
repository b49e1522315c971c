//! Exact fractions, for sums of what a person types.

/// A fraction of two integers; the denominator is positive and the fraction is in its lowest terms.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Exact {
    numerator: i128,
    denominator: i128,
}

impl Exact {
    pub(super) const ZERO: Self = Self { numerator: 0, denominator: 1 };

    /// Returns the fraction, or `None` when the denominator is not positive.
    pub(super) fn new(numerator: i128, denominator: i128) -> Option<Self> {
        if denominator <= 0 {
            return None;
        }
        let divisor = greatest_common_divisor(numerator.unsigned_abs(), denominator.unsigned_abs());
        let divisor = i128::try_from(divisor).ok()?;
        Some(Self { numerator: numerator.checked_div(divisor)?, denominator: denominator.checked_div(divisor)? })
    }

    pub(super) fn plus(self, other: Self) -> Option<Self> {
        let left = self.numerator.checked_mul(other.denominator)?;
        let right = other.numerator.checked_mul(self.denominator)?;
        Self::new(left.checked_add(right)?, self.denominator.checked_mul(other.denominator)?)
    }

    pub(super) fn negated(self) -> Self {
        Self { numerator: -self.numerator, denominator: self.denominator }
    }

    pub(super) fn times(self, factor: i128) -> Option<Self> {
        Self::new(self.numerator.checked_mul(factor)?, self.denominator)
    }

    pub(super) fn over(self, divisor: i128) -> Option<Self> {
        Self::new(self.numerator, self.denominator.checked_mul(divisor)?)
    }

    pub(super) fn is_below_one(self) -> bool {
        self.numerator < self.denominator
    }

    pub(super) fn is_whole(self) -> bool {
        self.denominator == 1
    }

    /// Returns the nearest whole number, halves away from zero.
    pub(super) fn nearest_whole(self) -> Option<i128> {
        let doubled = self.numerator.checked_abs()?.checked_mul(2)?.checked_add(self.denominator)?;
        let magnitude = doubled.checked_div(self.denominator.checked_mul(2)?)?;
        Some(if self.numerator < 0 { -magnitude } else { magnitude })
    }

    /// Returns how many decimals write the fraction completely, if at most `most` do.
    pub(super) fn decimals(self, most: u32) -> Option<u32> {
        let mut left = self.denominator;
        for decimals in 0..=most {
            if left == 1 {
                return Some(decimals);
            }
            let divisor = greatest_common_divisor(left.unsigned_abs(), 10);
            left /= i128::try_from(divisor).ok()?;
        }
        None
    }

    /// Writes the fraction with a number of decimals, halves away from zero, never as "-0".
    pub(super) fn with_decimals(self, decimals: u32) -> Option<String> {
        let scale = 10_i128.checked_pow(decimals)?;
        let scaled = self.times(scale)?.nearest_whole()?;
        let sign = if scaled < 0 { "-" } else { "" };
        let magnitude = scaled.checked_abs()?;
        let (whole, part) = (magnitude / scale, magnitude % scale);
        if decimals == 0 {
            return Some(format!("{sign}{whole}"));
        }
        Some(format!("{sign}{whole}.{part:0width$}", width = usize::try_from(decimals).ok()?))
    }

    /// Writes the fraction completely where `most` decimals are enough, else rounded to `most` decimals; no zeros at the
    /// end.
    pub(super) fn shortest(self, most: u32) -> Option<String> {
        let text = self.with_decimals(self.decimals(most).unwrap_or(most))?;
        if !text.contains('.') {
            return Some(text);
        }
        let trimmed = text.trim_end_matches('0').trim_end_matches('.');
        Some(if trimmed == "-0" { "0".to_owned() } else { trimmed.to_owned() })
    }
}

fn greatest_common_divisor(mut a: u128, mut b: u128) -> u128 {
    while b != 0 {
        (a, b) = (b, a % b);
    }
    a
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn fractions_are_written_without_loss_where_decimals_end() {
        let sixty_fourth = Exact::new(1, 64).unwrap();
        assert_eq!(sixty_fourth.decimals(12), Some(6)); // arithmetic: 1/64 = 0.015625
        assert_eq!(sixty_fourth.shortest(12).unwrap(), "0.015625");
        assert_eq!(Exact::new(-1, 3).unwrap().shortest(4).unwrap(), "-0.3333");
        assert_eq!(Exact::new(1, 3).unwrap().decimals(12), None);
        assert_eq!(Exact::new(-1, 3000).unwrap().shortest(2).unwrap(), "0");
    }

    #[test]
    fn halves_round_away_from_zero_on_both_sides() {
        assert_eq!(Exact::new(5, 2).unwrap().nearest_whole(), Some(3));
        assert_eq!(Exact::new(-5, 2).unwrap().nearest_whole(), Some(-3));
    }

    #[test]
    fn what_does_not_fit_is_none_and_never_a_wrap() {
        let large = Exact::new(i128::MAX, 1).unwrap();
        assert_eq!(large.times(2), None);
        assert_eq!(large.plus(large), None);
        assert_eq!(Exact::new(1, 0), None);
    }
}
