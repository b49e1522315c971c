//! A block: one line of a program, taken apart into its words.

mod reading;

pub use reading::read_block;

/// One word: a letter and its number.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Word {
    /// The letter, always upper case.
    pub letter: u8,
    /// Its number; `None` where a parameter or an expression stands, which is not worked out here.
    pub number: Option<f64>,
}

/// What stands behind an O number or name.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Label {
    /// Nothing: a program or subprogram begins.
    Begin,
    /// `sub`: a subprogram begins.
    Sub,
    /// `endsub`: a subprogram ends.
    EndSub,
    /// `call`: a subprogram is called; `true` when values are handed to it.
    Call(bool),
    /// Loops, branches and names: not understood.
    Other,
}

/// Something in a line that is no word with a number.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Oddity {
    /// A parameter, an expression, a macro or a branch, by its first letters.
    NotUnderstood(String),
    /// A letter that may stand once stands twice.
    Twice(u8),
    /// A comment that is opened and not closed in its line, or opened inside another.
    OpenComment,
    /// The line is longer than a block may be.
    TooLong,
}

/// One line of a program. It is filled again and again, so that reading needs no new memory.
#[derive(Debug, Default, Clone, PartialEq)]
pub struct Block {
    /// The line in the file, from 1.
    pub line: u64,
    /// The N number, which need not be in order.
    pub number: Option<u32>,
    /// Whether a `/` makes it one that the operator can switch off.
    pub optional: bool,
    /// The words, in their order.
    pub words: Vec<Word>,
    /// An O number with what stands behind it.
    pub label: Option<(u32, Label)>,
    /// What is no word.
    pub odd: Vec<Oddity>,
}

impl Block {
    /// Empties the block for the next line.
    pub(super) fn clear(&mut self, line: u64) {
        self.line = line;
        self.number = None;
        self.optional = false;
        self.words.clear();
        self.label = None;
        self.odd.clear();
    }

    /// Returns whether there is nothing to do in it.
    pub fn is_empty(&self) -> bool {
        self.words.is_empty() && self.label.is_none() && self.odd.is_empty()
    }

    /// Finds the word of a letter.
    pub fn word(&self, letter: u8) -> Option<&Word> {
        self.words.iter().find(|word| word.letter == letter)
    }

    /// Returns the number of a letter, where one can be read.
    pub fn number_of(&self, letter: u8) -> Option<f64> {
        self.word(letter).and_then(|word| word.number)
    }

    /// Returns a whole number that is not negative.
    pub fn count_of(&self, letter: u8) -> Option<u32> {
        self.number_of(letter).and_then(whole)
    }

    /// Lists the codes of a letter (G or M) in tenths: G59.1 is 591.
    pub fn codes(&self, letter: u8) -> impl Iterator<Item = Option<u32>> + '_ {
        self.words.iter().filter(move |word| word.letter == letter).map(|word| word.number.and_then(code))
    }

    /// Returns whether a code stands in the block.
    pub fn has_code(&self, letter: u8, tenths: u32) -> bool {
        self.codes(letter).any(|code| code == Some(tenths))
    }
}

/// Reads a code in tenths: G59.1 is 591. What is no code has none.
fn code(number: f64) -> Option<u32> {
    whole(number * 10.0)
}

/// Returns a whole number from 0 to 4,294,967,295; a hair beside it still counts, because tenths are no doubles.
fn whole(number: f64) -> Option<u32> {
    let rounded = number.round();
    let fits = (0.0..=f64::from(u32::MAX)).contains(&rounded) && (number - rounded).abs() < 1e-6;
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "the range was checked above")]
    fits.then_some(rounded as u32)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn codes_are_counted_in_tenths_and_fractions_of_a_tenth_are_none() {
        assert_eq!(code(59.1), Some(591));
        assert_eq!(code(0.0), Some(0));
        assert_eq!(code(59.15), None);
        assert_eq!(code(-1.0), None);
        assert_eq!(code(1e12), None);
    }
}
