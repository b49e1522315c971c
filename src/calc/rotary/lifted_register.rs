//! Which Z register lets the program run clear of the part?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "lifted-register",
    version: 1,
    topic: "rotary",
    question: "Which Z register lets the whole program run in the air above the part?",
    formula: "lifted_z = register_z + lift",
    inputs: &[
        Input::quantity("register_z", "mm", "Z register as it was found"),
        Input::quantity("lift", "mm", "how far above the part the program runs").above(0.0),
    ],
    outputs: &[Output::quantity("lifted_z", "mm", "Z register for the pass in the air")],
    refusals: &[],
    usual_mistake: "leaving the lifted value in the register, or lifting by less than the deepest Z of the program",
    validity: "plus Z away from the table; the lift is more than the deepest Z and leaves travel above",
    source: "coordinate identity of RS-274 work offsets",
    example: r#"{"register_z": -372.796, "lift": 100}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    Ok(Answer::new().with("lifted_z", given.number("register_z")? + given.number("lift")?))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, refuses, with};

    // RS-274: machine = program + register, so a greater register lifts every move by as much.
    #[test]
    fn the_lift_is_upwards() {
        let inputs = json!({"register_z": -372.5, "lift": "4 in"});
        holds("lifted-register", &inputs, &json!({"lifted_z": -270.9}));
        refuses("lifted-register", &with(&inputs, "lift", json!(0)), "lift");
    }
}
