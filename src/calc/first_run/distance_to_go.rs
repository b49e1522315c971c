//! What must distance-to-go and machine Z show at a stop of the air pass?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "distance-to-go",
    version: 1,
    topic: "first-run",
    question: "What must distance-to-go and machine Z show at a stop of the air pass?",
    formula: "distance_to_go = program_z_target - program_z_now; machine_z = program_z + z_register + tool_length, \
         now and at the end",
    inputs: &[
        Input::quantity("program_z_now", "mm", "programmed Z at the stop"),
        Input::quantity("program_z_target", "mm", "programmed Z at the end of the move"),
        Input::quantity("z_register", "mm", "Z register, common shift included"),
        Input::quantity("tool_length", "mm", "tool length in use").above(0.0),
    ],
    outputs: &[
        Output::quantity("distance_to_go", "mm", "what the control must show, minus = downwards"),
        Output::quantity("machine_z_now", "mm", "machine Z at the stop"),
        Output::quantity("machine_z_end", "mm", "machine Z at the end"),
    ],
    refusals: &[],
    usual_mistake: "comparing with a number from paper in place of the screen",
    validity: "positive tool lengths",
    source: "definition",
    example: r#"{
            "program_z_now": 30.0, "program_z_target": -2.35, "z_register": -372.796, "tool_length": 107.588
        }"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let program_z_now = given.number("program_z_now")?;
    let program_z_target = given.number("program_z_target")?;
    let machine_z_of_program_zero = given.number("z_register")? + given.number("tool_length")?;
    Ok(Answer::new()
        .with("distance_to_go", program_z_target - program_z_now)
        .with("machine_z_now", program_z_now + machine_z_of_program_zero)
        .with("machine_z_end", program_z_target + machine_z_of_program_zero))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, refuses, with};

    // Worked case distance_to_go of the project's own set of cases.
    #[test]
    fn the_screen_must_show_the_way_that_is_left() {
        let inputs = json!({"program_z_now": 30, "program_z_target": -2.35, "z_register": -372.796,
            "tool_length": 107.588});
        let expected = json!({"distance_to_go": -32.35, "machine_z_now": -235.208, "machine_z_end": -267.558});
        holds("distance-to-go", &inputs, &expected);
        refuses("distance-to-go", &with(&inputs, "tool_length", json!(0)), "tool_length");
        refuses("distance-to-go", &with(&inputs, "z_register", json!(null)), "z_register");
    }
}
