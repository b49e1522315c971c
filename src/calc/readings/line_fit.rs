//! Which straight line fits readings along an axis best, and how straight are they?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "line-fit",
    version: 1,
    topic: "metrology",
    question: "Which straight line fits readings along an axis best, and how straight are they?",
    formula: "least squares on y = intercept + slope x; residual_deviation = sqrt(sum r^2/(n-2)); slope_uncertainty \
         = residual_deviation/sqrt(sum (x-mean)^2); straightness = largest minus smallest residual",
    inputs: &[
        Input::quantities("positions", "mm", "positions along the axis, at least two different ones").least_items(2),
        Input::quantities("readings", "mm", "reading at each position").least_items(2).same_length_as("positions"),
    ],
    outputs: &[
        Output::quantity("slope", "mm/m", "slope of the line"),
        Output::quantity("intercept", "mm", "value of the line at position 0"),
        Output::quantity("residual_deviation", "mm", "standard deviation of the residuals")
            .null_when("exactly two readings"),
        Output::quantity("slope_uncertainty", "mm/m", "standard uncertainty of the slope")
            .null_when("exactly two readings"),
        Output::quantity("straightness", "mm", "largest minus smallest residual"),
    ],
    refusals: &[
        Refusal::of("positions", "fewer than two, or all the same"),
        Refusal::of("readings", "another number of entries than positions"),
    ],
    usual_mistake: "dividing by n in place of n-2",
    validity: "errors in the readings only",
    source: "linear least squares",
    example: r#"{"positions": [0, 50, 100, 150], "readings": [0, 0.004, 0.009, 0.012]}"#,
    solve,
};
