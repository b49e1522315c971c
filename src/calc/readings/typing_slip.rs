//! Does one of several repeats look like a typing slip, and which one?

use super::statistics;
use crate::calc::limits;
use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "typing-slip",
    version: 1,
    topic: "metrology",
    question: "Does one of several repeats look like a typing slip, and which one?",
    formula: "median; suspect = reading with the largest |reading - median| (first one if equal); ratio = \
         suspect/median; slip_name: ratio within 10 % of 1 -> as-expected, -1 -> opposite-sign, 10 -> times-10, 0.1 \
         -> divided-by-10, 25.4 -> times-25.4, 1/25.4 -> divided-by-25.4, 2 -> times-2, 0.5 -> divided-by-2; \
         absolute ratio of 0.02 or less -> zero; else unexplained",
    inputs: &[Input::quantities("readings", "mm", "repeats of one reading").least_items(3)],
    outputs: &[
        Output::quantity("median", "mm", "median of the readings"),
        Output::count("suspect_position", "which reading is suspect, counted from 1"),
        Output::quantity("ratio", "1", "suspect over median"),
        Output::word(
            "slip_name",
            &[
                "as-expected",
                "opposite-sign",
                "zero",
                "times-10",
                "divided-by-10",
                "times-25.4",
                "divided-by-25.4",
                "times-2",
                "divided-by-2",
                "unexplained",
            ],
            "name of the slip",
        ),
    ],
    refusals: &[Refusal::of("readings", "fewer than three, or a median of zero")],
    usual_mistake: "changing the entry silently: ask, never change",
    validity: "repeats of one thing, median not near zero",
    source: "robust ratio check",
    example: r#"{"readings": [12.345, 12.346, 123.45]}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let readings = given.numbers("readings")?;
    let median = statistics::median(readings);
    if median.abs() <= 0.0 {
        let reason = "readings have a median of zero: a slip can only be named against a length.";
        return Err(Refused::new("readings", reason));
    }
    let (mut position, mut suspect, mut furthest) = (1, median, -1.0);
    for (place, reading) in (1_usize..).zip(readings) {
        let apart = (reading - median).abs();
        if apart > furthest {
            (position, suspect, furthest) = (place, *reading, apart);
        }
    }
    let ratio = suspect / median;
    Ok(Answer::new()
        .with("median", median)
        .with("suspect_position", position)
        .with("ratio", ratio)
        .with("slip_name", slip_name(ratio)))
}

fn slip_name(ratio: f64) -> &'static str {
    const MILLIMETRES_PER_INCH: f64 = 25.4;
    const CLOSE: f64 = 0.1;
    const NOTHING: f64 = 0.02;
    let slips = [
        ("as-expected", 1.0),
        ("opposite-sign", -1.0),
        ("times-10", 10.0),
        ("divided-by-10", 0.1),
        ("times-25.4", MILLIMETRES_PER_INCH),
        ("divided-by-25.4", 1.0 / MILLIMETRES_PER_INCH),
        ("times-2", 2.0),
        ("divided-by-2", 0.5),
    ];
    let slip = slips.iter().find(|(_, of)| limits::within((ratio / of - 1.0).abs(), CLOSE));
    match slip {
        Some((name, _)) => name,
        None if limits::within(ratio.abs(), NOTHING) => "zero",
        None => "unexplained",
    }
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, refuses};

    // Common practice: a decimal point, a sign, an inch and a radius for a diameter each leave their ratio.
    #[test]
    fn every_slip_is_named() {
        for (typed, name) in [
            (12.4, "as-expected"),
            (-12.345, "opposite-sign"),
            (123.45, "times-10"),
            (1.2345, "divided-by-10"),
            (313.6, "times-25.4"),
            (0.486, "divided-by-25.4"),
            (24.69, "times-2"),
            (6.1725, "divided-by-2"),
            (0.0, "zero"),
            (0.24, "zero"),
            (50.0, "unexplained"),
        ] {
            let inputs = json!({"readings": [12.345, typed, 12.346, 12.344, 12.345]});
            holds("typing-slip", &inputs, &json!({"slip_name": name, "median": 12.345, "suspect_position": 2}));
        }
    }

    // By hand: the median of an even number lies between the middle two; of two equally far the first is suspect.
    #[test]
    fn the_first_of_equals_is_suspect() {
        let inputs = json!({"readings": [4, 2, 3, 3.5, 2.5, 3]});
        let expected = json!({"median": 3.0, "suspect_position": 1, "ratio": 4.0 / 3.0, "slip_name": "unexplained"});
        holds("typing-slip", &inputs, &expected);
        refuses("typing-slip", &json!({"readings": [1, 2]}), "readings");
        refuses("typing-slip", &json!({"readings": [1, 0, -1]}), "readings");
    }
}
