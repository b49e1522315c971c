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
    let values = given.numbers("values")?;
    let weight = given.number("weight")?;
    let mut smoothed = given.number("start")?;
    let mut smoothed_values = Vec::with_capacity(values.len());
    for value in values {
        smoothed = weight * value + (1.0 - weight) * smoothed;
        smoothed_values.push(smoothed);
    }
    #[expect(clippy::cast_precision_loss, reason = "no list has 2^53 entries")]
    let count = values.len() as f64;
    // 1 - (1 - weight)^(2n), kept exact for small weights; a weight of 1 leaves nothing of the start.
    let settled = -(2.0 * count * (-weight).ln_1p()).exp_m1();
    // Root by root: the product of two tiny numbers would be nothing.
    let share = (weight / (2.0 - weight)).sqrt() * settled.sqrt();
    Ok(Answer::new()
        .with("smoothed_values", smoothed_values)
        .with("last_value", smoothed)
        .with("limit_half_width", 3.0 * given.number("standard_deviation")? * share))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, near, refuses, with};

    // By hand, with weight 1/2: (8 + 0)/2 = 4, (4 + 4)/2 = 4, (0 + 4)/2 = 2; limits 3 sqrt(1/3 (1 - 1/64)).
    #[test]
    fn each_value_moves_the_smoothed_one_by_its_weight() {
        let inputs = json!({"values": [8, 4, 0], "start": 0, "weight": 0.5, "standard_deviation": 1});
        let expected = json!({"smoothed_values": [4.0, 4.0, 2.0], "last_value": 2.0,
            "limit_half_width": 3.0 * (63.0_f64 / 192.0).sqrt()});
        holds("ewma-chart", &inputs, &expected);
    }

    // Textbook of quality control (from memory): about 10, weight 0.1 and limits at 2.7 deviations of 1, the limits
    // are 10.27 at the first value, 10.36 at the second, and settle at 10.62. Three deviations of 0.9 are the same.
    #[test]
    fn limits_widen_from_the_first_value_on() {
        let inputs = json!({"values": [0], "start": 0, "weight": 0.1, "standard_deviation": 0.9});
        near("ewma-chart", &inputs, "limit_half_width", 0.27, 1e-12);
        let second = with(&inputs, "values", json!([0, 0]));
        near("ewma-chart", &second, "limit_half_width", 0.36, 0.005);
        let settled = with(&inputs, "values", json!(vec![0; 400]));
        near("ewma-chart", &settled, "limit_half_width", 0.62, 0.005);
    }

    // Algebra: weight 1 is a chart of single values; a weight that is next to nothing gives 3 s weight sqrt(n).
    #[test]
    fn the_ends_of_the_weight_are_right() {
        let inputs = json!({"values": [8.007, 8.0072, 8.0069, 8.0066], "start": 8.0075, "weight": 1,
            "standard_deviation": 0.0003});
        let expected = json!({"smoothed_values": [8.007, 8.0072, 8.0069, 8.0066], "limit_half_width": 0.0009});
        holds("ewma-chart", &inputs, &expected);
        let faint = with(&with(&inputs, "weight", json!(1e-14)), "standard_deviation", json!(1e14));
        holds("ewma-chart", &faint, &json!({"last_value": 8.0075, "limit_half_width": 6.0}));
    }

    #[test]
    fn values_outside_their_limits_are_refused() {
        let inputs = json!({"values": [8], "start": 8, "weight": 0.2, "standard_deviation": 0.0003});
        refuses("ewma-chart", &with(&inputs, "values", json!([])), "values");
        refuses("ewma-chart", &with(&inputs, "values", json!([8, true])), "values");
        refuses("ewma-chart", &with(&inputs, "weight", json!(0)), "weight");
        refuses("ewma-chart", &with(&inputs, "weight", json!(1.01)), "weight");
        refuses("ewma-chart", &with(&inputs, "standard_deviation", json!(0)), "standard_deviation");
    }
}
