//! Which value does Student's t stay below with a given probability?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "student-t-quantile",
    version: 1,
    topic: "metrology",
    question: "Which value does Student's t stay below with a given probability?",
    formula: "quantile t with P(T <= t) = probability for degrees_of_freedom; the normal quantile when infinite",
    inputs: &[
        Input::quantity("probability", "1", "one-sided cumulative probability").above(0.0).below(1.0),
        Input::degrees_of_freedom(
            "degrees_of_freedom",
            "a number of at least 1 (need not be whole), or the word 'infinite'",
        )
        .at_least(1.0),
    ],
    outputs: &[Output::quantity("quantile", "1", "value of t")],
    refusals: &[],
    usual_mistake: "a two-sided 95 % interval needs the quantile at 0.975, not at 0.95",
    validity: "none",
    source: "Student's distribution; JCGM 100 annex G",
    example: r#"{"probability": 0.975, "degrees_of_freedom": 4}"#,
    solve,
};
