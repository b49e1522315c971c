//! Words broken into rows, so that nothing runs out at the right edge.

use unicode_width::UnicodeWidthStr;

/// Breaks words into rows of at most `width` columns; a word that is longer is broken hard.
pub(super) fn wrap(words: &str, width: usize) -> Vec<String> {
    let width = width.max(1);
    let mut rows: Vec<String> = Vec::new();
    let mut row = String::new();
    for word in words.split_whitespace() {
        let gap = usize::from(!row.is_empty());
        if row.width() + gap + word.width() <= width {
            row.push_str(&" ".repeat(gap));
            row.push_str(word);
            continue;
        }
        if !row.is_empty() {
            rows.push(std::mem::take(&mut row));
        }
        row = broken(word, width, &mut rows);
    }
    if !row.is_empty() {
        rows.push(row);
    }
    rows
}

/// Breaks a long word over whole rows and returns what is left of it.
fn broken(word: &str, width: usize, rows: &mut Vec<String>) -> String {
    let mut row = String::new();
    for letter in word.chars() {
        if row.width() >= width {
            rows.push(std::mem::take(&mut row));
        }
        row.push(letter);
    }
    row
}

/// Breaks words into rows that begin with `lead`; later rows are indented by as much.
pub(super) fn paragraph(lead: &str, words: &str, width: usize) -> Vec<String> {
    let indent = " ".repeat(lead.width());
    let rows = wrap(words, width.saturating_sub(lead.width() + 1));
    rows.into_iter()
        .enumerate()
        .map(|(place, row)| if place == 0 { format!("{lead}{row}") } else { format!("{indent}{row}") })
        .collect()
}

/// Cuts words to a width; two dots say that something is missing.
pub(super) fn cut(words: &str, width: usize) -> String {
    if words.width() <= width {
        return words.to_owned();
    }
    let mut row = String::new();
    for letter in words.chars() {
        if row.width() + 3 > width {
            break;
        }
        row.push(letter);
    }
    format!("{row}..").chars().take(width).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_are_broken_between_words_and_only_long_ones_within() {
        assert_eq!(wrap("turn the rotary to", 10), ["turn the", "rotary to"]);
        assert_eq!(wrap("abcdefgh ij", 3), ["abc", "def", "gh", "ij"]);
        assert!(wrap("", 5).is_empty());
        assert_eq!(paragraph(" ! ", "spindle off and stopped", 16), [" ! spindle off", "   and stopped"]);
    }

    #[test]
    fn what_is_cut_says_so() {
        assert_eq!(cut("rotary tram", 11), "rotary tram");
        assert_eq!(cut("rotary tram", 8), "rotary..");
        for width in 0..12 {
            assert!(cut("rotary tram", width).width() <= width);
        }
    }
}
