//! Which bore shall be programmed next, from two passes measured so far?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "bore-next-pass",
    version: 1,
    topic: "bore",
    question: "Which bore shall be programmed next, from two passes measured so far?",
    formula: "response_ratio = (measured_second-measured_first)/(programmed_second-programmed_first); \
         programmed_full_step = programmed_second + (target_bore-measured_second)/response_ratio; programmed_next = \
         programmed_second + damping (target_bore-measured_second)/response_ratio",
    inputs: &[
        Input::quantity("target_bore", "mm", "bore wanted").above(0.0),
        Input::quantity("programmed_first", "mm", "programmed at the first pass").above(0.0),
        Input::quantity("measured_first", "mm", "measured after it").above(0.0),
        Input::quantity("programmed_second", "mm", "programmed at the second pass").above(0.0),
        Input::quantity("measured_second", "mm", "measured after it").above(0.0),
        Input::quantity("damping", "1", "share of the full step to take").above(0.0).at_most(1.0).or(0.8),
    ],
    outputs: &[
        Output::quantity("response_ratio", "1", "measured change over programmed change"),
        Output::quantity("programmed_full_step", "mm", "full step"),
        Output::quantity("programmed_next", "mm", "bore to program next"),
    ],
    refusals: &[
        Refusal::of("programmed_second", "same as programmed_first"),
        Refusal::of("measured_second", "response_ratio of zero or less: a larger program gave no larger bore"),
    ],
    usual_mistake: "taking the whole step as the last pass",
    validity: "two passes well apart against the gauge steps",
    source: "secant",
    example: r#"{
            "target_bore": 8.0075, "programmed_first": 7.9, "measured_first": 7.894, "programmed_second": 7.96,
            "measured_second": 7.951
        }"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let programmed = given.number("programmed_second")?;
    let measured = given.number("measured_second")?;
    let asked = programmed - given.number("programmed_first")?;
    if asked.abs() <= 0.0 {
        return Err(Refused::new(
            "programmed_second",
            "Both passes were programmed alike: they tell nothing about the response.",
        ));
    }
    let response = (measured - given.number("measured_first")?) / asked;
    if response <= 0.0 {
        return Err(Refused::new(
            "measured_second",
            "A larger program gave no larger bore: gauge again, look at the cutter.",
        ));
    }
    let step = (given.number("target_bore")? - measured) / response;
    Ok(Answer::new()
        .with("response_ratio", response)
        .with("programmed_full_step", programmed + step)
        .with("programmed_next", programmed + given.number("damping")? * step))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, refuses, with};

    // The project's own practice job S1, second pass.
    #[test]
    fn the_next_pass_is_damped() {
        let inputs = json!({"target_bore": 8.01, "programmed_first": 7.9, "measured_first": 7.889, "programmed_second": 7.96,
            "measured_second": 7.949});
        holds(
            "bore-next-pass",
            &inputs,
            &json!({"response_ratio": 1.0, "programmed_full_step": 8.021, "programmed_next": 8.0088}),
        );
        refuses("bore-next-pass", &with(&inputs, "programmed_second", json!(7.9)), "programmed_second");
        refuses("bore-next-pass", &with(&inputs, "measured_second", json!(7.88)), "measured_second");
    }
}
