//! Reading what a person types at the machine.
//!
//! The grammar, settled for every face: an entry is a sum or difference of terms, a term is a number and perhaps a unit.
//!
//! - Numbers: `1.7394`, `12,5` (decimal comma; `.` and `,` in one entry are refused, thousands marks do not exist), `.5`,
//!   `3/16`, and mixed numbers `1-3/8` or `1 3/8`. A minus with blanks on both sides subtracts: `1 - 3/8` is 5/8. Blanks
//!   on one side only (`1 -3/8`) could mean either and are refused.
//! - Units: any common spelling, upper or lower case. A term without a unit takes the next unit to its right
//!   (`3/16 + 0.0005 in`), except that thou and um stand for their own term only, as people mean them: `1.25 - 3 thou`
//!   on an inch card is 1.247 in. With no such unit it takes the default.
//! - Refused with what would be right: exponents, hexadecimal, brackets, multiplication, "tenth", NaN, infinity, more than
//!   64 bytes, more than 15 digits in a number, a unit of another kind.
//!
//! Lengths are summed as exact fractions of a picometre. A decimal finer than a picometre is refused; a fraction that no
//! whole number of picometres gives (1/3 in) is rounded to the nearest one, halves away from zero. Other kinds keep their
//! exact decimal; a fraction without one is rounded to fifteen decimals.

mod degrees_minutes_seconds;
mod spellings;
mod term;

pub use degrees_minutes_seconds::read_degrees_minutes_seconds;

use super::exact::Exact;
use super::{Amount, Decimal, Dimension, Length, Quantity, Unit};
use term::Term;

/// The longest entry, in bytes.
pub const LONGEST_ENTRY: usize = 64;
/// The most digits in one number: what a double keeps.
pub const MOST_DIGITS: usize = 15;

/// About 9 km: up to here a whole number of picometres is exact in any JSON reader (RFC 7493: ±(2^53 - 1)).
const LONGEST_PICOMETRES: i128 = 9_007_199_254_740_991;

/// What could not be read, where, and what would be right.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{what} (character {column}). {hint}")]
pub struct Misread {
    /// The character at which reading stopped, counted from 1.
    pub column: usize,
    /// What is wrong.
    pub what: String,
    /// What would be right.
    pub hint: String,
}

impl Misread {
    fn new(column: usize, what: impl Into<String>, hint: impl Into<String>) -> Self {
        Self { column, what: what.into(), hint: hint.into() }
    }
}

/// Reads an entry of one kind; a number without a unit is in `default_unit`, which must be of that kind.
///
/// Never panics, whatever the text. What it returns is finite and says in [`Quantity::echo`] how it was understood.
pub fn read(text: &str, dimension: Dimension, default_unit: &'static Unit) -> Result<Quantity, Misread> {
    debug_assert_eq!(default_unit.dimension, dimension, "the default unit must be of the kind asked for");
    let trimmed = trimmed(text)?;
    let terms = term::terms(trimmed, dimension).map_err(|misread| shifted(misread, text))?;
    let units = resolved_units(&terms, default_unit).map_err(|misread| shifted(misread, text))?;
    let unit = units.first().copied().unwrap_or(default_unit);
    let amount = if dimension == Dimension::Length {
        Amount::Length(summed_length(&terms, &units)?)
    } else {
        Amount::Other(summed_decimal(&terms, &units)?)
    };
    Ok(Quantity::from_parts(trimmed.to_owned(), amount, unit))
}

fn trimmed(text: &str) -> Result<&str, Misread> {
    let trimmed = text.trim();
    if trimmed.is_empty() {
        return Err(Misread::new(1, "nothing was typed", "Type a number, such as 1.7394 or 1-3/8."));
    }
    if trimmed.len() > LONGEST_ENTRY {
        let hint = format!("Type one number or a short sum, at most {LONGEST_ENTRY} characters.");
        return Err(Misread::new(LONGEST_ENTRY + 1, "the entry is too long", hint));
    }
    Ok(trimmed)
}

/// Counts the blanks before the entry too, so that the column is the one on screen.
fn shifted(misread: Misread, text: &str) -> Misread {
    let blanks = text.chars().take_while(|letter| letter.is_whitespace()).count();
    Misread { column: misread.column + blanks, ..misread }
}

/// Gives each term its unit; the module's page has the rule.
fn resolved_units(terms: &[Term], default_unit: &'static Unit) -> Result<Vec<&'static Unit>, Misread> {
    let mut before: Option<&'static Unit> = None;
    let mut units = Vec::with_capacity(terms.len());
    for (index, term) in terms.iter().enumerate() {
        let after = terms.iter().skip(index + 1).filter_map(|later| later.unit).find(|unit| covers_others(unit));
        let unit = match (term.unit, after, before) {
            (Some(own), _, _) => own,
            (None, Some(after), _) => after,
            (None, None, Some(before)) if before != default_unit => {
                return Err(unit_missing(term, before, default_unit));
            }
            (None, None, _) => default_unit,
        };
        before = term.unit.or(before);
        units.push(unit);
    }
    Ok(units)
}

fn covers_others(unit: &Unit) -> bool {
    !(unit.dimension == Dimension::Length && matches!(unit.name, "thou" | "um"))
}

fn unit_missing(term: &Term, before: &Unit, default_unit: &Unit) -> Misread {
    let what = "this number has no unit and the one before it has another than the card";
    Misread::new(term.column, what, format!("Write {} or {} behind it.", before.name, default_unit.name))
}

fn summed_length(terms: &[Term], units: &[&'static Unit]) -> Result<Length, Misread> {
    let mut sum = Exact::ZERO;
    for (term, unit) in terms.iter().zip(units) {
        let picometres = unit.picometres().map(i128::from);
        let length = picometres.and_then(|picometres| term.number.times(picometres));
        sum = length.and_then(|length| sum.plus(length)).ok_or_else(|| too_many_digits(term))?;
    }
    let column = terms.first().map_or(1, |term| term.column);
    if !sum.is_whole() && !terms.iter().any(|term| term.is_fraction) {
        let hint = "Leave digits off: eight decimals of an inch, nine of a millimetre are the most.";
        return Err(Misread::new(column, "this is finer than a picometre", hint));
    }
    let picometres = sum.nearest_whole().filter(|picometres| picometres.abs() <= LONGEST_PICOMETRES);
    let picometres = picometres.and_then(|picometres| i64::try_from(picometres).ok());
    picometres
        .map(Length::from_picometres)
        .ok_or_else(|| Misread::new(column, "this length is beyond 9 km", "Look at the decimal point and the unit."))
}

fn summed_decimal(terms: &[Term], units: &[&'static Unit]) -> Result<Decimal, Misread> {
    let mut sum = Exact::ZERO;
    for (term, unit) in terms.iter().zip(units) {
        if units.first() != Some(unit) {
            let hint = "Type all numbers of the sum in one unit.";
            return Err(Misread::new(term.column, format!("{} is mixed with another unit", unit.name), hint));
        }
        sum = sum.plus(term.number).ok_or_else(|| too_many_digits(term))?;
    }
    decimal_of(sum).ok_or_else(|| Misread::new(1, "the sum has too many digits", "Type its result."))
}

fn decimal_of(exact: Exact) -> Option<Decimal> {
    exact.shortest(15).or_else(|| exact.shortest(6)).and_then(|text| Decimal::new(&text).ok())
}

fn too_many_digits(term: &Term) -> Misread {
    Misread::new(term.column, "the numbers have too many digits to be added exactly", "Type the sum's result.")
}

#[cfg(test)]
mod tests;
