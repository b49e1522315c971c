//! A quantity as a person typed it: the text, the amount and the unit.

use super::exact::Exact;
use super::{Dimension, Length, Unit};

/// A number that is no length: its exact decimal text and the nearest double, always finite.
#[derive(Debug, Clone, PartialEq)]
pub struct Decimal {
    text: String,
    value: f64,
}

/// The text is no plain decimal number, or is too large for a double.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("a decimal number is digits with at most one point, such as 37.595")]
pub struct NotADecimal;

impl Decimal {
    /// Reads plain decimal text: an optional `-`, digits, and a decimal point with digits if need be.
    pub fn new(text: &str) -> Result<Self, NotADecimal> {
        let digits = text.strip_prefix('-').unwrap_or(text);
        let (whole, part) = digits.split_once('.').unwrap_or((digits, "0"));
        let all_digits = |part: &str| !part.is_empty() && part.bytes().all(|byte| byte.is_ascii_digit());
        let value: f64 = text.parse().or(Err(NotADecimal))?;
        if all_digits(whole) && all_digits(part) && value.is_finite() {
            return Ok(Self { text: text.to_owned(), value });
        }
        Err(NotADecimal)
    }

    /// Returns the decimal text, with a point and an ASCII minus.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// Returns the double nearest to the text.
    pub const fn value(&self) -> f64 {
        self.value
    }
}

/// How much: an exact length, or a decimal number of the quantity's unit.
#[derive(Debug, Clone, PartialEq)]
pub enum Amount {
    /// A length, exact to the picometre.
    Length(Length),
    /// Anything else, in the unit of the quantity.
    Other(Decimal),
}

/// What a person typed, understood: the text, how much it is, and in which unit it was meant.
///
/// Only [`super::typed`] and the log's reader make one, so text, amount and unit always agree.
#[derive(Debug, Clone, PartialEq)]
pub struct Quantity {
    text: String,
    amount: Amount,
    unit: &'static Unit,
}

impl Quantity {
    pub(super) const fn from_parts(text: String, amount: Amount, unit: &'static Unit) -> Self {
        Self { text, amount, unit }
    }

    /// Returns the text as typed, without blanks round it.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// Returns how much it is.
    pub const fn amount(&self) -> &Amount {
        &self.amount
    }

    /// Returns the unit of the first number typed, or the default where none was typed.
    pub const fn unit(&self) -> &'static Unit {
        self.unit
    }

    /// Returns the exact length, and `None` for anything that is no length.
    pub const fn length(&self) -> Option<Length> {
        match &self.amount {
            Amount::Length(length) => Some(*length),
            Amount::Other(_) => None,
        }
    }

    /// Returns a whole number from 0 up, and `None` for anything else: how many pieces, which tool.
    pub fn count(&self) -> Option<u32> {
        match &self.amount {
            Amount::Other(decimal) if self.unit.dimension == Dimension::Ratio => decimal.text().parse().ok(),
            Amount::Other(_) | Amount::Length(_) => None,
        }
    }

    /// Returns the value in a unit of the same kind. For a length it is the double nearest to the exact value.
    ///
    /// Asking for a unit of another kind is a fault of the program; the value in the base unit comes back then.
    pub fn value_in(&self, unit: &'static Unit) -> f64 {
        debug_assert_eq!(unit.dimension, self.unit.dimension, "{} asked of a {}", unit.name, self.unit.name);
        match (&self.amount, unit.picometres()) {
            (Amount::Length(length), Some(picometres)) => ratio(length.picometres(), picometres),
            (Amount::Other(decimal), _) if std::ptr::eq(unit, self.unit) => decimal.value(),
            (Amount::Other(decimal), None) if unit.dimension == self.unit.dimension => {
                unit.from_base(self.unit.to_base(decimal.value()))
            }
            (Amount::Length(_), None) | (Amount::Other(_), _) => self.base_value(),
        }
    }

    /// Returns the value in the base unit of its kind: mm, deg, N, N m, degC, ...
    pub fn base_value(&self) -> f64 {
        match &self.amount {
            Amount::Length(length) => length.mm(),
            Amount::Other(decimal) => self.unit.to_base(decimal.value()),
        }
    }

    /// Says what was understood, to be shown before it is taken: "0.111 mm", "1.375 in (34.925 mm)".
    ///
    /// The other system of units is added wherever the value was not typed as a plain decimal of mm or in, "about"
    /// where it had to be rounded.
    pub fn echo(&self) -> String {
        let own = match &self.amount {
            Amount::Length(length) => length_text(*length, self.unit),
            Amount::Other(decimal) => decimal.text().to_owned(),
        };
        let own = super::print::with_unit(&own, self.unit);
        match self.other_system() {
            Some(other) => format!("{own} ({other})"),
            None => own,
        }
    }

    fn other_system(&self) -> Option<String> {
        let length = self.length()?;
        let plain = matches!(self.unit.name, "mm" | "in")
            && !self.text.contains('/')
            && !self.text.chars().skip(1).any(|letter| matches!(letter, '+' | '-' | '\u{2212}'));
        if plain {
            return None;
        }
        let (name, decimals) = if self.unit.name == "mm" { ("in", 5) } else { ("mm", 6) };
        let other = Unit::of(Dimension::Length, name)?;
        let exact = in_unit(length, other)?;
        let about = if exact.decimals(decimals).is_some() { "" } else { "about " };
        Some(format!("{about}{} {name}", exact.shortest(decimals)?))
    }
}

/// Ten decimals of an inch or twelve of a metre show every picometre.
fn length_text(length: Length, unit: &Unit) -> String {
    in_unit(length, unit).and_then(|exact| exact.shortest(12)).unwrap_or_else(|| super::print::shortest(length.mm()))
}

pub(super) fn in_unit(length: Length, unit: &Unit) -> Option<Exact> {
    Exact::new(i128::from(length.picometres()), i128::from(unit.picometres()?))
}

#[expect(clippy::cast_precision_loss, reason = "typed lengths stay below 2^53 pm, so one rounding remains")]
fn ratio(picometres: i64, unit: i64) -> f64 {
    picometres as f64 / unit as f64
}
