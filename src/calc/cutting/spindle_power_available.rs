//! How much power and torque has the spindle at a speed below or above its base speed?

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
