//! Exact lengths.

use std::fmt;
use std::ops::{Add, Neg, Sub};

const PICOMETRES_PER_MILLIMETRE: i64 = 1_000_000_000;
const PICOMETRES_PER_INCH: i64 = 25_400_000_000;

/// A length, exact to the picometre, within ±9,200 km.
///
/// Every decimal inch down to 1e-8 in, every sixty-fourth of an inch and every decimal millimetre down to 1e-9 mm is
/// held without rounding, so a reading that lies exactly on its limit is judged to lie on it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Length(i64);

/// The length does not fit into ±9,200 km, or is no number.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("a length must lie between -9,200 km and 9,200 km")]
pub struct LengthOutOfRange;

impl Length {
    /// No length at all.
    pub const ZERO: Self = Self(0);

    /// Holds a whole number of picometres.
    pub const fn from_picometres(picometres: i64) -> Self {
        Self(picometres)
    }

    /// Returns the whole number of picometres.
    pub const fn picometres(self) -> i64 {
        self.0
    }

    /// Holds the nearest picometre to a number of millimetres.
    pub fn from_mm(millimetres: f64) -> Result<Self, LengthOutOfRange> {
        let picometres = (millimetres * 1e9).round();
        if picometres.is_finite() && picometres.abs() < 9.2e18 {
            #[expect(clippy::cast_possible_truncation, reason = "the range was checked on the line above")]
            return Ok(Self(picometres as i64));
        }
        Err(LengthOutOfRange)
    }

    /// Returns the double nearest to this length in millimetres.
    #[expect(clippy::cast_precision_loss, reason = "a double is what calculations take; entries keep the integer")]
    pub fn mm(self) -> f64 {
        self.0 as f64 / PICOMETRES_PER_MILLIMETRE as f64
    }

    /// Returns the double nearest to this length in inches.
    #[expect(clippy::cast_precision_loss, reason = "a double is what calculations take; entries keep the integer")]
    pub fn inches(self) -> f64 {
        self.0 as f64 / PICOMETRES_PER_INCH as f64
    }

    /// Returns the length without its sign.
    #[must_use]
    pub const fn abs(self) -> Self {
        Self(self.0.saturating_abs())
    }
}

impl Neg for Length {
    type Output = Self;
    fn neg(self) -> Self {
        Self(self.0.saturating_neg())
    }
}

impl Add for Length {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0.saturating_add(other.0))
    }
}

impl Sub for Length {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0.saturating_sub(other.0))
    }
}

impl fmt::Display for Length {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(formatter, "{} mm", self.mm())
    }
}
