//! Takes a line apart (RS274/NGC: letters in either case, blanks anywhere, comments in round brackets or after `;`).

use super::{Block, Label, Oddity, Word};

/// How many letters of what is not understood are kept to name it.
const NAMED: usize = 24;
/// The most oddities kept of one line.
const MOST_ODD: usize = 8;

/// Reads a line without its end into a block that was emptied before.
pub fn read_block(line: &[u8], block: &mut Block) {
    let mut cursor = Cursor { line, at: 0 };
    if cursor.peek() == Some(b'/') {
        cursor.at += 1;
        block.optional = true;
        // Some controls number the switch: /2.
        while cursor.peek().is_some_and(|byte| byte.is_ascii_digit()) {
            cursor.at += 1;
        }
    }
    while let Some(byte) = cursor.peek() {
        match byte {
            b'(' => cursor.comment(block),
            b';' => return,
            b'%' => cursor.at += 1,
            b':' | b'O' | b'o' => cursor.label(block),
            b'N' | b'n' => cursor.block_number(block),
            _ if byte.is_ascii_alphabetic() => cursor.word(byte, block),
            b'#' => cursor.parameter(block),
            _ => cursor.stray(block),
        }
    }
}

struct Cursor<'a> {
    line: &'a [u8],
    at: usize,
}

impl Cursor<'_> {
    /// Returns the next byte that is no blank, without passing it.
    fn peek(&mut self) -> Option<u8> {
        while let Some(byte) = self.line.get(self.at) {
            if !matches!(byte, b' ' | b'\t') {
                return Some(*byte);
            }
            self.at += 1;
        }
        None
    }

    fn comment(&mut self, block: &mut Block) {
        self.at += 1;
        while let Some(byte) = self.line.get(self.at) {
            self.at += 1;
            match byte {
                b')' => return,
                b'(' => break,
                _ => {}
            }
        }
        self.at = self.line.len();
        note(block, Oddity::OpenComment);
    }

    fn block_number(&mut self, block: &mut Block) {
        let start = self.at;
        self.at += 1;
        match self.number() {
            Some(number) if block.number.is_none() => block.number = super::whole(number),
            Some(_) => note(block, Oddity::Twice(b'N')),
            None => self.not_understood(start, block),
        }
    }

    /// Reads a number: digits with at most one point, a sign before, blanks anywhere. `None` when no digit is there.
    fn number(&mut self) -> Option<f64> {
        let start = self.at;
        let mut digits: u64 = 0;
        let (mut seen, mut decimals, mut negative, mut point, mut too_many) = (0_u32, 0_i32, false, false, false);
        while let Some(byte) = self.peek() {
            match byte {
                b'0'..=b'9' => {
                    seen += 1;
                    decimals += i32::from(point);
                    match digits.checked_mul(10).and_then(|tens| tens.checked_add(u64::from(byte - b'0'))) {
                        Some(grown) if grown < EXACT => digits = grown,
                        _ => too_many = true,
                    }
                }
                b'.' if !point => point = true,
                b'+' | b'-' if seen == 0 && !point && !negative => negative = byte == b'-',
                _ => break,
            }
            self.at += 1;
        }
        if seen == 0 {
            self.at = start;
            return None;
        }
        let number = if too_many { self.long_number(start)? } else { scaled(digits, decimals) };
        Some(if negative && !too_many { -number } else { number })
    }

    /// A number of more digits than a double holds goes the slow way.
    fn long_number(&self, start: usize) -> Option<f64> {
        let text: String = self
            .line
            .get(start..self.at)?
            .iter()
            .filter(|byte| !matches!(byte, b' ' | b'\t'))
            .map(|byte| char::from(*byte))
            .collect();
        text.parse::<f64>().ok().filter(|number| number.is_finite())
    }

    fn word(&mut self, byte: u8, block: &mut Block) {
        let letter = byte.to_ascii_uppercase();
        let start = self.at;
        self.at += 1;
        if let Some(number) = self.number() {
            push(block, Word { letter, number: Some(number) });
            return;
        }
        match self.peek() {
            Some(b'#' | b'[') => {
                self.value(start, block);
                push(block, Word { letter, number: None });
            }
            // A function of an expression, as X SIN[30], or a word of a macro, as IF or GOTO.
            Some(next) if next.is_ascii_alphabetic() => self.macro_word(start, block, letter),
            _ => self.not_understood(start, block),
        }
    }

    fn macro_word(&mut self, start: usize, block: &mut Block, letter: u8) {
        let letters = self.letters();
        let function = matches!(
            letters.as_slice(),
            b"SIN"
                | b"COS"
                | b"TAN"
                | b"ABS"
                | b"SQRT"
                | b"ROUND"
                | b"FIX"
                | b"FUP"
                | b"ATAN"
                | b"ASIN"
                | b"ACOS"
                | b"EXP"
                | b"LN"
        );
        if self.peek() == Some(b'[') {
            self.bracketed();
        } else {
            self.number();
        }
        self.not_understood(start, block);
        if function {
            push(block, Word { letter, number: None });
        }
    }

    /// Passes the letters that follow, in upper case.
    fn letters(&mut self) -> Vec<u8> {
        let mut letters = Vec::new();
        while let Some(byte) = self.peek().filter(u8::is_ascii_alphabetic) {
            letters.push(byte.to_ascii_uppercase());
            self.at += 1;
        }
        letters
    }

    /// Passes a parameter or an expression and names it.
    fn value(&mut self, start: usize, block: &mut Block) {
        match self.peek() {
            Some(b'[') => self.bracketed(),
            Some(b'#') => self.parameter_name(),
            Some(byte) if byte.is_ascii_alphabetic() => {
                self.letters();
                if self.peek() == Some(b'[') {
                    self.bracketed();
                }
            }
            _ => drop(self.number()),
        }
        self.not_understood(start, block);
    }

    fn bracketed(&mut self) {
        let mut depth = 0_u32;
        while let Some(byte) = self.peek() {
            self.at += 1;
            match byte {
                b'[' => depth += 1,
                b']' if depth <= 1 => return,
                b']' => depth -= 1,
                _ => {}
            }
        }
    }

    fn parameter_name(&mut self) {
        while self.peek() == Some(b'#') {
            self.at += 1;
        }
        match self.peek() {
            Some(b'[') => self.bracketed(),
            Some(b'<') => self.named(),
            _ => drop(self.number()),
        }
    }

    /// Passes a name in angle brackets.
    fn named(&mut self) {
        while let Some(byte) = self.peek() {
            self.at += 1;
            if byte == b'>' {
                return;
            }
        }
    }

    /// A parameter is set: `#5 = 3`.
    fn parameter(&mut self, block: &mut Block) {
        let start = self.at;
        self.parameter_name();
        if self.peek() == Some(b'=') {
            self.at += 1;
            return self.value(start, block);
        }
        self.not_understood(start, block);
    }

    fn label(&mut self, block: &mut Block) {
        let start = self.at;
        self.at += 1;
        if self.peek() == Some(b'<') {
            self.named();
        }
        let number = self.number().and_then(super::whole);
        let word = self.letters();
        let label = match word.as_slice() {
            b"" => Label::Begin,
            b"SUB" => Label::Sub,
            b"ENDSUB" => Label::EndSub,
            b"CALL" => Label::Call(self.peek() == Some(b'[')),
            _ => Label::Other,
        };
        while self.peek() == Some(b'[') {
            self.bracketed();
        }
        match (number, label, block.label) {
            (Some(number), Label::Begin | Label::Sub | Label::EndSub | Label::Call(_), None) => {
                block.label = Some((number, label));
            }
            _ => self.not_understood(start, block),
        }
    }

    fn stray(&mut self, block: &mut Block) {
        let start = self.at;
        while self.peek().is_some_and(|byte| !byte.is_ascii_alphabetic() && !matches!(byte, b'(' | b';' | b'#')) {
            self.at += 1;
        }
        self.not_understood(start, block);
    }

    /// Keeps the first letters of what is not understood, so that it can be named.
    fn not_understood(&self, start: usize, block: &mut Block) {
        if block.odd.len() >= MOST_ODD {
            return;
        }
        let end = self.at.min(start + NAMED);
        let named = self.line.get(start..end).unwrap_or_default();
        let text = named.iter().map(|byte| if matches!(byte, 0x21..=0x7e) { char::from(*byte) } else { ' ' });
        let text: String = text.collect();
        note(block, Oddity::NotUnderstood(text.trim().to_ascii_uppercase()));
    }
}

/// Up to here every whole number is a double, and so is its quotient by a power of ten, correctly rounded.
const EXACT: u64 = 1 << 53;

fn scaled(digits: u64, decimals: i32) -> f64 {
    const POWERS: [f64; 16] = [1.0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15];
    #[expect(clippy::cast_precision_loss, reason = "the digits stay below 2^53")]
    let whole = digits as f64;
    let power = usize::try_from(decimals).ok().and_then(|place| POWERS.get(place)).copied();
    whole / power.unwrap_or_else(|| 10_f64.powi(decimals))
}

fn push(block: &mut Block, word: Word) {
    let may_stand_again = matches!(word.letter, b'G' | b'M');
    if !may_stand_again && block.words.iter().any(|known| known.letter == word.letter) {
        note(block, Oddity::Twice(word.letter));
        return;
    }
    block.words.push(word);
}

fn note(block: &mut Block, oddity: Oddity) {
    if block.odd.len() < MOST_ODD {
        block.odd.push(oddity);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(line: &str) -> Block {
        let mut block = Block::default();
        read_block(line.as_bytes(), &mut block);
        block
    }

    fn words(line: &str) -> Vec<(char, Option<f64>)> {
        read(line).words.iter().map(|word| (char::from(word.letter), word.number)).collect()
    }

    // RS274/NGC: blanks may stand anywhere and the case of letters does not matter; "g0x +0. 12 34y 7" is "g0 x+0.1234 y7"
    // (the example of NISTIR 6556, from memory).
    #[test]
    fn blanks_and_case_do_not_matter() {
        assert_eq!(words("g0x +0. 12 34y 7"), [('G', Some(0.0)), ('X', Some(0.1234)), ('Y', Some(7.0))]);
        assert_eq!(
            words("G1\tX-.5 Y+2. Z-0"),
            [('G', Some(1.0)), ('X', Some(-0.5)), ('Y', Some(2.0)), ('Z', Some(-0.0))]
        );
    }

    #[test]
    fn numbers_are_the_nearest_doubles() {
        for text in [
            "0.1",
            "23.988",
            "-312.405",
            "000012.5",
            "9007199254740991",
            "123456789012345678.25",
            ".000000000000000001",
        ] {
            assert_eq!(words(&format!("X{text}")), [('X', text.parse().ok())], "{text}");
        }
        assert_eq!(words("X-36893488147419103232"), [('X', Some(-2_f64.powi(65)))]);
    }

    #[test]
    fn comments_numbers_and_switches_are_no_words() {
        let block = read("/N120 (first) G1 X2 ; rest G0");
        assert!(block.optional);
        assert_eq!(block.number, Some(120));
        assert_eq!(block.words.len(), 2);
        assert!(read("/2 M1").optional);
        assert!(read("%").is_empty() && read("").is_empty() && read("  (only words)").is_empty());
    }

    #[test]
    fn what_is_not_understood_is_named() {
        for (line, named) in [
            ("#5=3", "#5=3"),
            ("G1 X#5", "X#5"),
            ("G1 X[1+[2*3]]", "X[1+[2*3]]"),
            ("IF [#1 EQ 2] GOTO 9", "IF [#1 EQ 2]"),
            ("o100 while [#1 lt 3]", "O100 WHILE [#1 LT 3]"),
            ("o<probe> call", "O<PROBE> CALL"),
            ("G1 X", "X"),
            ("!!", "!!"),
            ("G1 X1 * 2", "* 2"),
        ] {
            let block = read(line);
            assert_eq!(block.odd.first(), Some(&Oddity::NotUnderstood(named.to_owned())), "{line}");
        }
        assert_eq!(words("G1 X#5 Y2"), [('G', Some(1.0)), ('X', None), ('Y', Some(2.0))]);
        assert_eq!(words("G1 Xsin[30] Y2"), [('G', Some(1.0)), ('X', None), ('Y', Some(2.0))]);
    }

    #[test]
    fn an_open_comment_and_a_letter_twice_are_told() {
        assert_eq!(read("G0 X1 (no end").odd, [Oddity::OpenComment]);
        assert_eq!(read("G0 (one (two) three)").odd, [Oddity::OpenComment]);
        assert_eq!(read("G0 X1 X2").odd, [Oddity::Twice(b'X')]);
        assert!(read("G0 G90 M3 M8").odd.is_empty());
    }

    #[test]
    fn labels_are_known() {
        assert_eq!(read("O1000").label, Some((1000, Label::Begin)));
        assert_eq!(read(":1000").label, Some((1000, Label::Begin)));
        assert_eq!(read("o100 sub").label, Some((100, Label::Sub)));
        assert_eq!(read("O100 EndSub").label, Some((100, Label::EndSub)));
        assert_eq!(read("o100 call [1] [2]").label, Some((100, Label::Call(true))));
        assert_eq!(read("o100 call").label, Some((100, Label::Call(false))));
    }

    #[test]
    fn no_bytes_make_it_stumble() {
        for bytes in
            [&b"\x00\xff\xfe G1 X1"[..], b"G", b"#", b"#[", b"[", b"o", b"(", b"/", b"X+-1", b"N", b"X..", b"\xc3\xa9"]
        {
            let mut block = Block::default();
            read_block(bytes, &mut block);
            assert!(!block.is_empty() || block.optional, "{bytes:?}");
        }
    }
}
