//! What a machinist types, what it means, and what is refused. Where no standard settles an entry, its source is the
//! grammar at the top of `typed.rs` or "common practice".

use super::*;
use proptest::prelude::*;

fn unit(name: &str) -> &'static Unit {
    Unit::named(name).unwrap()
}

fn length(text: &str, default: &str) -> Result<Quantity, Misread> {
    read(text, Dimension::Length, unit(default))
}

fn picometres(text: &str, default: &str) -> i64 {
    length(text, default).unwrap_or_else(|misread| panic!("{text}: {misread}")).length().unwrap().picometres()
}

fn refusal(text: &str) -> String {
    length(text, "in").unwrap_err().to_string()
}

/// 25.4 mm to the inch, exact (ISO 80000-3; NIST SP 811 appendix B.8). The entries are those of the issue.
#[test]
fn the_shops_ways_to_type_a_length_are_exact() {
    let cases: [(&str, &str, i64); 24] = [
        ("1.7394", "in", 44_180_760_000),
        ("1-3/8", "in", 34_925_000_000),
        ("1 3/8", "in", 34_925_000_000),
        ("2 5/16 in", "mm", 58_737_500_000),
        ("38.42 mm", "in", 38_420_000_000),
        ("3 thou", "mm", 76_200_000),
        ("0.5um", "mm", 500_000),
        ("0.5 \u{b5}m", "mm", 500_000),
        ("-0.0008", "in", -20_320_000),
        ("+5", "mm", 5_000_000_000),
        (".5", "mm", 500_000_000),
        ("5.", "mm", 5_000_000_000),
        ("12,5", "mm", 12_500_000_000),
        ("3/16 + 0.0005", "in", 4_775_200_000),
        ("1.25 - 3 thou", "in", 31_673_800_000),
        ("3/16 + 0.0005 in", "mm", 4_775_200_000),
        ("1-3/8\"", "mm", 34_925_000_000),
        ("1 INCH", "mm", 25_400_000_000),
        ("2 inches", "mm", 50_800_000_000),
        ("1 - 3/8", "in", 15_875_000_000),
        ("2 - 1-3/8", "in", 15_875_000_000),
        ("-1-3/8", "in", -34_925_000_000),
        ("12,5 + 3,25", "mm", 15_750_000_000),
        ("1 in + 1 mm", "mm", 26_400_000_000),
    ];
    for (text, default, expected) in cases {
        assert_eq!(picometres(text, default), expected, "{text}");
    }
}

/// Arithmetic: 25.4 / 64 mm = 396 875 000 pm.
#[test]
fn every_sixty_fourth_of_an_inch_is_exact() {
    for count in 1..64 {
        assert_eq!(picometres(&format!("{count}/64"), "in"), count * 396_875_000);
    }
}

/// In doubles one such reading in eight is judged out; in picometres none is.
#[test]
fn readings_exactly_on_their_limit_are_inside() {
    let tolerance = length("0.0005", "in").unwrap().length().unwrap();
    for count in 0..40_000_u32 {
        let nominal = format!("{}.{:04}", count / 10_000, count % 10_000);
        let reading = format!("{}.{:04}", (count + 5) / 10_000, (count + 5) % 10_000);
        let limit = length(&nominal, "in").unwrap().length().unwrap() + tolerance;
        let reading = length(&reading, "in").unwrap().length().unwrap();
        assert!(reading <= limit && reading == limit, "{nominal}");
    }
}

#[test]
fn what_is_shown_back_says_how_it_was_understood() {
    let echo = |text: &str, default: &str| length(text, default).unwrap().echo();
    assert_eq!(echo("0.111", "mm"), "0.111 mm");
    assert_eq!(echo("1-3/8", "in"), "1.375 in (34.925 mm)");
    assert_eq!(echo("1 - 3/8", "in"), "0.625 in (15.875 mm)");
    assert_eq!(echo("3 thou", "mm"), "3 thou (0.0762 mm)");
    assert_eq!(echo("12,5", "mm"), "12.5 mm");
    assert_eq!(echo("12.5 + 0.25", "mm"), "12.75 mm (about 0.50197 in)");
    assert_eq!(echo("-0.0008", "in"), "-0.0008 in");
    let angle = read("22.505 degrees", Dimension::Angle, unit("deg")).unwrap();
    assert_eq!(angle.echo(), "22.505 deg");
}

#[test]
fn a_thou_or_a_micrometre_stands_for_its_own_number_only() {
    assert_eq!(picometres("1.25 - 3 thou", "mm"), 1_173_800_000);
    assert_eq!(picometres("1.25 + 5 um", "in"), 31_755_000_000);
    assert_eq!(picometres("1.25 - 3 thou + 1 mm", "in"), 2_173_800_000);
    assert_eq!(length("1.25 - 3 thou", "in").unwrap().unit().name, "in");
    assert_eq!(picometres("1-3/8 in + 0.0005", "in"), 34_937_700_000);
    let misread = length("1-3/8 in + 0.0005", "mm").unwrap_err();
    assert_eq!((misread.column, misread.hint.as_str()), (12, "Write in or mm behind it."));
}

#[test]
fn a_third_of_an_inch_is_rounded_to_the_picometre_and_a_finer_decimal_refused() {
    assert_eq!(picometres("1/3", "in"), 8_466_666_667);
    assert_eq!(picometres("-1/3", "in"), -8_466_666_667);
    assert!(refusal("0.000000001").contains("picometre")); // 25.4 pm
    assert_eq!(picometres("0.00000001", "in"), 254);
}

#[test]
fn refusals_say_what_would_be_right() {
    let cases = [
        ("1 tenth", "0.0001 in or 0.1 mm?"),
        ("3 tenths", "0.0001 in or 0.1 mm?"),
        ("2 mil", "0.001 in or 1 mm?"),
        ("1,234.5", "both"),
        ("1.234,5", "both"),
        ("1,234,567", "one decimal mark"),
        ("1.2.3", "one decimal mark"),
        ("1e3", "exponents"),
        ("1E-3", "exponents"),
        ("0x1F", "hexadecimal"),
        ("(1+2)", "brackets"),
        ("1 (2)", "brackets"),
        ("NaN", "is no number"),
        ("inf", "is no number"),
        ("-inf", "is no number"),
        ("1 -3/8", "1 - 3/8"),
        ("1- 3/8", "1 - 3/8"),
        ("0-3/8", "mixed number"),
        ("1-9/8", "mixed number"),
        ("1-8/8", "mixed number"),
        ("1/0", "divided by 0"),
        ("1.5/2", "whole numbers"),
        ("1/2.5", "whole numbers"),
        ("3 / 16", "only + and -"),
        ("3*4", "only + and -"),
        ("5 deg", "but length is wanted"),
        ("5 N m", "unit of torque"),
        ("5 furlongs", "mm, um, m, in, thou"),
        ("5 mm mm", "no unit known here"),
        ("22 30", "own field"),
        ("--5", "two signs"),
        ("5 +", "missing at the end"),
        ("", "nothing was typed"),
        ("1234567890123456", "at most 15 digits"),
        ("9999999 m", "beyond 9 km"),
        ("\u{bd}", "is no number"),
    ];
    for (text, expected) in cases {
        let refusal = refusal(text);
        assert!(refusal.contains(expected), "{text}: {refusal}");
    }
    assert!(refusal(&"1+".repeat(40)).contains("too long"));
}

#[test]
fn the_column_is_the_one_on_screen() {
    assert_eq!(length("1.25 + abc", "mm").unwrap_err().column, 8);
    assert_eq!(length("  1.25 abc", "mm").unwrap_err().column, 8);
    assert_eq!(length("1,234.5", "mm").unwrap_err().column, 6);
}

#[test]
fn other_kinds_are_read_the_same_way() {
    let text = |text: &str, dimension, default: &str| {
        let quantity = read(text, dimension, Unit::of(dimension, default).unwrap()).unwrap();
        (quantity.echo(), quantity.base_value())
    };
    assert_eq!(text("37,595", Dimension::Angle, "deg").0, "37.595 deg");
    assert_eq!(text("22 1/2", Dimension::Angle, "deg").0, "22.5 deg");
    assert_eq!(text("-0.183\u{b0}", Dimension::Angle, "deg").0, "-0.183 deg");
    assert_eq!(text("12", Dimension::Ratio, "1").0, "12");
    assert_eq!(text("12 pieces", Dimension::Ratio, "1").0, "12");
    assert_eq!(text("30 %", Dimension::Percent, "%").0, "30 %");
    assert_eq!(text("22.4 C", Dimension::Temperature, "degC").0, "22.4 degC");
    // 68 degF is the reference temperature of 20 degC (ISO 1).
    assert!((text("68 \u{b0}F", Dimension::Temperature, "degC").1 - 20.0).abs() < 1e-12);
    assert_eq!(text("1520", Dimension::Force, "N").0, "1520 N");
    // 1 lbf = 4.448 221 615 260 5 N (NIST SP 811 appendix B.8).
    assert!((text("1 lb", Dimension::Force, "N").1 - 4.448_221_615_260_5).abs() < 1e-15);
    assert_eq!(text("3.2 Nm", Dimension::Torque, "N m").0, "3.2 N m");
    assert_eq!(text("8 ft-lb", Dimension::Torque, "N m").0, "8 lbf ft");
    assert_eq!(text("0.0025 ipr", Dimension::FeedPerRevolution, "mm/rev").0, "0.0025 in/rev");
    let mixed = read("1 deg + 30 arcmin", Dimension::Angle, unit("deg")).unwrap_err();
    assert!(mixed.hint.contains("one unit"), "{mixed}");
}

#[test]
fn counts_are_whole_and_not_negative() {
    let count = |text: &str| read(text, Dimension::Ratio, unit("1")).unwrap().count();
    assert_eq!(count("12"), Some(12));
    assert_eq!(count("12.5"), None);
    assert_eq!(count("-1"), None);
    assert_eq!(length("12", "mm").unwrap().count(), None);
}

#[test]
fn values_are_the_nearest_doubles() {
    let quantity = length("0.111", "mm").unwrap();
    assert_eq!(quantity.value_in(unit("mm")).to_bits(), 0.111_f64.to_bits());
    assert_eq!(length("1.7394", "in").unwrap().value_in(unit("in")).to_bits(), 1.7394_f64.to_bits());
    assert_eq!(length("3 thou", "mm").unwrap().value_in(unit("thou")).to_bits(), 3.0_f64.to_bits());
    assert_eq!(length("1-3/8", "in").unwrap().value_in(unit("mm")).to_bits(), 34.925_f64.to_bits());
}

proptest! {
    #[test]
    fn no_text_makes_it_panic(text in any::<String>()) {
        for dimension in [Dimension::Length, Dimension::Angle, Dimension::Torque, Dimension::Ratio] {
            let default = base_unit(dimension);
            if let Ok(quantity) = read(&text, dimension, default) {
                prop_assert!(quantity.base_value().is_finite());
                prop_assert_eq!(Quantity::from_entry_json(&quantity.to_entry_json()).unwrap(), quantity);
            }
        }
        let _ = read_degrees_minutes_seconds(&text);
    }

    #[test]
    fn no_entry_like_text_makes_it_panic(text in "[-+0-9./, \"a-eimnotuh°µ−]{0,24}") {
        for default in ["mm", "in"] {
            if let Ok(quantity) = length(&text, default) {
                prop_assert_eq!(Quantity::from_entry_json(&quantity.to_entry_json()).unwrap(), quantity.clone());
                prop_assert!(!quantity.echo().is_empty());
            }
        }
    }

    #[test]
    fn a_printed_length_reads_back_exactly(picometres in -9_007_199_254_740_991_i64..=9_007_199_254_740_991) {
        let whole = Length::from_picometres(picometres);
        let printed = crate::quantity::print::length(whole, unit("mm"), Length::from_picometres(1));
        prop_assert_eq!(read_back(&printed), Some(whole));
    }

    #[test]
    fn an_echo_reads_back_to_the_same_length(thousandths in -999_999_i64..999_999, numerator in 1_u32..64) {
        let text = format!("{}.{:03}", thousandths / 1000, (thousandths % 1000).abs());
        for entry in [text, format!("{}-{numerator}/64", (thousandths.abs() / 1000).max(1))] {
            let quantity = length(&entry, "in").unwrap();
            let echo = quantity.echo();
            let own = echo.split(" (").next().unwrap();
            prop_assert_eq!(length(own, "mm").unwrap().length(), quantity.length());
        }
    }
}

fn read_back(printed: &str) -> Option<Length> {
    // Sixteen digits are one more than a person may type, so whole millimetres and the rest are read apart.
    let (whole, part) = printed.strip_suffix(" mm")?.split_once('.')?;
    let negative = whole.starts_with('-');
    let whole = picometres(whole, "mm").abs();
    let part = picometres(&format!("0.{part}"), "mm");
    Some(Length::from_picometres(if negative { -(whole + part) } else { whole + part }))
}

fn base_unit(dimension: Dimension) -> &'static Unit {
    crate::quantity::UNITS.iter().find(|unit| unit.dimension == dimension).unwrap()
}
