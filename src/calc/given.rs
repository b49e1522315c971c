//! The inputs of a calculation after they have been read and checked.

use super::contract::{Input, InputKind};
use super::refused::Refused;

/// One input as it was read, in the unit of its key.
#[derive(Debug)]
pub(super) enum Entry {
    /// Left out, and no default stands in.
    Absent,
    /// A quantity, a count, or degrees of freedom (infinity for "infinite").
    Number(f64),
    /// A list, a vector, or points one after the other.
    Numbers(Vec<f64>),
    /// One of the declared words.
    Word(&'static str),
    /// Free text.
    Text(String),
    /// Objects with fields.
    Records(Vec<Given>),
}

/// The inputs of a calculation: read, changed into the units of their keys, and within their limits.
///
/// Every number is finite, except that infinitely many degrees of freedom are infinity. Asking for a key that is not
/// declared, or for another sort of thing, is a fault of the calculation and comes back as a refusal.
#[derive(Debug)]
pub struct Given {
    inputs: &'static [Input],
    entries: Vec<Entry>,
}

impl Given {
    /// Holds one entry for each declared input, in the declared order.
    pub(super) fn new(inputs: &'static [Input], entries: Vec<Entry>) -> Self {
        Self { inputs, entries }
    }

    /// Finds the entry of a key.
    pub(super) fn entry(&self, key: &str) -> Option<&Entry> {
        self.inputs.iter().zip(&self.entries).find(|(input, _)| input.key == key).map(|(_, entry)| entry)
    }

    /// Returns a quantity, a count or degrees of freedom.
    pub fn number(&self, key: &str) -> Result<f64, Refused> {
        match self.entry(key) {
            Some(Entry::Number(number)) => Ok(*number),
            _ => Err(Refused::undeclared(key)),
        }
    }

    /// Returns a quantity that may be left out.
    pub fn optional_number(&self, key: &str) -> Result<Option<f64>, Refused> {
        match self.entry(key) {
            Some(Entry::Number(number)) => Ok(Some(*number)),
            Some(Entry::Absent) => Ok(None),
            _ => Err(Refused::undeclared(key)),
        }
    }

    /// Returns a whole number as an unsigned integer; for counts whose limits keep them between 0 and 4,294,967,295.
    pub fn small_count(&self, key: &str) -> Result<u32, Refused> {
        let number = self.number(key)?;
        if !(0.0..=f64::from(u32::MAX)).contains(&number) {
            return Err(Refused::new(key, format!("{key} must lie between 0 and {}.", u32::MAX)));
        }
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "the range was checked above")]
        Ok(number as u32)
    }

    /// Returns a list of quantities or of whole numbers.
    pub fn numbers(&self, key: &str) -> Result<&[f64], Refused> {
        match self.entry(key) {
            Some(Entry::Numbers(numbers)) => Ok(numbers),
            _ => Err(Refused::undeclared(key)),
        }
    }

    /// Returns a vector of `N` numbers.
    pub fn vector<const N: usize>(&self, key: &str) -> Result<[f64; N], Refused> {
        self.optional_vector(key)?.ok_or_else(|| Refused::undeclared(key))
    }

    /// Returns a vector of `N` numbers that may be left out.
    pub fn optional_vector<const N: usize>(&self, key: &str) -> Result<Option<[f64; N]>, Refused> {
        match self.entry(key) {
            Some(Entry::Absent) => Ok(None),
            Some(Entry::Numbers(numbers)) => {
                numbers.first_chunk::<N>().copied().map(Some).ok_or_else(|| Refused::undeclared(key))
            }
            _ => Err(Refused::undeclared(key)),
        }
    }

    /// Returns a list of points of `N` numbers each.
    pub fn points<const N: usize>(&self, key: &str) -> Result<&[[f64; N]], Refused> {
        let (points, rest) = self.numbers(key)?.as_chunks::<N>();
        if rest.is_empty() { Ok(points) } else { Err(Refused::undeclared(key)) }
    }

    /// Returns the word that was chosen.
    pub fn word(&self, key: &str) -> Result<&'static str, Refused> {
        match self.entry(key) {
            Some(Entry::Word(word)) => Ok(word),
            _ => Err(Refused::undeclared(key)),
        }
    }

    /// Returns +1 for 'right-hand' and -1 for 'left-hand': the right-hand turn of the work about +X in degrees is this
    /// times the index angle.
    pub fn work_turns(&self) -> Result<f64, Refused> {
        Ok(if self.word("work_turns")? == "right-hand" { 1.0 } else { -1.0 })
    }

    /// Returns a piece of text.
    pub fn text(&self, key: &str) -> Result<&str, Refused> {
        match self.entry(key) {
            Some(Entry::Text(text)) => Ok(text),
            _ => Err(Refused::undeclared(key)),
        }
    }

    /// Returns the key of a number, other than zero, that nothing in a workshop has, in whatever unit: with such numbers
    /// a product may vanish on the way. Degrees of freedom, directions, and shares and angles with limits on both sides
    /// are no sizes.
    pub(super) fn beyond_all_sizes(&self) -> Option<&'static str> {
        let is_bounded = |input: &Input| {
            let bounds = &input.bounds;
            matches!(input.unit, "1" | "deg")
                && bounds.above.or(bounds.at_least).is_some()
                && bounds.below.or(bounds.at_most).is_some()
        };
        let sized = self.inputs.iter().zip(&self.entries).filter(|(input, _)| match input.kind {
            _ if is_bounded(input) => false,
            InputKind::DegreesOfFreedom => false,
            InputKind::Vector(_) => input.unit != "1",
            _ => true,
        });
        let mut beyond = sized.filter(|(_, entry)| match entry {
            Entry::Number(number) => is_beyond_all_sizes(*number),
            Entry::Numbers(numbers) => numbers.iter().any(|number| is_beyond_all_sizes(*number)),
            Entry::Records(records) => records.iter().any(|record| record.beyond_all_sizes().is_some()),
            Entry::Absent | Entry::Word(_) | Entry::Text(_) => false,
        });
        beyond.next().map(|(input, _)| input.key)
    }

    /// Returns a list of records; their fields are asked for in the same way.
    pub fn records(&self, key: &str) -> Result<&[Self], Refused> {
        match self.entry(key) {
            Some(Entry::Records(records)) => Ok(records),
            _ => Err(Refused::undeclared(key)),
        }
    }
}

/// Everything that can be seen is about 1e30 mm across (from memory).
fn is_beyond_all_sizes(number: f64) -> bool {
    const LARGEST: f64 = 1e30;
    const SMALLEST: f64 = 1e-30;
    let size = number.abs();
    size > 0.0 && !(SMALLEST..=LARGEST).contains(&size)
}
