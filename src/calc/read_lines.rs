//! Many calculations, one a line.

use std::io::{self, BufRead, Read, Write};

use super::reckon_line;
use super::refused::Refused;

/// The longest line that is read, in bytes.
const LONGEST: u64 = 1024 * 1024;

/// Answers JSON Lines in order, one line for each; a refused line does not stop the lines after it.
///
/// Blank lines are passed over. A line that is no UTF-8 text or longer than 1 MiB is refused like any other that is no
/// JSON object.
///
/// # Errors
/// The input cannot be read or the output not be written.
pub fn reckon_lines(mut input: impl BufRead, mut output: impl Write) -> io::Result<()> {
    let mut line = Vec::new();
    loop {
        line.clear();
        if input.by_ref().take(LONGEST).read_until(b'\n', &mut line)? == 0 {
            return output.flush();
        }
        let too_long = line.len() as u64 == LONGEST && line.last() != Some(&b'\n');
        if too_long {
            input.skip_until(b'\n')?;
        }
        let answer = match std::str::from_utf8(line.trim_ascii()) {
            _ if too_long => refusal("The line is longer than 1 MiB."),
            Ok("") => continue,
            Ok(text) => reckon_line(text),
            Err(_) => refusal("The line is not UTF-8 text."),
        };
        writeln!(output, "{answer}")?;
    }
}

fn refusal(reason: &str) -> String {
    Refused::new("line", reason).to_json().to_string()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn answers(input: &[u8]) -> Vec<String> {
        let mut output = Vec::new();
        reckon_lines(input, &mut output).unwrap();
        String::from_utf8(output).unwrap().lines().map(str::to_owned).collect()
    }

    const GOOD: &[u8] = br#"{"name":"flip-centreline","inputs":{"midpoint_at_180":3,"midpoint_at_0":1}}"#;

    #[test]
    fn a_line_that_is_no_text_or_too_long_is_refused_and_the_next_is_answered() {
        let long = vec![b'7'; 3 * 1024 * 1024];
        let input = [b"\xff\xfe\n", GOOD, b"\r\n\n  \n", &long, b"\n", GOOD].concat();
        let answers = answers(&input);
        assert_eq!(answers.len(), 4, "{answers:?}");
        assert_eq!(answers[0], r#"{"error":{"reason":"The line is not UTF-8 text.","input":"line"}}"#);
        assert_eq!(answers[2], r#"{"error":{"reason":"The line is longer than 1 MiB.","input":"line"}}"#);
        assert!(answers[1].starts_with("{\"centreline_y\"") && answers[1] == answers[3]);
    }

    #[test]
    fn a_line_of_exactly_the_longest_length_is_read_whole() {
        let longest = usize::try_from(LONGEST).unwrap();
        let blank = vec![b' '; longest - GOOD.len() - 1];
        let mut input = [&blank, GOOD, b"\n"].concat();
        assert_eq!(input.len(), longest);
        input.extend_from_slice(GOOD);
        assert_eq!(answers(&input).len(), 2);
    }
}
