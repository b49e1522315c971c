//! How fast does the bore drift from piece to piece, and which piece will be the first below the limit?

use crate::calc::least_squares::fit;
use crate::calc::readings::Statistics;
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

fn solve(given: &Given) -> Result<Answer, Refused> {
    let (pieces, bores) = (given.numbers("pieces")?, given.numbers("bores")?);
    let middle = Statistics::of(pieces).mean;
    let rows: Vec<[f64; 2]> = pieces.iter().map(|piece| [1.0, piece - middle]).collect();
    let line = fit::<2>(&rows, bores).map_err(|_| {
        Refused::new("pieces", "All bores belong to one piece: a line needs at least two different ones.")
    })?;
    let [height, drift] = line.coefficients;
    let intercept = height - drift * middle;
    let deviation = line.residual_deviation().unwrap_or_default();
    let [_, factor] = line.variance_factors;
    let last = pieces.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let limit = given.number("lower_limit")?;
    Ok(Answer::new()
        .with("drift_per_piece", drift)
        .with("intercept", intercept)
        .with("residual_deviation", deviation)
        .with("drift_t", (deviation >= LEAST_DEVIATION).then(|| drift / (deviation * factor.sqrt())))
        .with("predicted_next", height + drift * (last + 1.0 - middle))
        .with("first_piece_below", (drift < 0.0).then(|| ((limit - intercept) / drift).floor() + 1.0)))
}

/// Below this, millimetres, the residuals are rounding and a t value means nothing.
const LEAST_DEVIATION: f64 = 1e-12;

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, refuses};

    // The project's own worked case.
    #[test]
    fn six_bores_that_get_smaller() {
        let inputs = json!({"pieces": [1, 2, 3, 4, 5, 6], "bores": [8.007, 8.0072, 8.0069, 8.0066, 8.0064, 8.0061], "lower_limit": 8.0025});
        let expected = json!({"drift_per_piece": -0.000_205_714_285_714, "intercept": 8.007_42, "predicted_next": 8.005_98,
            "first_piece_below": 24});
        holds("bore-drift", &inputs, &expected);
    }

    // NIST StRD asks the same of a line: exact data leave no residual.
    #[test]
    fn an_exact_line_has_no_t_value() {
        let inputs = json!({"pieces": [1, 2, 3], "bores": [8, 8.5, 9], "lower_limit": 1});
        holds(
            "bore-drift",
            &inputs,
            &json!({"drift_per_piece": 0.5, "drift_t": null, "first_piece_below": null, "predicted_next": 9.5}),
        );
        refuses("bore-drift", &json!({"pieces": [1, 1, 1], "bores": [8, 8, 8], "lower_limit": 1}), "pieces");
        refuses("bore-drift", &json!({"pieces": [1, 2, 3], "bores": [8, 8], "lower_limit": 1}), "bores");
    }
}
