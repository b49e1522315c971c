//! Where does the smoothed value stand and how wide are its control limits?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "ewma-chart",
    version: 1,
    topic: "batch",
    question: "Where does the smoothed value stand and how wide are its control limits?",
    formula: "z_i = weight*x_i + (1-weight)*z_(i-1), z_0 = start; limit_half_width = 3 standard_deviation \
         sqrt(weight/(2-weight) (1-(1-weight)^(2n)))",
    inputs: &[
        Input::quantities("values", "mm", "values in order").least_items(1),
        Input::quantity("start", "mm", "starting value, usually the target"),
        Input::quantity("weight", "1", "weight of the newest value").above(0.0).at_most(1.0),
        Input::quantity("standard_deviation", "mm", "standard deviation of single values").above(0.0),
    ],
    outputs: &[
        Output::quantities("smoothed_values", "mm", "smoothed value after each one"),
        Output::quantity("last_value", "mm", "last smoothed value"),
        Output::quantity("limit_half_width", "mm", "half width of the limits at the last value"),
    ],
    refusals: &[Refusal::of("values", "empty list")],
    usual_mistake: "using the settled limits for the first few pieces",
    validity: "independent values between corrections",
    source: "exponentially weighted chart",
    example: r#"{
            "values": [8.007, 8.0072, 8.0069, 8.0066], "start": 8.0075, "weight": 0.2,
            "standard_deviation": 0.0003
        }"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let (values, weight) = (given.numbers("values")?, given.number("weight")?);
    let mut last = given.number("start")?;
    let smoothed: Vec<f64> = values
        .iter()
        .map(|value| {
            last = weight * value + (1.0 - weight) * last;
            last
        })
        .collect();
    #[expect(clippy::cast_precision_loss, reason = "no list has 2^53 entries")]
    let turns = 2.0 * values.len() as f64;
    let settled = 1.0 - (1.0 - weight).powf(turns);
    let half_width = 3.0 * given.number("standard_deviation")? * (weight / (2.0 - weight) * settled).sqrt();
    Ok(Answer::new().with("smoothed_values", smoothed).with("last_value", last).with("limit_half_width", half_width))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, near, refuses, with};

    // Exponentially weighted chart, by hand: 0.2 of the first value, then 0.2 of the next and 0.8 of the last.
    #[test]
    fn the_newest_value_weighs_most() {
        let inputs = json!({"values": [1, 1], "start": 0, "weight": 0.2, "standard_deviation": 1});
        near("ewma-chart", &inputs, "last_value", 0.36, 1e-12);
        near("ewma-chart", &inputs, "limit_half_width", 3.0 * (0.2_f64 / 1.8 * (1.0 - 0.8_f64.powi(4))).sqrt(), 1e-12);
        // With the full weight it is the plain chart of single values.
        holds("ewma-chart", &with(&inputs, "weight", json!(1)), &json!({"last_value": 1.0, "limit_half_width": 3.0}));
        refuses("ewma-chart", &with(&inputs, "values", json!([])), "values");
    }
}
