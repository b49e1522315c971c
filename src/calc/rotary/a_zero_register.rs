//! Which value goes into the rotary register so that the trammed position reads the nominal angle?

use crate::calc::degrees::{into_full_turn, into_half_turns};
use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "a-zero-register",
    version: 1,
    topic: "rotary",
    question: "Which value goes into the rotary register so that the trammed position reads the nominal angle?",
    formula: "register_to_write = machine_angle - nominal_angle; displayed_angle = machine_angle - active_register; \
         register_if_display_typed = displayed_angle - nominal_angle; pointing_error = -active_register; all mod \
         360",
    inputs: &[
        Input::quantity("machine_angle", "deg", "machine rotary angle at the trammed position"),
        Input::quantity("active_register", "deg", "rotary value of the register that is live while reading"),
        Input::quantity("nominal_angle", "deg", "angle that the trammed position shall be called").or(0.0),
    ],
    outputs: &[
        Output::quantity("register_to_write", "deg", "value for the register").round_the_circle(),
        Output::quantity("displayed_angle", "deg", "what the display shows now").round_the_circle(),
        Output::quantity("register_if_display_typed", "deg", "what would be written by typing the displayed number")
            .round_the_circle(),
        Output::quantity("pointing_error", "deg", "error of every hole after that mistake").round_the_circle(),
    ],
    refusals: &[],
    usual_mistake: "typing the DISPLAYED angle: every hole is wrong by minus the old register value",
    validity: "displayed = machine - register",
    source: "definition",
    example: r#"{"machine_angle": 37.412, "active_register": 12.25, "nominal_angle": 0.0}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let (machine_angle, active) = (given.number("machine_angle")?, given.number("active_register")?);
    let nominal_angle = given.number("nominal_angle")?;
    let displayed_angle = machine_angle - active;
    Ok(Answer::new()
        .with("register_to_write", into_full_turn(machine_angle - nominal_angle))
        .with("displayed_angle", into_full_turn(displayed_angle))
        .with("register_if_display_typed", into_full_turn(displayed_angle - nominal_angle))
        .with("pointing_error", into_half_turns(-active)))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::holds;

    // Worked case a_zero_register of the project's own set of cases.
    #[test]
    fn the_machine_angle_is_written_not_the_displayed_one() {
        let inputs = json!({"machine_angle": 37.412, "active_register": 12.25});
        let expected = json!({"register_to_write": 37.412, "displayed_angle": 25.162,
            "register_if_display_typed": 25.162, "pointing_error": -12.25});
        holds("a-zero-register", &inputs, &expected);
    }

    // Geometry: 350 degrees beyond the register is 10 degrees short of it.
    #[test]
    fn angles_go_round_the_circle() {
        let inputs = json!({"machine_angle": 5, "active_register": 350, "nominal_angle": 90});
        let expected = json!({"register_to_write": 275.0, "displayed_angle": 15.0, "register_if_display_typed": 285.0,
            "pointing_error": 10.0});
        holds("a-zero-register", &inputs, &expected);
    }
}
