//! A strict scanner for one line of JSON. It builds nothing: it says whether the text is sound and where its parts lie.
//!
//! Stricter than the general parser: keys may not repeat, whole numbers stay within ±(2⁵³−1) (RFC 7493), depth and
//! text encoding are checked, and the scanner counts the numbers that are not whole.

use std::borrow::Cow;

/// The deepest nesting of a line, counting the line's own object.
pub(super) const MAX_DEPTH: usize = 16;
/// The largest whole number that every JSON reader keeps exactly: 2⁵³−1 (RFC 7493, section 2.2).
pub(super) const MAX_WHOLE: u64 = 9_007_199_254_740_991;

/// Up to this many keys of one object are compared pair by pair, which is quicker than sorting them.
const FEW_KEYS: usize = 16;

/// What is wrong with a text, in words.
pub(super) type Wrong = &'static str;

/// Walks over a JSON text. Every method moves over what it has accepted.
pub(super) struct Scanner<'a> {
    text: &'a [u8],
    at: usize,
    depth: usize,
    /// Numbers so far that are not whole.
    pub(super) floats: usize,
    /// Keys of the objects that are open, innermost last.
    keys: Vec<Cow<'a, [u8]>>,
}

impl<'a> Scanner<'a> {
    /// Starts at the first byte of a text.
    pub(super) fn new(text: &'a str) -> Self {
        Self { text: text.as_bytes(), at: 0, depth: 0, floats: 0, keys: Vec::with_capacity(32) }
    }

    /// Accepts one object and nothing after it, handing each member's key to `member`, which must accept its value.
    pub(super) fn whole_object<F>(&mut self, member: F) -> Result<(), Wrong>
    where
        F: FnMut(&mut Self, &[u8]) -> Result<(), Wrong>,
    {
        self.object(member)?;
        if self.at == self.text.len() { Ok(()) } else { Err("something stands after the closing brace") }
    }

    /// Accepts an object, handing each member's key to `member`, which must accept its value.
    pub(super) fn object<F>(&mut self, mut member: F) -> Result<(), Wrong>
    where
        F: FnMut(&mut Self, &[u8]) -> Result<(), Wrong>,
    {
        self.descend(b'{', "an object was expected")?;
        let first_key = self.keys.len();
        if !self.takes(b'}') {
            loop {
                self.blanks();
                let key = unescaped(self.string()?);
                self.blanks();
                self.expect(b':', "a colon is missing")?;
                self.blanks();
                member(self, &key)?;
                self.keys.push(key);
                self.blanks();
                if self.takes(b'}') {
                    break;
                }
                self.expect(b',', "a comma or a closing brace is missing")?;
            }
        }
        self.depth -= 1;
        self.close_keys(first_key)
    }

    /// Accepts any value and gives its text.
    pub(super) fn value(&mut self) -> Result<&'a [u8], Wrong> {
        let start = self.at;
        match self.peek() {
            Some(b'{') => self.object(|scanner, _| scanner.value().map(drop))?,
            Some(b'[') => self.array()?,
            Some(b'"') => drop(self.string()?),
            Some(b'-' | b'0'..=b'9') => self.number()?,
            _ => self.word()?,
        }
        Ok(self.since(start))
    }

    /// Accepts a string and gives its text between the quotes, escapes as they stand.
    pub(super) fn string(&mut self) -> Result<&'a [u8], Wrong> {
        self.expect(b'"', "a string was expected")?;
        let start = self.at;
        loop {
            let rest = self.text.get(self.at..).unwrap_or_default();
            let plain = rest.iter().position(|byte| matches!(byte, b'"' | b'\\' | 0..=0x1f));
            self.at += plain.unwrap_or(rest.len());
            match self.next() {
                Some(b'"') => return Ok(self.text.get(start..self.at - 1).unwrap_or_default()),
                Some(b'\\') => self.escape()?,
                Some(_) => return Err("a string holds a control character"),
                None => return Err("a string has no end"),
            }
        }
    }

    /// Accepts a whole number from zero up and gives it.
    pub(super) fn whole(&mut self) -> Result<u64, Wrong> {
        let text = self.value()?;
        whole_number(text).ok_or("a whole number was expected")
    }

    fn array(&mut self) -> Result<(), Wrong> {
        self.descend(b'[', "an array was expected")?;
        if !self.takes(b']') {
            loop {
                self.blanks();
                self.value()?;
                self.blanks();
                if self.takes(b']') {
                    break;
                }
                self.expect(b',', "a comma or a closing bracket is missing")?;
            }
        }
        self.depth -= 1;
        Ok(())
    }

    fn descend(&mut self, opener: u8, wrong: Wrong) -> Result<(), Wrong> {
        self.expect(opener, wrong)?;
        self.depth += 1;
        if self.depth > MAX_DEPTH {
            return Err("it is nested deeper than 16 levels");
        }
        self.blanks();
        Ok(())
    }

    fn close_keys(&mut self, first: usize) -> Result<(), Wrong> {
        let keys = self.keys.get_mut(first..).unwrap_or_default();
        let repeated = if keys.len() <= FEW_KEYS {
            keys.iter().enumerate().any(|(at, key)| keys.iter().take(at).any(|before| before == key))
        } else {
            keys.sort_unstable();
            keys.windows(2).any(|pair| pair.first() == pair.last())
        };
        self.keys.truncate(first);
        if repeated { Err("a key stands twice in one object") } else { Ok(()) }
    }

    fn number(&mut self) -> Result<(), Wrong> {
        let start = self.at;
        let negative = self.takes(b'-');
        let whole_start = self.at;
        self.digits()?;
        let whole = self.since(whole_start);
        if whole.len() > 1 && whole.first() == Some(&b'0') {
            return Err("a number starts with a needless zero");
        }
        let mut is_float = negative && whole == b"0";
        if self.takes(b'.') {
            self.digits()?;
            is_float = true;
        }
        if self.takes(b'e') || self.takes(b'E') {
            if !self.takes(b'+') {
                self.takes(b'-');
            }
            self.digits()?;
            is_float = true;
        }
        if is_float {
            self.floats += 1;
            let text = std::str::from_utf8(self.since(start)).unwrap_or_default();
            return if text.parse().is_ok_and(f64::is_finite) { Ok(()) } else { Err("a number is beyond all range") };
        }
        whole_number(whole).map(drop).ok_or("a whole number is beyond 2^53-1")
    }

    fn digits(&mut self) -> Result<(), Wrong> {
        let start = self.at;
        while self.peek().is_some_and(|byte| byte.is_ascii_digit()) {
            self.at += 1;
        }
        if self.at == start { Err("a digit is missing in a number") } else { Ok(()) }
    }

    fn word(&mut self) -> Result<(), Wrong> {
        let rest = self.text.get(self.at..).unwrap_or_default();
        let word = [&b"true"[..], b"false", b"null"].into_iter().find(|word| rest.starts_with(word));
        self.at += word.ok_or("a value was expected")?.len();
        Ok(())
    }

    fn escape(&mut self) -> Result<(), Wrong> {
        match self.next() {
            Some(b'"' | b'\\' | b'/' | b'b' | b'f' | b'n' | b'r' | b't') => Ok(()),
            Some(b'u') => {
                let unit = self.code_unit()?;
                if !(0xD800..0xE000).contains(&unit) {
                    return Ok(());
                }
                let low = if unit < 0xDC00 && self.next() == Some(b'\\') && self.next() == Some(b'u') {
                    self.code_unit()?
                } else {
                    0
                };
                if (0xDC00..0xE000).contains(&low) { Ok(()) } else { Err("half a character (a lone surrogate)") }
            }
            _ => Err("an unknown escape in a string"),
        }
    }

    fn code_unit(&mut self) -> Result<u32, Wrong> {
        let digits = self.text.get(self.at..self.at + 4).unwrap_or_default();
        self.at += digits.len();
        if digits.len() != 4 || !digits.iter().all(u8::is_ascii_hexdigit) {
            return Err("an escape \\u needs four hexadecimal digits");
        }
        let text = std::str::from_utf8(digits).unwrap_or_default();
        u32::from_str_radix(text, 16).map_err(|_| "an escape \\u needs four hexadecimal digits")
    }

    fn blanks(&mut self) {
        while matches!(self.peek(), Some(b' ' | b'\t' | b'\r' | b'\n')) {
            self.at += 1;
        }
    }

    /// Gives the position.
    pub(super) const fn at(&self) -> usize {
        self.at
    }

    fn peek(&self) -> Option<u8> {
        self.text.get(self.at).copied()
    }

    fn next(&mut self) -> Option<u8> {
        let byte = self.peek();
        self.at += usize::from(byte.is_some());
        byte
    }

    fn takes(&mut self, byte: u8) -> bool {
        let found = self.peek() == Some(byte);
        self.at += usize::from(found);
        found
    }

    fn expect(&mut self, byte: u8, wrong: Wrong) -> Result<(), Wrong> {
        if self.takes(byte) { Ok(()) } else { Err(wrong) }
    }

    /// Gives the text from a position up to here.
    pub(super) fn since(&self, start: usize) -> &'a [u8] {
        self.text.get(start..self.at).unwrap_or_default()
    }
}

/// Reads digits and nothing else as a whole number up to 2⁵³−1.
pub(super) fn whole_number(digits: &[u8]) -> Option<u64> {
    if digits.is_empty() || digits.len() > 16 || !digits.iter().all(u8::is_ascii_digit) {
        return None;
    }
    let number = digits.iter().fold(0, |number, digit| number * 10 + u64::from(digit - b'0'));
    (number <= MAX_WHOLE).then_some(number)
}

/// Undoes the escapes of a string that the scanner has accepted.
pub(super) fn unescaped(inside: &[u8]) -> Cow<'_, [u8]> {
    if !inside.contains(&b'\\') {
        return Cow::Borrowed(inside);
    }
    let quoted = [b"\"", inside, b"\""].concat();
    match serde_json::from_slice::<String>(&quoted) {
        Ok(text) => Cow::Owned(text.into_bytes()),
        Err(_) => Cow::Borrowed(inside),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn scan(text: &str) -> Result<usize, Wrong> {
        let mut scanner = Scanner::new(text);
        scanner.whole_object(|scanner, _| scanner.value().map(drop)).map(|()| scanner.floats)
    }

    #[test]
    fn sound_texts_pass_and_floats_are_counted() {
        // RFC 8259 grammar; the forms are this test's own.
        for (text, floats) in [
            ("{}", 0),
            (r#"{"a":[],"b":{},"c":[1,-2,0],"d":"x\"\\\/\b\f\n\r\tA","e":true,"f":false,"g":null}"#, 0),
            (r#"{"a":9007199254740991,"b":-9007199254740991}"#, 0),
            (r#"{"a":0.5,"b":1e5,"c":-0,"d":-1.5E-7,"e":1E+2}"#, 5),
            ("{ \"a\" :\t[ 1 , 2 ] , \"b\" : { } }", 0),
            (r#"{"pair":"😀","plain":"😀 µm","":0}"#, 0),
            (r#"{"a":{"b":1},"c":{"b":1}}"#, 0),
        ] {
            assert_eq!(scan(text), Ok(floats), "{text}");
        }
    }

    #[test]
    fn unsound_texts_are_refused_for_the_right_reason() {
        for (text, part) in [
            (r#"{"a":1,"a":2}"#, "twice"),
            (r#"{"a":1,"\u0061":2}"#, "twice"),
            (r#"{"x":{"b":1,"c":[{"b":1,"b":1}]}}"#, "twice"),
            (r#"{"a":9007199254740992}"#, "2^53"),
            (r#"{"a":-9007199254740992}"#, "2^53"),
            (r#"{"a":99999999999999999999999}"#, "2^53"),
            (r#"{"a":1e999}"#, "range"),
            (r#"{"a":01}"#, "zero"),
            (r#"{"a":-}"#, "digit"),
            (r#"{"a":1.}"#, "digit"),
            (r#"{"a":.5}"#, "value"),
            (r#"{"a":+1}"#, "value"),
            (r#"{"a":1e}"#, "digit"),
            (r#"{"a":NaN}"#, "value"),
            (r#"{"a":"\uD800"}"#, "surrogate"),
            (r#"{"a":"\uDC00"}"#, "surrogate"),
            (r#"{"a":"\uD800\u0041"}"#, "surrogate"),
            (r#"{"a":"\uD800x"}"#, "surrogate"),
            (r#"{"a":"\u00g0"}"#, "hexadecimal"),
            (r#"{"a":"\u00"}"#, "hexadecimal"),
            (r#"{"a":"\x"}"#, "escape"),
            ("{\"a\":\"\u{1}\"}", "control"),
            ("{\"a\":\"x", "end"),
            (r#"{"a":1"#, "comma"),
            (r#"{"a":1,}"#, "string"),
            (r#"{"a":[1,]}"#, "value"),
            (r#"{"a":[1 2]}"#, "comma"),
            (r#"{"a" 1}"#, "colon"),
            (r"{a:1}", "string"),
            (r#"{"a":1}}"#, "after"),
            (r#"{"a":1} "#, "after"),
            ("[1]", "object"),
            ("", "object"),
            ("\u{feff}{}", "object"),
        ] {
            let wrong = scan(text).expect_err(text);
            assert!(wrong.contains(part), "{text}: {wrong}");
        }
    }

    #[test]
    fn sixteen_levels_pass_and_seventeen_do_not() {
        let nested = |levels: usize| format!("{{\"a\":{}{}}}", "[".repeat(levels - 1), "]".repeat(levels - 1));
        assert_eq!(scan(&nested(16)), Ok(0));
        assert!(scan(&nested(17)).unwrap_err().contains("16"));
        let objects = format!("{}1{}", "{\"a\":".repeat(17), "}".repeat(17));
        assert!(scan(&objects).unwrap_err().contains("16"));
    }

    #[test]
    fn many_keys_cost_no_more_than_sorting_them() {
        let members: Vec<String> = (0..9000).map(|number| format!("\"{number}\":0")).collect();
        assert_eq!(scan(&format!("{{{}}}", members.join(","))), Ok(0));
        assert!(scan(&format!("{{{},\"77\":1}}", members.join(","))).unwrap_err().contains("twice"));
    }
}
