//! Which step of a dial keeps to a floor or a ceiling?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "dial-step",
    version: 1,
    topic: "first-run",
    question: "Which step of a dial keeps to a floor or a ceiling?",
    formula: "at-least: smallest step >= limit; at-most: largest step <= limit",
    inputs: &[
        Input::quantity("limit", "%", "floor or ceiling").at_least(0.0),
        Input::quantities("dial_steps", "%", "steps of the dial, any order").at_least(0.0).least_items(1),
        Input::word("rule", &["at-least", "at-most"], "at-least for a floor, at-most for a ceiling"),
    ],
    outputs: &[Output::quantity("dial_step", "%", "step to use").null_when("no step keeps to the rule")],
    refusals: &[],
    usual_mistake: "rounding a floor down or a ceiling up; a ceiling step of 0 means: make the last approach a feed \
         move",
    validity: "none",
    source: "rounding to the safe side",
    example: r#"{
            "limit": 56.7561478654, "dial_steps": [10, 20, 30, 40, 50, 60, 70, 80, 90, 100], "rule": "at-least"
        }"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let limit = given.number("limit")?;
    let steps = given.numbers("dial_steps")?.iter().copied();
    let step = if given.word("rule")? == "at-least" {
        steps.filter(|step| *step >= limit).min_by(f64::total_cmp)
    } else {
        steps.filter(|step| *step <= limit).max_by(f64::total_cmp)
    };
    Ok(Answer::new().with("dial_step", step))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, with};

    // Rounding to the safe side, common practice; the first is the project's own worked case.
    #[test]
    fn a_floor_goes_up_and_a_ceiling_goes_down() {
        let steps = json!([10, 20, 30, 40, 50, 60, 70, 80, 90, 100]);
        let inputs = json!({"limit": 56.756_147_865_4, "dial_steps": steps, "rule": "at-least"});
        holds("dial-step", &inputs, &json!({"dial_step": 60.0}));
        holds("dial-step", &with(&inputs, "rule", json!("at-most")), &json!({"dial_step": 50.0}));
        holds("dial-step", &with(&inputs, "limit", json!(60)), &json!({"dial_step": 60.0}));
        holds("dial-step", &with(&inputs, "limit", json!(101)), &json!({"dial_step": null}));
    }
}
