//! Does one of several repeats look like a typing slip, and which one?

use crate::calc::limits;
use crate::calc::readings::statistics::median;
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

/// Ratios that name a slip, each good within 10 %.
const SLIPS: [(f64, &str); 8] = [
    (1.0, "as-expected"),
    (-1.0, "opposite-sign"),
    (10.0, "times-10"),
    (0.1, "divided-by-10"),
    (25.4, "times-25.4"),
    (1.0 / 25.4, "divided-by-25.4"),
    (2.0, "times-2"),
    (0.5, "divided-by-2"),
];

fn solve(given: &Given) -> Result<Answer, Refused> {
    let readings = given.numbers("readings")?;
    let median = median(readings);
    if median.abs() <= 0.0 {
        return Err(Refused::new("readings", "The median is zero: a ratio to it tells nothing."));
    }
    let distance = |reading: f64| (reading - median).abs();
    let mut suspect = (0, median);
    for (place, reading) in readings.iter().enumerate() {
        if place == 0 || distance(*reading) > distance(suspect.1) {
            suspect = (place, *reading);
        }
    }
    let ratio = suspect.1 / median;
    let named = SLIPS.iter().find(|(slip, _)| limits::within((ratio / slip - 1.0).abs(), 0.1));
    let name = named.map_or(if ratio.abs() <= 0.02 { "zero" } else { "unexplained" }, |(_, name)| name);
    Ok(Answer::new()
        .with("median", median)
        .with("suspect_position", suspect.0 + 1)
        .with("ratio", ratio)
        .with("slip_name", name))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, refuses};

    // Common practice: the slips that a hand makes, by their ratio.
    #[test]
    fn slips_are_named_by_their_ratio() {
        for (suspect, name) in [
            (1.11, "times-10"),
            (0.0111, "divided-by-10"),
            (2.8194, "times-25.4"),
            (0.004_37, "divided-by-25.4"),
            (-0.111, "opposite-sign"),
            (0.222, "times-2"),
            (0.0555, "divided-by-2"),
            (0.0, "zero"),
            (0.5, "unexplained"),
        ] {
            holds(
                "typing-slip",
                &json!({"readings": [0.111, suspect, 0.111]}),
                &json!({"suspect_position": 2, "slip_name": name}),
            );
        }
        holds("typing-slip", &json!({"readings": [0.111, 0.111, 0.1111]}), &json!({"slip_name": "as-expected"}));
    }

    #[test]
    fn two_readings_or_a_median_of_zero_are_refused() {
        refuses("typing-slip", &json!({"readings": [1, 2]}), "readings");
        refuses("typing-slip", &json!({"readings": [0, 0, 1]}), "readings");
    }
}
