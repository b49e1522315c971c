//! How much power and torque has the spindle at a speed below or above its base speed?

use std::f64::consts::PI;

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "spindle-power-available",
    version: 1,
    topic: "cutting",
    question: "How much power and torque has the spindle at a speed below or above its base speed?",
    formula: "available_power = rated_power*min(1, spindle_speed/base_speed); available_torque = \
         available_power*1000/(2 pi spindle_speed/60)",
    inputs: &[
        Input::quantity("rated_power", "kW", "rated power").above(0.0),
        Input::quantity("base_speed", "rpm", "speed from which full power is there").above(0.0),
        Input::quantity("spindle_speed", "rpm", "speed in use").above(0.0),
    ],
    outputs: &[
        Output::quantity("available_power", "kW", "power at that speed"),
        Output::quantity("available_torque", "N m", "torque at that speed"),
    ],
    refusals: &[],
    usual_mistake: "counting on rated power at low speed",
    validity: "constant torque below base speed, constant power above",
    source: "motor characteristic",
    example: r#"{"rated_power": 7.5, "base_speed": 1500, "spindle_speed": 900}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let speed = given.number("spindle_speed")?;
    let power = given.number("rated_power")? * (speed / given.number("base_speed")?).min(1.0);
    Ok(Answer::new()
        .with("available_power", power)
        .with("available_torque", power * 1000.0 / (2.0 * PI * speed / 60.0)))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, near, with};

    // Motor characteristic: constant torque below the base speed, constant power above.
    #[test]
    fn half_the_base_speed_has_half_the_power() {
        let inputs = json!({"rated_power": 7.5, "base_speed": 1500, "spindle_speed": 750});
        holds("spindle-power-available", &inputs, &json!({"available_power": 3.75}));
        holds(
            "spindle-power-available",
            &with(&inputs, "spindle_speed", json!(3000)),
            &json!({"available_power": 7.5}),
        );
        near("spindle-power-available", &inputs, "available_torque", 47.746_482_927_568_6, 1e-9);
    }
}
