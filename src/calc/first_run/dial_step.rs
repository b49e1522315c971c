//! Which step of a dial keeps to a floor or a ceiling?

use crate::calc::limits;
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
    let dial_step = if given.word("rule")? == "at-least" {
        steps.filter(|step| limits::within(limit, *step)).reduce(f64::min)
    } else {
        steps.filter(|step| limits::within(*step, limit)).reduce(f64::max)
    };
    Ok(Answer::new().with("dial_step", dial_step))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, refuses, with};

    // Worked case drill_override_with_steps of the project's own set of cases.
    #[test]
    fn a_floor_is_rounded_up_and_a_ceiling_down() {
        let inputs = json!({"limit": 56.756_147_865_4, "dial_steps": [100, 30, 10, 20, 50, 60, 70, 40, 80, 90],
            "rule": "at-least"});
        holds("dial-step", &inputs, &json!({"dial_step": 60.0}));
        holds("dial-step", &with(&inputs, "rule", json!("at-most")), &json!({"dial_step": 50.0}));
    }

    // By hand, with the ceiling of rapid-ceiling's worked case and common steps of a rapid dial.
    #[test]
    fn a_ceiling_below_all_moving_steps_is_zero_or_none() {
        let inputs = json!({"limit": 4.271, "dial_steps": [0, 25, 50, 100], "rule": "at-most"});
        holds("dial-step", &inputs, &json!({"dial_step": 0.0}));
        let without_zero = with(&inputs, "dial_steps", json!([25, 50, 100]));
        holds("dial-step", &without_zero, &json!({"dial_step": null}));
        let too_high = json!({"limit": 120.5, "dial_steps": [0, 120], "rule": "at-least"});
        holds("dial-step", &too_high, &json!({"dial_step": null}));
    }

    // A limit that was reckoned may miss its step by the last bits of a double.
    #[test]
    fn a_limit_on_a_step_keeps_that_step() {
        for limit in [70.0, 70.0 + 2e-14, 70.0 - 2e-14] {
            for rule in ["at-least", "at-most"] {
                let inputs = json!({"limit": limit, "dial_steps": [60, 70, 80], "rule": rule});
                holds("dial-step", &inputs, &json!({"dial_step": 70.0}));
            }
        }
        let clearly_above = json!({"limit": 70.000_000_1, "dial_steps": [60, 70, 80], "rule": "at-least"});
        holds("dial-step", &clearly_above, &json!({"dial_step": 80.0}));
    }

    #[test]
    fn no_steps_and_other_rules_are_refused() {
        let inputs = json!({"limit": 50, "dial_steps": [50], "rule": "at-least"});
        refuses("dial-step", &with(&inputs, "dial_steps", json!([])), "dial_steps");
        refuses("dial-step", &with(&inputs, "dial_steps", json!([50, -1])), "dial_steps");
        refuses("dial-step", &with(&inputs, "rule", json!("nearest")), "rule");
        refuses("dial-step", &with(&inputs, "limit", json!(-1)), "limit");
    }
}
