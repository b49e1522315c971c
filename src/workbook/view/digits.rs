//! Large digits: a table of our own, five rows high, three columns wide.

/// Draws a number as rows of large digits; `None` when a letter has no large form.
fn rows(number: &str, scale: usize, ascii: bool) -> Option<Vec<String>> {
    let ink = if ascii { "#" } else { "\u{2588}" };
    let glyphs: Vec<[u8; 5]> = number.chars().map(glyph).collect::<Option<_>>()?;
    let mut rows = Vec::with_capacity(5 * scale);
    for row in 0..5 {
        let mut text = String::new();
        for bits in &glyphs {
            let bits = bits.get(row).copied().unwrap_or_default();
            for column in (0..3).rev() {
                let cell = if bits >> column & 1 == 1 { ink } else { " " };
                text.push_str(&cell.repeat(scale));
            }
            text.push_str(&" ".repeat(scale));
        }
        for _ in 0..scale {
            rows.push(text.clone());
        }
    }
    Some(rows)
}

/// Draws a number as large as fits into columns and rows; `None` when not even the smallest form does.
pub(super) fn fitting(number: &str, (columns, rows): (usize, usize), ascii: bool) -> Option<Vec<String>> {
    let letters = number.chars().count().max(1);
    let scale = (columns / (letters * 4)).min(rows / 5);
    if scale == 0 { None } else { self::rows(number, scale, ascii) }
}

/// Three bits a row, the left column first.
fn glyph(letter: char) -> Option<[u8; 5]> {
    Some(match letter {
        '0' => [0b111, 0b101, 0b101, 0b101, 0b111],
        '1' => [0b010, 0b110, 0b010, 0b010, 0b111],
        '2' => [0b111, 0b001, 0b111, 0b100, 0b111],
        '3' => [0b111, 0b001, 0b111, 0b001, 0b111],
        '4' => [0b101, 0b101, 0b111, 0b001, 0b001],
        '5' => [0b111, 0b100, 0b111, 0b001, 0b111],
        '6' => [0b111, 0b100, 0b111, 0b101, 0b111],
        '7' => [0b111, 0b001, 0b001, 0b010, 0b010],
        '8' => [0b111, 0b101, 0b111, 0b101, 0b111],
        '9' => [0b111, 0b101, 0b111, 0b001, 0b111],
        '.' => [0b000, 0b000, 0b000, 0b000, 0b010],
        '-' => [0b000, 0b000, 0b111, 0b000, 0b000],
        '/' => [0b001, 0b001, 0b010, 0b100, 0b100],
        ' ' => [0; 5],
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_number_is_five_rows_high_and_letters_have_no_large_form() {
        let rows = rows("-37.412", 1, true).unwrap();
        assert_eq!(rows.len(), 5);
        assert!(rows.iter().all(|row| row.chars().count() == 7 * 4));
        assert_eq!(rows[2].trim_end(), "### ###   #     ###  #  ###");
        assert!(super::rows("12 mm", 1, true).is_none());
    }
}
