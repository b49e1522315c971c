//! Subprograms of a file, kept as text so that a call can be followed.

use std::collections::HashMap;
use std::io::{self, BufRead};

use crate::program::block::{Block, Label, read_block};
use crate::program::reader::Reader;

/// How much text of subprograms is kept in all, in bytes. A longer one is not followed, and said so.
const MOST_KEPT: usize = 1024 * 1024;

/// M99: back to the caller.
pub(super) const RETURN: u32 = 990;

/// One subprogram.
#[derive(Debug, Clone)]
pub(super) struct Subprogram {
    /// The line in the file before its first.
    pub(super) line: u64,
    /// Its lines, each with a line feed.
    pub(super) text: Vec<u8>,
}

/// The subprograms of a file by their numbers.
#[derive(Debug, Clone, Default)]
pub struct Subprograms {
    found: HashMap<u32, Subprogram>,
}

impl Subprograms {
    /// Reads through a file and keeps its subprograms: from an O number to M99, or from `sub` to `endsub`.
    ///
    /// # Errors
    /// Any failure of the stream.
    pub fn collect(input: impl BufRead) -> io::Result<Self> {
        let mut reader = Reader::new(input);
        let mut all = Self::default();
        let mut block = Block::default();
        let mut open: Option<(u32, Label, Subprogram)> = None;
        let mut kept = 0;
        while let Some(whole) = reader.next_line()? {
            let labelled = begins_with_label(reader.text());
            if !whole || (open.is_none() && !labelled) {
                continue;
            }
            block.clear(reader.line());
            read_block(reader.text(), &mut block);
            if let Some((number, label @ (Label::Begin | Label::Sub))) = block.label {
                open = Some((number, label, Subprogram { line: reader.line() - 1, text: Vec::new() }));
            }
            let Some((number, label, body)) = &mut open else { continue };
            body.text.extend_from_slice(reader.text());
            body.text.push(b'\n');
            if kept + body.text.len() > MOST_KEPT || (*label == Label::Begin && ends_program(&block)) {
                open = None;
            } else if ends(&block, *number, *label) {
                kept += body.text.len();
                all.found.insert(*number, body.clone());
                open = None;
            }
        }
        Ok(all)
    }

    pub(super) fn get(&self, number: u32) -> Option<&Subprogram> {
        self.found.get(&number)
    }
}

fn begins_with_label(line: &[u8]) -> bool {
    let first = line.iter().find(|byte| !matches!(byte, b' ' | b'\t'));
    matches!(first, Some(b'O' | b'o' | b':'))
}

fn ends(block: &Block, number: u32, label: Label) -> bool {
    match label {
        Label::Sub => block.label == Some((number, Label::EndSub)),
        _ => block.has_code(b'M', RETURN),
    }
}

/// M2 and M30 end a main program.
pub(super) fn ends_program(block: &Block) -> bool {
    block.has_code(b'M', 20) || block.has_code(b'M', 300)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn subprograms_are_kept_and_the_main_program_is_not() {
        let file = b"%\nO1\nG21\nM98 P100\nM30\nO100 (drill)\nG81 Z1\nM99\no7 sub\nG0 X1\no7 endsub\n%\n";
        let all = Subprograms::collect(&file[..]).unwrap();
        assert!(all.get(1).is_none());
        let drill = all.get(100).unwrap();
        assert_eq!((drill.line, drill.text.as_slice()), (5, &b"O100 (drill)\nG81 Z1\nM99\n"[..]));
        assert_eq!(all.get(7).unwrap().line, 8);
    }

    #[test]
    fn one_that_is_too_long_is_not_kept() {
        let mut file = b"O5\n".to_vec();
        file.extend(b"G1 X1 Y1\n".repeat(200_000));
        file.extend(b"M99\nO6\nG0\nM99\n");
        let all = Subprograms::collect(&file[..]).unwrap();
        assert!(all.get(5).is_none() && all.get(6).is_some());
    }
}
