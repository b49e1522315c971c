//! Degrees, minutes and seconds, in their own field only.

use super::super::exact::Exact;
use super::super::{Amount, Dimension, Quantity, Unit};
use super::{Misread, decimal_of, trimmed};

/// The most digits of the degrees.
const MOST_DEGREE_DIGITS: usize = 6;

/// Reads `22 30 18`: whole degrees, minutes and seconds with blanks between them, a sign before the degrees for all three.
///
/// The result is in decimal degrees, rounded to fifteen decimals where it has to be. Minutes and seconds are 0 to 59.
/// Decimals are refused: 22.30 could be 22 degrees 30 minutes or 22.3 degrees.
pub fn read_degrees_minutes_seconds(text: &str) -> Result<Quantity, Misread> {
    let trimmed = trimmed(text)?;
    let degrees_unit = Unit::of(Dimension::Angle, "deg").ok_or_else(|| wrong_form(1))?;
    let negative = trimmed.starts_with(['-', '\u{2212}']);
    let unsigned = trimmed.strip_prefix(['-', '\u{2212}', '+']).unwrap_or(trimmed);
    if let Some(mark) = trimmed.chars().position(|letter| matches!(letter, '.' | ',')) {
        let hint = "Type whole degrees, minutes and seconds with blanks between: 22 30 18.";
        return Err(Misread::new(mark + 1, "decimals are not read in this form", hint));
    }
    let fields: Vec<&str> = unsigned.split_whitespace().collect();
    let [degrees, minutes, seconds] = fields.as_slice() else {
        return Err(wrong_form(1));
    };
    let degrees = whole(degrees, MOST_DEGREE_DIGITS).ok_or_else(|| wrong_form(1))?;
    let minutes = sixtieths(minutes, "minutes", trimmed)?;
    let seconds = sixtieths(seconds, "seconds", trimmed)?;
    let all_seconds = degrees * 3600 + minutes * 60 + seconds;
    let exact = Exact::new(if negative { -all_seconds } else { all_seconds }, 3600);
    let decimal = exact.and_then(decimal_of).ok_or_else(|| wrong_form(1))?;
    Ok(Quantity::from_parts(trimmed.to_owned(), Amount::Other(decimal), degrees_unit))
}

fn whole(field: &str, most_digits: usize) -> Option<i128> {
    let digits = !field.is_empty() && field.len() <= most_digits && field.bytes().all(|byte| byte.is_ascii_digit());
    if digits { field.parse().ok() } else { None }
}

fn sixtieths(field: &str, name: &str, text: &str) -> Result<i128, Misread> {
    whole(field, 2).filter(|number| *number < 60).ok_or_else(|| {
        let column = text.rfind(field).map_or(1, |byte| text.chars().count().min(byte + 1));
        Misread::new(
            column,
            format!("{name} are whole numbers from 0 to 59"),
            "Type degrees, minutes, seconds: 22 30 18.",
        )
    })
}

fn wrong_form(column: usize) -> Misread {
    let hint = "Type three whole numbers with blanks between: 22 30 18, or -0 30 00.";
    Misread::new(column, "this is not degrees, minutes and seconds", hint)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn degrees(text: &str) -> f64 {
        read_degrees_minutes_seconds(text).unwrap().base_value()
    }

    /// 1 degree = 60 minutes = 3600 seconds (SI brochure, table 8).
    #[test]
    fn minutes_and_seconds_become_decimal_degrees() {
        assert!((degrees("22 30 18") - 22.505).abs() < 1e-15);
        assert!((degrees("-0 30 00") + 0.5).abs() < 1e-15);
        assert!((degrees("+7 00 01") - (7.0 + 1.0 / 3600.0)).abs() < 1e-14);
        assert_eq!(read_degrees_minutes_seconds("22 30 18").unwrap().echo(), "22.505 deg");
    }

    #[test]
    fn other_forms_are_refused_with_the_right_one() {
        for text in
            ["22.30", "22 30", "22 60 00", "22 30 60", "22 -30 00", "a b c", "", "22 30 18.5", "1 2 3 4", "- 5 0 0 0"]
        {
            let misread = read_degrees_minutes_seconds(text).unwrap_err();
            assert!(misread.hint.contains("22 30 18") || text.is_empty(), "{text}: {misread}");
        }
        assert_eq!(read_degrees_minutes_seconds("22.30").unwrap_err().column, 3);
        assert_eq!(read_degrees_minutes_seconds("22 75 00").unwrap_err().column, 4);
    }
}
