//! Which new register value brings a feature back to its nominal position?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "position-register-correction",
    version: 1,
    topic: "inspection",
    question: "Which new register value brings a feature back to its nominal position?",
    formula: "register_change = nominal_position - measured_position; new_register = register_value + register_change",
    inputs: &[
        Input::quantity("measured_position", "mm", "measured position of the feature"),
        Input::quantity("nominal_position", "mm", "drawing position"),
        Input::quantity("register_value", "mm", "register value now"),
    ],
    outputs: &[
        Output::quantity("register_change", "mm", "change"),
        Output::quantity("new_register", "mm", "value to write"),
    ],
    refusals: &[],
    usual_mistake: "a feature too far in plus needs a SMALLER register: adding the error doubles it",
    validity: "one cause, no wear",
    source: "definition",
    example: r#"{"measured_position": 55.018, "nominal_position": 55, "register_value": -212.405}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let register_change = given.number("nominal_position")? - given.number("measured_position")?;
    Ok(Answer::new()
        .with("register_change", register_change)
        .with("new_register", given.number("register_value")? + register_change))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, refuses, with};

    // Arithmetic: a feature 12 um too far in plus needs a register 12 um smaller, in minus one that is larger.
    #[test]
    fn too_far_in_plus_makes_the_register_smaller() {
        let inputs = json!({"measured_position": 55.012, "nominal_position": 55, "register_value": -212.405});
        holds("position-register-correction", &inputs, &json!({"register_change": -0.012, "new_register": -212.417}));
        let other = with(&inputs, "measured_position", json!("54988 um"));
        holds("position-register-correction", &other, &json!({"register_change": 0.012, "new_register": -212.393}));
    }

    #[test]
    fn what_is_missing_or_endless_is_refused() {
        let inputs = json!({"measured_position": 1e308, "nominal_position": -1e308, "register_value": 0});
        refuses("position-register-correction", &inputs, "inputs");
        refuses("position-register-correction", &with(&inputs, "register_value", json!(null)), "register_value");
    }
}
