//! Which rotary position levels the part?

use crate::calc::degrees;
use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "next-index",
    version: 1,
    topic: "tram",
    question: "Which machine rotary position is to be set for the next try of levelling?",
    formula: "index_to_set = machine_angle + correction_to_send mod 360",
    inputs: &[
        Input::quantity("machine_angle", "deg", "machine rotary position now"),
        Input::quantity("correction_to_send", "deg", "correction with its sign (least-increment-rounding)"),
    ],
    outputs: &[Output::quantity("index_to_set", "deg", "machine rotary position to set, 0 to 360").round_the_circle()],
    refusals: &[],
    usual_mistake: "adding to the angle of the work offset in place of the machine's, or taking off in place of adding",
    validity: "none",
    source: "common practice",
    example: r#"{"machine_angle": 37.595, "correction_to_send": -0.183}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let sum = given.number("machine_angle")? + given.number("correction_to_send")?;
    Ok(Answer::new().with("index_to_set", degrees::into_full_turn(sum)))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::holds;

    // The project's worked job of a flow-sensor body: 37.595 - 0.183; and arithmetic round the circle.
    #[test]
    fn the_sum_goes_round_the_circle() {
        let next = |angle: f64, correction: f64| json!({"machine_angle": angle, "correction_to_send": correction});
        holds("next-index", &next(37.595, -0.183), &json!({"index_to_set": 37.412}));
        holds("next-index", &next(0.25, -0.5), &json!({"index_to_set": 359.75}));
        holds("next-index", &next(359.5, 0.5), &json!({"index_to_set": 0.0}));
    }
}
