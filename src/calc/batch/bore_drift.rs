//! How fast does the bore drift from piece to piece, and which piece will be the first below the limit?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "bore-drift",
    version: 1,
    topic: "batch",
    question: "How fast does the bore drift from piece to piece, and which piece will be the first below the limit?",
    formula: "least squares on bore = intercept + drift_per_piece*piece; residual_deviation = sqrt(sum r^2/(n-2)); \
         drift_t = drift_per_piece/(residual_deviation/sqrt(sum (piece-mean)^2)); predicted_next = line at (largest \
         piece + 1); first_piece_below = floor((lower_limit-intercept)/drift_per_piece)+1 when drift_per_piece < 0",
    inputs: &[
        Input::counts("pieces", "piece numbers since the last correction, at least two different").least_items(3),
        Input::quantities("bores", "mm", "bore of each piece").above(0.0).least_items(3).same_length_as("pieces"),
        Input::quantity("lower_limit", "mm", "guard-banded lower limit").above(0.0),
    ],
    outputs: &[
        Output::quantity("drift_per_piece", "mm/piece", "drift per piece"),
        Output::quantity("intercept", "mm", "line at piece 0"),
        Output::quantity("residual_deviation", "mm", "standard deviation of the residuals"),
        Output::quantity("drift_t", "1", "drift over its standard uncertainty")
            .null_when("residual_deviation below 1e-12 mm"),
        Output::quantity("predicted_next", "mm", "bore of the next piece by the line"),
        Output::count("first_piece_below", "first whole piece number at which the line is below the limit")
            .null_when("drift_per_piece of zero or more"),
    ],
    refusals: &[
        Refusal::of("pieces", "fewer than three, or all the same"),
        Refusal::of("bores", "another number of entries than pieces"),
    ],
    usual_mistake: "reading a trend out of noise: look at the t value",
    validity: "straight drift, no correction within the data",
    source: "linear least squares",
    example: r#"{
            "pieces": [1, 2, 3, 4, 5, 6], "bores": [8.007, 8.0072, 8.0069, 8.0066, 8.0064, 8.0061],
            "lower_limit": 8.0025
        }"#,
    solve,
};
