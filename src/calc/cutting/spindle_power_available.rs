//! How much power and torque has the spindle at a speed below or above its base speed?

use std::f64::consts::TAU;

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
    let rated_power = given.number("rated_power")?;
    let base_speed = given.number("base_speed")?;
    let spindle_speed = given.number("spindle_speed")?;
    // Below its base speed the torque stays at the one of the base speed.
    let torque_speed = spindle_speed.max(base_speed);
    Ok(Answer::new()
        .with("available_power", rated_power * (spindle_speed / base_speed).min(1.0))
        .with("available_torque", rated_power * 1000.0 / (TAU * torque_speed / 60.0)))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, near, refuses, with};

    // By hand: 900/1500 of 7.5 kW; 4500 W over 2 pi 15 per second.
    #[test]
    fn below_its_base_speed_a_spindle_has_less_power() {
        let inputs = json!({"rated_power": 7.5, "base_speed": 1500, "spindle_speed": 900});
        let expected = json!({"available_power": 4.5, "available_torque": 150.0 / std::f64::consts::PI});
        holds("spindle-power-available", &inputs, &expected);
        let faster = with(&inputs, "spindle_speed", json!(3000));
        holds(
            "spindle-power-available",
            &faster,
            &json!({"available_power": 7.5,
            "available_torque": 75.0 / std::f64::consts::PI}),
        );
    }

    // Handbook constant: torque in N m is 9550 kW/rpm (9549.3 unrounded).
    #[test]
    fn the_constant_of_the_handbook_is_in_it() {
        let inputs = json!({"rated_power": 1, "base_speed": 1, "spindle_speed": 1});
        near("spindle-power-available", &inputs, "available_torque", 9550.0, 5.0);
    }

    #[test]
    fn a_spindle_that_hardly_turns_has_its_full_torque() {
        let inputs = json!({"rated_power": 7.5, "base_speed": 1500, "spindle_speed": 1e-250});
        holds("spindle-power-available", &inputs, &json!({"available_torque": 150.0 / std::f64::consts::PI}));
        refuses("spindle-power-available", &with(&inputs, "spindle_speed", json!(1e-320)), "inputs");
        for key in ["rated_power", "base_speed", "spindle_speed"] {
            refuses("spindle-power-available", &with(&inputs, key, json!(0)), key);
        }
    }
}
