//! What the faces that speak over streams have in common.

use std::fmt;
use std::io::{self, BufRead, Read, Write};

use crate::session::{Session, SessionError};

/// How a session over streams ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ended {
    /// Left unfinished; it can be resumed.
    Left,
    /// Closed for good.
    Sealed,
}

/// What can go wrong over streams.
#[derive(Debug, thiserror::Error)]
pub enum StreamError {
    /// The session.
    #[error(transparent)]
    Session(#[from] SessionError),
    /// The stream.
    #[error("the stream broke: {0}")]
    Stream(#[from] io::Error),
}

/// Where the session comes from once the initials are known.
pub type Opening<'a> = dyn FnOnce(&str) -> Result<Session, SessionError> + 'a;

/// Returns whether a text can serve as initials: one to twelve letters, digits, dots or dashes.
pub fn is_initials(text: &str) -> bool {
    let fits = |letter: char| letter.is_alphanumeric() || matches!(letter, '.' | '-' | '_');
    (1..=12).contains(&text.chars().count()) && text.chars().all(fits)
}

/// The longest line that a face takes, in bytes, its line feed counted.
pub const LONGEST_LINE: u64 = 65_536;

/// A line that came in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Line {
    /// Its text; the line feed may still be there.
    Text(String),
    /// Nothing of it can be taken, for this reason. The next line can be read.
    Unreadable(String),
}

/// Reads one line of at most `longest` bytes; `None` at the end of the input.
///
/// A longer line is skipped to its end without being kept, so that no part of it is taken for a line of its own. Broken
/// UTF-8 is told, never mended: what is recorded is what was typed.
///
/// # Errors
/// Any failure of the stream.
pub fn read_line(input: &mut dyn BufRead, longest: u64) -> io::Result<Option<Line>> {
    let mut bytes = Vec::new();
    // One byte more than is allowed: a last line without a line feed may be exactly as long as allowed.
    input.take(longest.saturating_add(1)).read_until(b'\n', &mut bytes)?;
    if bytes.is_empty() {
        return Ok(None);
    }
    if u64::try_from(bytes.len()).unwrap_or(u64::MAX) > longest {
        if !bytes.ends_with(b"\n") {
            input.skip_until(b'\n')?;
        }
        return Ok(Some(Line::Unreadable(format!("That line is longer than {longest} bytes: send less at a time."))));
    }
    Ok(Some(String::from_utf8(bytes).map_or_else(
        |_| Line::Unreadable("That line is no UTF-8 text: nothing of it was taken.".to_owned()),
        Line::Text,
    )))
}

/// Writes text for people: a control character in it is shown as a mark, so that no name, note or log can drive the
/// terminal. Line feeds and tabs stay.
pub struct ForPeople<'a>(pub &'a mut dyn Write);

impl Write for ForPeople<'_> {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.write_all(bytes)?;
        Ok(bytes.len())
    }

    fn write_all(&mut self, bytes: &[u8]) -> io::Result<()> {
        self.0.write_all(without_controls(&String::from_utf8_lossy(bytes)).as_bytes())
    }

    fn write_fmt(&mut self, words: fmt::Arguments<'_>) -> io::Result<()> {
        // As a whole: a character must not be cut in two by the way it was put together.
        self.write_all(words.to_string().as_bytes())
    }

    fn flush(&mut self) -> io::Result<()> {
        self.0.flush()
    }
}

/// Returns a text with every control character but line feed and tab shown as U+FFFD.
pub fn without_controls(text: &str) -> String {
    let drives = |letter: char| letter.is_control() && !matches!(letter, '\n' | '\t');
    text.chars().map(|letter| if drives(letter) { char::REPLACEMENT_CHARACTER } else { letter }).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn lines(mut input: &[u8], longest: u64) -> Vec<Line> {
        std::iter::from_fn(|| read_line(&mut input, longest).unwrap()).collect()
    }

    fn text(line: &str) -> Line {
        Line::Text(line.to_owned())
    }

    #[test]
    fn a_line_that_is_too_long_is_refused_whole_and_the_next_is_read() {
        let read = lines(b"12345678\n123456789\n0123456789abcdef0123\nyes\n", 9);
        assert_eq!(read.first(), Some(&text("12345678\n")));
        assert!(matches!(read.get(1), Some(Line::Unreadable(_))), "{read:?}");
        assert!(matches!(read.get(2), Some(Line::Unreadable(_))), "{read:?}");
        assert_eq!(read.get(3..), Some(&[text("yes\n")][..]));
    }

    #[test]
    fn the_end_may_come_without_a_line_feed() {
        assert_eq!(lines(b"yes", 3), [text("yes")]);
        assert!(matches!(lines(b"yes!", 3)[..], [Line::Unreadable(_)]));
        assert_eq!(lines(b"", 3), []);
    }

    #[test]
    fn broken_text_is_told_and_not_mended() {
        let read = lines(b"a\xff\xfeb\nyes\n", 64);
        assert!(matches!(read[..], [Line::Unreadable(_), Line::Text(_)]), "{read:?}");
    }

    #[test]
    fn what_people_read_cannot_drive_the_terminal() {
        let mut shown = Vec::new();
        let mut output = ForPeople(&mut shown);
        let name = "\u{7}\u{b1}";
        write!(output, "a\u{1b}[31m{name}\tb\r\u{9b}\n").unwrap();
        assert_eq!(String::from_utf8(shown).unwrap(), "a\u{fffd}[31m\u{fffd}\u{b1}\tb\u{fffd}\u{fffd}\n");
    }
}
