//! Numbers for people: at an instrument's resolution, in full, and with their uncertainty.
//!
//! The minus is the ASCII one and zero never has a sign.

use super::amount::in_unit;
use super::exact::Exact;
use super::{Length, Unit};

const NO_NUMBER: &str = "no number";
const MOST_DECIMALS: u32 = 12;

/// Prints a value in a unit with as many decimals as the resolution has: 0.001 gives three, 0.00005 gives five.
///
/// Both are in `unit`. A resolution that is no positive number prints the value in full.
pub fn at_resolution(value: f64, resolution: f64, unit: &Unit) -> String {
    let text = match decimals_of(resolution) {
        Some(decimals) => fixed(value, decimals),
        None => shortest(value),
    };
    with_unit(&text, unit)
}

/// Prints a length in a unit of length, exactly rounded to the decimals that the resolution has in that unit.
pub fn length(length: Length, unit: &Unit, resolution: Length) -> String {
    let exact = in_unit(length, unit);
    let decimals = in_unit(resolution, unit).filter(|_| resolution > Length::ZERO).map(length_decimals);
    let text = match (exact, decimals) {
        (Some(exact), Some(decimals)) => exact.with_decimals(decimals),
        (Some(exact), None) => exact.shortest(MOST_DECIMALS),
        (None, _) => None,
    };
    match text {
        Some(text) => with_unit(&text, unit),
        None => format!("{} mm", shortest(length.mm())),
    }
}

/// Prints the fewest digits that read back as the same double.
pub fn shortest(value: f64) -> String {
    if !value.is_finite() {
        return NO_NUMBER.to_owned();
    }
    unsigned_zero(value.to_string())
}

/// Prints `value ± u unit`: the uncertainty with two significant digits, the value to the same place (GUM 7.2.6).
///
/// Without an uncertainty above zero the value is printed in full and alone.
pub fn with_uncertainty(value: f64, uncertainty: f64, unit: &Unit) -> String {
    let Some(place) = place_of_second_digit(uncertainty).filter(|_| value.is_finite()) else {
        return with_unit(&shortest(value), unit);
    };
    with_unit(&format!("{} ± {}", to_place(value, place), to_place(uncertainty, place)), unit)
}

/// Puts the unit behind a number; a plain number has none.
pub(super) fn with_unit(number: &str, unit: &Unit) -> String {
    if unit.name == "1" {
        return number.to_owned();
    }
    format!("{number} {}", unit.name)
}

fn fixed(value: f64, decimals: u32) -> String {
    if !value.is_finite() {
        return NO_NUMBER.to_owned();
    }
    unsigned_zero(format!("{value:.0$}", usize::try_from(decimals).unwrap_or(0)))
}

fn unsigned_zero(text: String) -> String {
    match text.strip_prefix('-') {
        Some(rest) if rest.bytes().all(|byte| matches!(byte, b'0' | b'.')) => rest.to_owned(),
        _ => text,
    }
}

fn decimals_of(resolution: f64) -> Option<u32> {
    if !resolution.is_finite() || resolution <= 0.0 {
        return None;
    }
    let text = resolution.to_string();
    let decimals = text.split_once('.').map_or(0, |(_, part)| part.len());
    Some(u32::try_from(decimals).unwrap_or(MOST_DECIMALS).min(MOST_DECIMALS))
}

/// A resolution that no few decimals write (0.001 mm in inches) gets the place next below it.
fn length_decimals(resolution: Exact) -> u32 {
    resolution.decimals(MOST_DECIMALS).unwrap_or_else(|| {
        (0..=MOST_DECIMALS)
            .find(|decimals| resolution.with_decimals(*decimals).is_some_and(|text| text.bytes().any(is_not_zero)))
            .map_or(MOST_DECIMALS, |first_digit| first_digit.min(MOST_DECIMALS))
    })
}

const fn is_not_zero(byte: u8) -> bool {
    matches!(byte, b'1'..=b'9')
}

/// The power of ten of the second significant digit, after rounding: 0.0996 becomes 0.10, so -2.
fn place_of_second_digit(uncertainty: f64) -> Option<i32> {
    if !uncertainty.is_finite() || uncertainty <= 0.0 {
        return None;
    }
    let scientific = format!("{uncertainty:.1e}");
    let (_, exponent) = scientific.split_once('e')?;
    exponent.parse::<i32>().ok().map(|exponent| exponent - 1)
}

fn to_place(value: f64, place: i32) -> String {
    if place <= 0 {
        return fixed(value, place.unsigned_abs());
    }
    let step = 10_f64.powi(place);
    fixed((value / step).round() * step, 0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Dimension;

    fn unit(name: &str) -> &'static Unit {
        Unit::named(name).unwrap()
    }

    #[test]
    fn an_instruments_resolution_is_kept() {
        assert_eq!(at_resolution(0.2, 0.001, unit("mm")), "0.200 mm");
        assert_eq!(at_resolution(0.0102, 0.00005, unit("in")), "0.01020 in");
        assert_eq!(at_resolution(-0.0001, 0.001, unit("mm")), "0.000 mm");
        assert_eq!(at_resolution(37.412, 0.001, unit("deg")), "37.412 deg");
        assert_eq!(at_resolution(12.0, 1.0, unit("1")), "12");
        assert_eq!(at_resolution(f64::NAN, 0.001, unit("mm")), "no number mm");
    }

    #[test]
    fn a_length_is_rounded_exactly() {
        let micrometre = Length::from_picometres(1_000_000);
        assert_eq!(length(Length::from_picometres(111_000_000), unit("mm"), micrometre), "0.111 mm");
        // A half of the last place, which a double of 1.0005 would round down.
        assert_eq!(length(Length::from_picometres(1_000_500_000), unit("mm"), micrometre), "1.001 mm");
        assert_eq!(length(Length::from_picometres(-400_000), unit("mm"), micrometre), "0.000 mm");
        let half_tenth = Length::from_picometres(1_270_000); // 0.00005 in
        assert_eq!(length(Length::from_picometres(259_080_000), unit("in"), half_tenth), "0.01020 in");
        assert_eq!(length(Length::from_picometres(25_400_000_000), unit("in"), micrometre), "1.00000 in");
    }

    /// GUM (JCGM 100) 7.2.6: at most two significant digits of u, the estimate rounded to match.
    #[test]
    fn an_uncertainty_has_two_digits_and_the_value_no_more() {
        assert_eq!(with_uncertainty(100.021_47, 0.000_352, unit("g")), "100.02147 ± 0.00035 g");
        assert_eq!(with_uncertainty(1.234_56, 0.0996, unit("mm")), "1.23 ± 0.10 mm");
        assert_eq!(with_uncertainty(-0.0001, 0.12, unit("mm")), "0.00 ± 0.12 mm");
        assert_eq!(with_uncertainty(1520.4, 123.4, unit("N")), "1520 ± 120 N");
        assert_eq!(with_uncertainty(12.5, 0.0, unit("mm")), "12.5 mm");
    }

    #[test]
    fn shortest_reads_back() {
        assert_eq!(shortest(0.1), "0.1");
        assert_eq!(shortest(-0.0), "0");
        let longest = Unit::of(Dimension::Length, "mm").unwrap().to_base(0.1 + 0.2);
        assert_eq!(shortest(longest).parse::<f64>().unwrap().to_bits(), longest.to_bits());
    }
}
