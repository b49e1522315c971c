//! How people write units, and words that are refused because they mean two things.

use super::super::{Dimension, UNITS, Unit};

/// A unit found at the start of some letters, and how many letters it took.
pub(super) struct Found {
    pub(super) unit: &'static Unit,
    pub(super) letters: usize,
}

/// Why a word is refused, and what would be right.
pub(super) struct Refusal {
    pub(super) what: &'static str,
    pub(super) hint: &'static str,
}

/// Spellings besides the unit's own name, in lower case; a blank stands for one or more blanks.
const SPELLINGS: &[(Dimension, &str, &[&str])] = &[
    (Dimension::Length, "mm", &["millimetre", "millimetres", "millimeter", "millimeters"]),
    (
        Dimension::Length,
        "um",
        &["\u{b5}m", "\u{3bc}m", "micron", "microns", "micrometre", "micrometres", "micrometer", "micrometers"],
    ),
    (Dimension::Length, "m", &["metre", "metres", "meter", "meters"]),
    (Dimension::Length, "in", &["\"", "\u{2033}", "in.", "inch", "inches"]),
    (Dimension::Length, "thou", &["thous"]),
    (Dimension::Angle, "deg", &["\u{b0}", "deg.", "degs", "degree", "degrees"]),
    (Dimension::Angle, "arcmin", &["arcminute", "arcminutes"]),
    (Dimension::Angle, "arcsec", &["arcsecond", "arcseconds"]),
    (Dimension::FeedPerRevolution, "in/rev", &["ipr"]),
    (Dimension::Speed, "in/min", &["ipm"]),
    (Dimension::Speed, "ft/min", &["fpm", "sfm"]),
    (Dimension::TurningSpeed, "rpm", &["rev/min", "r/min"]),
    (Dimension::Force, "N", &["newton", "newtons"]),
    (Dimension::Force, "lbf", &["lb", "lbs", "pounds"]),
    (Dimension::Torque, "N m", &["nm", "n.m", "n\u{b7}m"]),
    (Dimension::Torque, "lbf in", &["in lbf", "in lb", "in-lb", "in-lbf", "lb in", "lbf-in", "lb-in"]),
    (Dimension::Torque, "lbf ft", &["ft lbf", "ft lb", "ft-lb", "ft-lbf", "lb ft", "lbf-ft", "lb-ft"]),
    (Dimension::Stress, "MPa", &["n/mm2", "n/mm\u{b2}"]),
    (Dimension::Time, "s", &["sec", "second", "seconds"]),
    (Dimension::Time, "min", &["minute", "minutes"]),
    (Dimension::Time, "h", &["hr", "hour", "hours"]),
    (Dimension::Temperature, "degC", &["c", "\u{b0}c", "deg c", "celsius"]),
    (Dimension::Temperature, "degF", &["f", "\u{b0}f", "deg f", "fahrenheit"]),
    (Dimension::TemperatureDifference, "K", &["kelvin"]),
    (Dimension::TemperatureDifference, "degC", &["c", "\u{b0}c", "deg c", "celsius"]),
    (Dimension::TemperatureDifference, "degF", &["f", "\u{b0}f", "deg f", "fahrenheit"]),
    (Dimension::Mass, "lb", &["lbs", "pounds"]),
    (Dimension::Percent, "%", &["percent", "per cent", "pct"]),
    (Dimension::Ratio, "1", &["piece", "pieces", "pcs"]),
];

/// Finds the longest spelling that the letters start with; among equally long ones, that of the wanted kind.
pub(super) fn longest(letters: &[char], wanted: Dimension) -> Option<Found> {
    let own_names = UNITS.iter().filter(|unit| !unit.name.starts_with('1')).map(|unit| (unit, unit.name));
    let spelled = SPELLINGS.iter().flat_map(|(dimension, name, words)| {
        let unit = Unit::of(*dimension, name);
        words.iter().filter_map(move |word| unit.map(|unit| (unit, *word)))
    });
    own_names
        .chain(spelled)
        .filter_map(|(unit, word)| matched(letters, word).map(|letters| Found { unit, letters }))
        .max_by_key(|found| (found.letters, found.unit.dimension == wanted))
}

/// How many letters the word takes, if they start with it and it ends there.
fn matched(letters: &[char], word: &str) -> Option<usize> {
    let mut at = 0;
    for expected in word.chars() {
        if expected == ' ' {
            let blanks = letters.iter().skip(at).take_while(|letter| letter.is_whitespace()).count();
            if blanks == 0 {
                return None;
            }
            at += blanks;
        } else {
            let letter = letters.get(at)?;
            if !letter.to_lowercase().eq(expected.to_lowercase()) {
                return None;
            }
            at += 1;
        }
    }
    let ends = letters.get(at).is_none_or(|next| next.is_whitespace() || matches!(next, '+' | '-' | '\u{2212}'));
    ends.then_some(at)
}

/// Returns why a word cannot be a unit, for words that people do type.
pub(super) fn refused(word: &str) -> Option<Refusal> {
    let exponent = word.strip_prefix('e').is_some_and(|rest| rest.bytes().all(|byte| byte.is_ascii_digit()));
    Some(match word {
        "tenth" | "tenths" => Refusal { what: "a \"tenth\" is two different things", hint: "0.0001 in or 0.1 mm?" },
        "mil" | "mils" => Refusal { what: "a \"mil\" is two different things", hint: "0.001 in or 1 mm?" },
        _ if exponent => Refusal { what: "exponents are not read", hint: "Write the number out, such as 0.0015." },
        _ if word.starts_with(['(', ')', '[', ']']) => {
            Refusal { what: "brackets are not read", hint: "Type the sum without them." }
        }
        _ if word.starts_with(['*', '\u{d7}', '\u{b7}', '/', ':', '=', '^']) => {
            Refusal { what: "only + and - are read", hint: "Type the result, or a sum such as 3/16 + 0.0005." }
        }
        _ if word.starts_with('x') => {
            Refusal { what: "neither hexadecimal nor products are read", hint: "Type the decimal number." }
        }
        _ => return None,
    })
}

/// Names the units of a kind, for a hint.
pub(super) fn units_to_use(dimension: Dimension) -> String {
    let names = UNITS.iter().filter(|unit| unit.dimension == dimension).map(|unit| unit.name);
    let names: Vec<&str> = names.filter(|name| !name.starts_with('1')).collect();
    if names.is_empty() {
        return "Type the number alone.".to_owned();
    }
    format!("Units of {}: {}.", dimension.name(), names.join(", "))
}
