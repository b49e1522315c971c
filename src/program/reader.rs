//! Reads a program block by block, whatever ends its lines, in the memory of one line.

use std::io::{self, BufRead};

use crate::program::block::{Block, Oddity, read_block};

/// The longest line that is read as a block, in bytes. RS274/NGC allows 256 characters; comments of others are longer.
pub const LONGEST_BLOCK: usize = 1024;

/// Reads blocks from a stream of bytes: lines end with LF, CR LF or CR.
pub struct Reader<R> {
    input: R,
    line: u64,
    text: Vec<u8>,
    after_return: bool,
}

impl<R: BufRead> Reader<R> {
    /// Begins at the first line; `line` is the number of the line before it.
    pub fn after_line(input: R, line: u64) -> Self {
        Self { input, line, text: Vec::with_capacity(LONGEST_BLOCK), after_return: false }
    }

    /// Begins a file.
    pub fn new(input: R) -> Self {
        Self::after_line(input, 0)
    }

    /// Returns the number of the line read last.
    pub const fn line(&self) -> u64 {
        self.line
    }

    /// Returns the line read last, without its end; of one that is too long nothing is kept.
    pub fn text(&self) -> &[u8] {
        &self.text
    }

    /// Reads the next line into a block; `false` at the end.
    ///
    /// # Errors
    /// Any failure of the stream.
    pub fn next_block(&mut self, block: &mut Block) -> io::Result<bool> {
        let Some(whole) = self.next_line()? else { return Ok(false) };
        block.clear(self.line);
        if whole {
            read_block(&self.text, block);
        } else {
            block.odd.push(Oddity::TooLong);
        }
        Ok(true)
    }

    /// Reads the next line; `Some(false)` when it was too long and left out, `None` at the end.
    ///
    /// # Errors
    /// Any failure of the stream.
    pub fn next_line(&mut self) -> io::Result<Option<bool>> {
        self.text.clear();
        let (mut whole, mut any) = (true, false);
        loop {
            let bytes = self.input.fill_buf()?;
            let bytes = match bytes.first() {
                Some(b'\n') if self.after_return => {
                    self.after_return = false;
                    self.input.consume(1);
                    continue;
                }
                Some(_) => bytes,
                None if any => break,
                None => return Ok(None),
            };
            any = true;
            self.after_return = false;
            let end = bytes.iter().position(|byte| matches!(byte, b'\n' | b'\r'));
            let part = bytes.get(..end.unwrap_or(bytes.len())).unwrap_or_default();
            if whole && self.text.len() + part.len() <= LONGEST_BLOCK {
                self.text.extend_from_slice(part);
            } else {
                whole = false;
                self.text.clear();
            }
            let ends_with_return = end.and_then(|place| bytes.get(place)) == Some(&b'\r');
            let used = end.map_or(bytes.len(), |place| place + 1);
            self.input.consume(used);
            if end.is_some() {
                self.after_return = ends_with_return;
                break;
            }
        }
        self.line += 1;
        Ok(Some(whole))
    }
}

#[cfg(test)]
mod tests {
    use std::io::BufReader;

    use super::*;

    fn lines(bytes: &[u8], capacity: usize) -> Vec<(u64, String)> {
        let mut reader = Reader::new(BufReader::with_capacity(capacity, bytes));
        let mut lines = Vec::new();
        while reader.next_line().unwrap().is_some() {
            lines.push((reader.line(), String::from_utf8_lossy(reader.text()).into_owned()));
        }
        lines
    }

    #[test]
    fn every_end_of_a_line_is_known_wherever_the_buffer_ends() {
        for capacity in 1..12 {
            let expected: Vec<_> = [(1, "G0"), (2, "X1"), (3, ""), (4, "Y2"), (5, "Z3")]
                .map(|(line, text)| (line, text.to_owned()))
                .into();
            assert_eq!(lines(b"G0\nX1\r\n\nY2\rZ3", capacity), expected);
            assert_eq!(lines(b"G0\r\nX1\r\r\nY2\nZ3\r", capacity), expected);
        }
        assert!(lines(b"", 4).is_empty());
    }

    #[test]
    fn a_line_that_is_too_long_is_left_out_and_told() {
        let long = format!("G0\n{}\nG1\n", "X".repeat(LONGEST_BLOCK + 1));
        for capacity in [7, 64, 4096] {
            let mut reader = Reader::new(BufReader::with_capacity(capacity, long.as_bytes()));
            let mut block = Block::default();
            assert!(reader.next_block(&mut block).unwrap());
            assert!(reader.next_block(&mut block).unwrap());
            assert_eq!((block.odd.as_slice(), block.line), (&[Oddity::TooLong][..], 2));
            assert!(reader.next_block(&mut block).unwrap());
            assert_eq!(block.codes(b'G').collect::<Vec<_>>(), [Some(10)]);
            assert!(!reader.next_block(&mut block).unwrap());
        }
    }
}
