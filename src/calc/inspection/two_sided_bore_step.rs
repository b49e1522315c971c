//! What step and kink appear in the middle of a bore drilled from both sides, from a centreline error and an index
//! error?

use crate::calc::degrees;
use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "two-sided-bore-step",
    version: 1,
    topic: "inspection",
    question: "What step and kink appear in the middle of a bore drilled from both sides, from a centreline error \
         and an index error?",
    formula: "first_side_error = centreline_error; second_side_error = -centreline_error; step_at_middle = 2 \
         centreline_error; kink_angle = index_error; mouth_error = mouth_radius sin(index_error)",
    inputs: &[
        Input::quantity("centreline_error", "mm", "error of the Y register, plus towards +Y"),
        Input::quantity("index_error", "deg", "error of the half turn").or(0.0),
        Input::quantity("mouth_radius", "mm", "radius at which the bore leaves the part").at_least(0.0),
    ],
    outputs: &[
        Output::quantity("first_side_error", "mm", "offset of the first half bore on the part"),
        Output::quantity("second_side_error", "mm", "offset of the second half bore"),
        Output::quantity("step_at_middle", "mm", "step where they meet"),
        Output::quantity("kink_angle", "deg", "angle between the two halves"),
        Output::quantity("mouth_error", "mm", "tangential error at the far mouth"),
    ],
    refusals: &[],
    usual_mistake: "the step is twice the error: half of it is a free check of the centreline",
    validity: "index exactly half a turn apart apart from index_error",
    source: "reversal",
    example: r#"{"centreline_error": 0.008, "index_error": 0.01, "mouth_radius": 24}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let centreline_error = given.number("centreline_error")?;
    let index_error = given.number("index_error")?;
    let (sine, _cosine) = degrees::sine_and_cosine(index_error);
    Ok(Answer::new()
        .with("first_side_error", centreline_error)
        .with("second_side_error", -centreline_error)
        .with("step_at_middle", 2.0 * centreline_error)
        .with("kink_angle", index_error)
        .with("mouth_error", given.number("mouth_radius")? * sine))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, near, refuses, with};

    // Reversal: a Y register 8 um too far in plus leaves half bores 8 um to either side. Sine of 0.01 deg from the series
    // x - x^3/6: 24 mm x 1.745329243e-4 = 4.18879018e-3 mm.
    #[test]
    fn the_step_is_twice_the_error() {
        let inputs = json!({"centreline_error": 0.008, "index_error": 0.01, "mouth_radius": 24});
        holds(
            "two-sided-bore-step",
            &inputs,
            &json!({"first_side_error": 0.008, "second_side_error": -0.008,
            "step_at_middle": 0.016, "kink_angle": 0.01}),
        );
        near("two-sided-bore-step", &inputs, "mouth_error", 4.188_790_18e-3, 1e-11);
    }

    #[test]
    fn without_an_index_error_there_is_no_kink() {
        let inputs = json!({"centreline_error": "-8 um", "mouth_radius": 0});
        holds(
            "two-sided-bore-step",
            &inputs,
            &json!({"step_at_middle": -0.016, "kink_angle": 0.0,
            "mouth_error": 0.0}),
        );
        let half_turn = with(&with(&inputs, "mouth_radius", json!(1e25)), "index_error", json!(180));
        holds("two-sided-bore-step", &half_turn, &json!({"mouth_error": 0.0}));
        refuses("two-sided-bore-step", &with(&inputs, "mouth_radius", json!(-1)), "mouth_radius");
        refuses("two-sided-bore-step", &with(&inputs, "centreline_error", json!(1.7e308)), "inputs");
    }
}
