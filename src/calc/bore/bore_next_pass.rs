//! Which bore shall be programmed next, from two passes measured so far?

use crate::calc::limits;
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
    let programmed_second = given.number("programmed_second")?;
    let measured_second = given.number("measured_second")?;
    let (programmed_first, measured_first) = (given.number("programmed_first")?, given.number("measured_first")?);
    let programmed_change = programmed_second - programmed_first;
    let measured_change = measured_second - measured_first;
    if limits::difference_within(programmed_change.abs(), 0.0, programmed_second.max(programmed_first)) {
        let reason = "programmed_second is the same as programmed_first: two different passes are needed.";
        return Err(Refused::new("programmed_second", reason));
    }
    let follows = measured_change * programmed_change.signum();
    if limits::difference_within(follows, 0.0, measured_second.max(measured_first)) {
        let reason = "measured_second does not follow the program: a larger program gave no larger bore, so look at \
             the tool and the gauge before the next pass.";
        return Err(Refused::new("measured_second", reason));
    }
    let response_ratio = measured_change / programmed_change;
    let full_step = (given.number("target_bore")? - measured_second) / response_ratio;
    Ok(Answer::new()
        .with("response_ratio", response_ratio)
        .with("programmed_full_step", programmed_second + full_step)
        .with("programmed_next", programmed_second + given.number("damping")? * full_step))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, refuses, with};

    // By hand: 57 um measured for 60 um programmed; 56.5 um are missing, which is 56.5/0.95 um of program.
    #[test]
    fn the_missing_step_is_stretched_by_the_response_and_damped() {
        let inputs = json!({"target_bore": 8.0075, "programmed_first": 7.9, "measured_first": 7.894,
            "programmed_second": 7.96, "measured_second": 7.951});
        let expected = json!({"response_ratio": 0.95, "programmed_full_step": 7.96 + 0.0565 / 0.95,
            "programmed_next": 7.96 + 0.8 * 0.0565 / 0.95});
        holds("bore-next-pass", &inputs, &expected);
        let undamped = with(&inputs, "damping", json!(1));
        holds("bore-next-pass", &undamped, &json!({"programmed_next": 7.96 + 0.0565 / 0.95}));
    }

    // By hand: a second pass programmed smaller than the first still shows the response.
    #[test]
    fn passes_may_come_in_either_order() {
        let inputs = json!({"target_bore": 8, "programmed_first": 7.96, "measured_first": 7.95,
            "programmed_second": 7.92, "measured_second": 7.93});
        holds("bore-next-pass", &inputs, &json!({"response_ratio": 0.5, "programmed_full_step": 8.06}));
    }

    #[test]
    fn passes_that_show_no_response_are_refused() {
        let inputs = json!({"target_bore": 8, "programmed_first": 7.9, "measured_first": 7.9,
            "programmed_second": 7.96, "measured_second": 7.95});
        refuses("bore-next-pass", &with(&inputs, "programmed_second", json!(7.9)), "programmed_second");
        refuses("bore-next-pass", &with(&inputs, "measured_second", json!(7.9)), "measured_second");
        refuses("bore-next-pass", &with(&inputs, "measured_second", json!(7.89)), "measured_second");
        refuses("bore-next-pass", &with(&inputs, "damping", json!(1.1)), "damping");
        refuses("bore-next-pass", &with(&inputs, "damping", json!(0)), "damping");
        refuses("bore-next-pass", &with(&inputs, "target_bore", json!(0)), "target_bore");
        // The same bore in two units differs by one bit of a double, which is no change.
        let inches = with(&with(&inputs, "programmed_first", json!("0.3 in")), "programmed_second", json!(7.62));
        refuses("bore-next-pass", &inches, "programmed_second");
    }
}
