//! Does one of several repeats look like a typing slip, and which one?

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
