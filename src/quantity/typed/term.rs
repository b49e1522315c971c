//! Terms of an entry: sign, number, unit.

use super::super::exact::Exact;
use super::super::{Dimension, Unit};
use super::spellings::{self, Found};
use super::{MOST_DIGITS, Misread};

/// One number of a sum, with its sign, and the unit if one was typed.
#[derive(Debug)]
pub(super) struct Term {
    pub(super) number: Exact,
    pub(super) is_fraction: bool,
    pub(super) unit: Option<&'static Unit>,
    pub(super) column: usize,
}

/// Reads all terms of an entry, to its end.
pub(super) fn terms(text: &str, dimension: Dimension) -> Result<Vec<Term>, Misread> {
    let mut reader = Reader { letters: text.chars().collect(), at: 0, dimension, separator: None };
    let mut negative = reader.leading_sign();
    let mut terms = Vec::new();
    loop {
        terms.push(reader.term(negative)?);
        reader.skip_blanks();
        negative = match reader.peek() {
            None => return Ok(terms),
            Some('+') => false,
            Some(letter) if is_minus(letter) => true,
            Some(_) => return Err(reader.left_over()),
        };
        reader.at += 1;
    }
}

/// A decimal as it stands: its value, and whether it is digits only.
struct Plain {
    number: Exact,
    is_whole: bool,
}

struct Reader {
    letters: Vec<char>,
    at: usize,
    dimension: Dimension,
    separator: Option<char>,
}

impl Reader {
    fn peek(&self) -> Option<char> {
        self.letters.get(self.at).copied()
    }

    fn letter(&self, index: usize) -> Option<char> {
        self.letters.get(index).copied()
    }

    fn column(&self) -> usize {
        self.at + 1
    }

    fn misread(&self, what: impl Into<String>, hint: impl Into<String>) -> Misread {
        Misread::new(self.column(), what, hint)
    }

    fn skip_blanks(&mut self) {
        self.at = self.after_blanks(self.at);
    }

    fn after_blanks(&self, mut index: usize) -> usize {
        while self.letter(index).is_some_and(char::is_whitespace) {
            index += 1;
        }
        index
    }

    fn leading_sign(&mut self) -> bool {
        match self.peek() {
            Some('+') => self.at += 1,
            Some(letter) if is_minus(letter) => {
                self.at += 1;
                return true;
            }
            _ => {}
        }
        false
    }

    fn term(&mut self, negative: bool) -> Result<Term, Misread> {
        self.skip_blanks();
        let column = self.column();
        let (number, is_fraction) = self.number()?;
        self.skip_blanks();
        let unit = self.unit()?;
        Ok(Term { number: if negative { number.negated() } else { number }, is_fraction, unit, column })
    }

    fn number(&mut self) -> Result<(Exact, bool), Misread> {
        let column = self.column();
        let plain = self.decimal()?;
        if self.slash_and_digit(self.at) {
            return self.fraction_over(&plain, column).map(|fraction| (fraction, true));
        }
        let Some(start) = self.mixed_fraction_start(&plain)? else {
            return Ok((plain.number, false));
        };
        self.at = start;
        let fraction_column = self.column();
        let numerator = self.decimal()?;
        let fraction = self.fraction_over(&numerator, fraction_column)?;
        if plain.number == Exact::ZERO || !fraction.is_below_one() {
            let hint = "In a mixed number such as 1-3/8 the whole part is not 0 and the fraction is below 1.";
            return Err(Misread::new(column, "this is no mixed number", hint));
        }
        let sum = plain.number.plus(fraction).ok_or_else(|| too_large(column))?;
        Ok((sum, true))
    }

    /// Reads digits with at most one decimal mark.
    fn decimal(&mut self) -> Result<Plain, Misread> {
        let start = self.at;
        let (mut value, mut digits, mut decimals) = (0_i128, 0_usize, None);
        while let Some(letter) = self.peek() {
            match (letter.to_digit(10), letter) {
                (Some(digit), _) => {
                    value = value.saturating_mul(10).saturating_add(i128::from(digit));
                    digits += 1;
                    decimals = decimals.map(|count: u32| count.saturating_add(1));
                }
                (None, '.' | ',') => {
                    self.take_decimal_mark(letter, decimals.is_some())?;
                    decimals = Some(0);
                }
                (None, _) => break,
            }
            self.at += 1;
        }
        if digits == 0 {
            self.at = start;
            return Err(self.number_missing());
        }
        if digits > MOST_DIGITS {
            let hint = format!("A number has at most {MOST_DIGITS} digits.");
            return Err(Misread::new(start + 1, "this number has too many digits", hint));
        }
        let scale = 10_i128.checked_pow(decimals.unwrap_or(0));
        let number = scale.and_then(|scale| Exact::new(value, scale)).ok_or_else(|| too_large(start + 1))?;
        Ok(Plain { number, is_whole: decimals.is_none() })
    }

    fn take_decimal_mark(&mut self, mark: char, already: bool) -> Result<(), Misread> {
        let hint = "Thousands are written without marks, and decimals with one point or one comma: 1234.5 or 1234,5.";
        if self.separator.is_some_and(|first| first != mark) {
            return Err(self.misread("point and comma are both used", hint));
        }
        if already {
            return Err(self.misread("a number has one decimal mark", hint));
        }
        self.separator = Some(mark);
        Ok(())
    }

    fn slash_and_digit(&self, index: usize) -> bool {
        self.letter(index) == Some('/') && self.letter(index + 1).is_some_and(|letter| letter.is_ascii_digit())
    }

    /// True where digits and a slash stand: the fraction of a mixed number.
    fn fraction_ahead(&self, mut index: usize) -> bool {
        let start = index;
        while self.letter(index).is_some_and(|letter| letter.is_ascii_digit()) {
            index += 1;
        }
        index > start && self.letter(index) == Some('/')
    }

    /// Finds where the fraction of a mixed number starts, if one follows the whole number just read.
    fn mixed_fraction_start(&self, whole: &Plain) -> Result<Option<usize>, Misread> {
        let next = self.after_blanks(self.at);
        let blank_before = next > self.at;
        if self.letter(next).is_some_and(|letter| letter.is_ascii_digit()) {
            if whole.is_whole && self.fraction_ahead(next) {
                return Ok(Some(next));
            }
            let hint = "Put + or - between them; degrees, minutes and seconds have their own field.";
            return Err(Misread::new(next + 1, "two numbers stand side by side", hint));
        }
        if !whole.is_whole || !self.letter(next).is_some_and(is_minus) {
            return Ok(None);
        }
        let after = self.after_blanks(next + 1);
        let blank_after = after > next + 1;
        if !self.fraction_ahead(after) || (blank_before && blank_after) {
            return Ok(None);
        }
        if blank_before || blank_after {
            let hint = "Write 1-3/8 for one and three eighths, 1 - 3/8 for one less three eighths.";
            return Err(Misread::new(next + 1, "this minus could join or subtract", hint));
        }
        Ok(Some(after))
    }

    fn fraction_over(&mut self, numerator: &Plain, column: usize) -> Result<Exact, Misread> {
        let slash_and_digit = self.slash_and_digit(self.at);
        self.at += 1;
        if !slash_and_digit {
            return Err(
                self.misread("a whole number is needed behind the /", "Write fractions as 3/16, without blanks.")
            );
        }
        let denominator_column = self.column();
        let denominator = self.decimal()?;
        if !numerator.is_whole || !denominator.is_whole {
            return Err(Misread::new(column, "a fraction has whole numbers", "Write 3/16, or the decimal alone."));
        }
        if denominator.number == Exact::ZERO {
            return Err(Misread::new(denominator_column, "nothing can be divided by 0", "Write fractions as 3/16."));
        }
        let bottom = denominator.number.nearest_whole();
        bottom.and_then(|bottom| numerator.number.over(bottom)).ok_or_else(|| too_large(column))
    }

    fn unit(&mut self) -> Result<Option<&'static Unit>, Misread> {
        if self.peek().is_none_or(|letter| letter == '+' || is_minus(letter)) {
            return Ok(None);
        }
        let rest = self.letters.get(self.at..).unwrap_or_default();
        if let Some(refusal) = spellings::refused(&self.word()) {
            return Err(self.misread(refusal.what, refusal.hint));
        }
        match spellings::longest(rest, self.dimension) {
            Some(Found { unit, letters }) if unit.dimension == self.dimension => {
                self.at += letters;
                Ok(Some(unit))
            }
            Some(Found { unit, .. }) => Err(self.wrong_kind(unit)),
            None => Err(self.left_over()),
        }
    }

    /// The letters up to the next blank or sign, in lower case.
    fn word(&self) -> String {
        let rest = self.letters.iter().skip(self.at);
        let word = rest.take_while(|letter| !letter.is_whitespace() && **letter != '+' && !is_minus(**letter));
        word.flat_map(|letter| letter.to_lowercase()).collect()
    }

    fn wrong_kind(&self, unit: &Unit) -> Misread {
        let what = format!(
            "{} is a unit of {}, but {} is wanted here",
            unit.name,
            unit.dimension.name(),
            self.dimension.name()
        );
        self.misread(what, spellings::units_to_use(self.dimension))
    }

    fn number_missing(&self) -> Misread {
        let hint = "Type a number here, such as 1.7394, 1-3/8 or 12,5.";
        match self.peek() {
            Some('(' | ')' | '[' | ']') => self.misread("brackets are not read", "Type the sum without them."),
            Some('+') => self.misread("two signs stand side by side", hint),
            Some(letter) if is_minus(letter) => self.misread("two signs stand side by side", hint),
            Some('/') => self.misread("a whole number is needed before the /", "Write fractions as 3/16."),
            Some(_) => self.misread(format!("\"{}\" is no number", self.word()), hint),
            None => self.misread("a number is missing at the end", hint),
        }
    }

    fn left_over(&self) -> Misread {
        let word = self.word();
        let what = format!("\"{word}\" is no unit known here");
        self.misread(what, spellings::units_to_use(self.dimension))
    }
}

const fn is_minus(letter: char) -> bool {
    matches!(letter, '-' | '\u{2212}')
}

fn too_large(column: usize) -> Misread {
    Misread::new(column, "this number is too large", "Look at the decimal point.")
}
