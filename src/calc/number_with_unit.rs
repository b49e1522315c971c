//! Text that carries a number and a unit, as it stands in JSON: "0.5 in", "12 thou", "30%".

use crate::quantity::Unit;

/// Reads a number and a unit of the same kind as `key_unit`, and changes it into `key_unit`.
///
/// The number has an optional sign, a decimal point and an optional exponent; blanks between number and unit may be
/// left out. The result is not checked to be finite. The error is a phrase that says what is wrong with the text.
pub(super) fn read(text: &str, key_unit: &str) -> Result<f64, String> {
    if key_unit == "1" {
        return Err("takes a plain number without quotation marks".to_owned());
    }
    let trimmed = text.trim();
    let (digits, unit_name) = trimmed.split_at(number_length(trimmed));
    let Ok(number) = digits.parse::<f64>() else {
        return Err(format!("is \"{text}\", which does not begin with a number: write it like \"0.5 {key_unit}\""));
    };
    let unit_name = unit_name.trim_start();
    if unit_name.is_empty() {
        return Err(format!("is \"{text}\", text without a unit: write it like \"{trimmed} {key_unit}\""));
    }
    change(number, unit_name, key_unit)
}

fn change(number: f64, unit_name: &str, key_unit: &str) -> Result<f64, String> {
    if unit_name == key_unit {
        return Ok(number);
    }
    let Some(into) = Unit::named(key_unit) else {
        return Err("takes a plain number".to_owned());
    };
    match Unit::of(into.dimension, unit_name) {
        Some(from) => Ok(into.from_base(from.to_base(number))),
        None if Unit::named(unit_name).is_some() => {
            Err(format!("is in \"{unit_name}\", which is no unit of {}: give it in {key_unit}", into.dimension.name()))
        }
        None => Err(format!("is in \"{unit_name}\", which is no known unit: give it in {key_unit}")),
    }
}

/// Returns how many bytes at the beginning of the text belong to the number.
fn number_length(text: &str) -> usize {
    let bytes = text.as_bytes();
    let digits = |from: usize| bytes.iter().skip(from).take_while(|byte| byte.is_ascii_digit()).count();
    let mut length = usize::from(matches!(bytes.first(), Some(b'+' | b'-')));
    length += digits(length);
    if bytes.get(length) == Some(&b'.') {
        length += 1 + digits(length + 1);
    }
    if matches!(bytes.get(length), Some(b'e' | b'E')) {
        let sign = usize::from(matches!(bytes.get(length + 1), Some(b'+' | b'-')));
        let exponent = digits(length + 1 + sign);
        if exponent > 0 {
            length += 1 + sign + exponent;
        }
    }
    length
}

#[cfg(test)]
mod tests {
    use super::*;

    // 25.4 mm to the inch, 1/60 degree to the minute of arc, 304.8 mm to the foot: exact by definition.
    #[test]
    fn units_of_one_kind_are_changed_into_the_unit_of_the_key() {
        for (text, unit, number) in [
            ("0.5 in", "mm", 12.7),
            ("12thou", "mm", 0.3048),
            ("+1.5e1 arcmin", "deg", 0.25),
            ("-.5 deg", "deg", -0.5),
            ("30%", "%", 30.0),
            ("60 ft/min", "m/min", 18.288),
            ("2 m", "um", 2e6),
            ("5. mm", "m", 0.005),
            ("68 degF", "degC", 20.0),
            ("9 degF", "K", 5.0),
            ("1 h", "min", 60.0),
            (" 2 N m ", "N m", 2.0),
        ] {
            let read = read(text, unit).unwrap();
            assert!((read - number).abs() <= 1e-15 * number.abs(), "{text}: {read}");
        }
    }

    #[test]
    fn text_that_is_no_number_with_a_unit_of_the_kind_is_refused() {
        for (text, unit) in [
            ("5", "mm"),
            ("mm", "mm"),
            ("", "mm"),
            ("5 deg", "mm"),
            ("5 furlong", "mm"),
            ("5 MM", "mm"),
            ("0.5 1", "1"),
            ("0.5", "1"),
            ("1,5 mm", "mm"),
            ("nan mm", "mm"),
            ("inf mm", "mm"),
            ("--5 mm", "mm"),
            ("1 2 mm", "mm"),
            ("1e mm", "mm"),
            ("0x10 mm", "mm"),
            (". mm", "mm"),
            ("5 K", "degC"),
        ] {
            assert!(read(text, unit).is_err(), "{text}");
        }
    }
}
