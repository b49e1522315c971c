//! Do machine angle, displayed angle, register and common shift of the rotary agree, counted round the circle?

use crate::calc::degrees;
use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "angle-identity",
    version: 1,
    topic: "rotary",
    question: "Do machine angle, displayed angle, register and common shift of the rotary agree, counted round the \
         circle?",
    formula: "residual_angle = machine_angle - displayed_angle - register_angle - common_shift_angle brought into \
         -180..180; implied_register_angle = machine_angle - displayed_angle - common_shift_angle mod 360",
    inputs: &[
        Input::quantity("machine_angle", "deg", "machine rotary angle"),
        Input::quantity("displayed_angle", "deg", "displayed rotary angle"),
        Input::quantity("register_angle", "deg", "rotary value of the register believed to be live"),
        Input::quantity("common_shift_angle", "deg", "shift common to all registers").or(0.0),
    ],
    outputs: &[
        Output::quantity("residual_angle", "deg", "must be zero within one least increment").round_the_circle(),
        Output::quantity("implied_register_angle", "deg", "register value that would make the sum right")
            .round_the_circle(),
    ],
    refusals: &[],
    usual_mistake: "a plain difference near 360 looks like a fault and is none",
    validity: "displayed = machine - register - shift",
    source: "definition",
    example: r#"{"machine_angle": 37.412, "displayed_angle": 0.0, "register_angle": 37.412}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let shown = given.number("machine_angle")? - given.number("displayed_angle")?;
    let (register, common_shift) = (given.number("register_angle")?, given.number("common_shift_angle")?);
    Ok(Answer::new()
        .with("residual_angle", degrees::into_half_turns(shown - register - common_shift))
        .with("implied_register_angle", degrees::into_full_turn(shown - common_shift)))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::holds;

    // By hand: 37.412 = 0 + 37.412, and 5 = 15 + 350 - 360.
    #[test]
    fn a_whole_turn_is_no_fault() {
        let inputs = json!({"machine_angle": 37.412, "displayed_angle": 0, "register_angle": 37.412});
        holds("angle-identity", &inputs, &json!({"residual_angle": 0.0, "implied_register_angle": 37.412}));
        let inputs =
            json!({"machine_angle": 5, "displayed_angle": 15, "register_angle": 350, "common_shift_angle": 720});
        holds("angle-identity", &inputs, &json!({"residual_angle": 0.0, "implied_register_angle": 350.0}));
        let inputs = json!({"machine_angle": 5, "displayed_angle": 15.01, "register_angle": 350});
        holds("angle-identity", &inputs, &json!({"residual_angle": -0.01}));
    }
}
