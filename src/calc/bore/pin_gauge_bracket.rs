//! What is the size of a bore between a pin that goes and one that does not, and how sure is it?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "pin-gauge-bracket",
    version: 1,
    topic: "bore",
    question: "What is the size of a bore between a pin that goes and one that does not, and how sure is it?",
    formula: "bore_estimate = (go_size+no_go_size)/2; bracket_uncertainty = (no_go_size-go_size)/(2 sqrt(3)); \
         gauge_uncertainty = gauge_limit/sqrt(3); standard_uncertainty = root sum of squares",
    inputs: &[
        Input::quantity("go_size", "mm", "largest pin that goes").above(0.0),
        Input::quantity("no_go_size", "mm", "smallest pin that does not").above(0.0),
        Input::quantity("gauge_limit", "mm", "limit of error of a pin, plus and minus").at_least(0.0),
    ],
    outputs: &[
        Output::quantity("bore_estimate", "mm", "middle of the bracket"),
        Output::quantity("bracket_uncertainty", "mm", "from the bracket"),
        Output::quantity("gauge_uncertainty", "mm", "from the pins"),
        Output::quantity("standard_uncertainty", "mm", "both together"),
    ],
    refusals: &[Refusal::of("no_go_size", "not greater than go_size")],
    usual_mistake: "go and no-go swapped; a chip or a warm bore",
    validity: "round clean bore at pin temperature",
    source: "JCGM 100 rectangular distribution",
    example: r#"{"go_size": 8.005, "no_go_size": 8.01, "gauge_limit": 0.001}"#,
    solve,
};
