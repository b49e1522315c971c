//! How much did the surface really move when a lever indicator stands at an angle to it?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "lever-indicator-cosine",
    version: 1,
    topic: "metrology",
    question: "How much did the surface really move when a lever indicator stands at an angle to it?",
    formula: "true_movement = reading cos(lever_angle); over_reading = 100 (1/cos(lever_angle) - 1)",
    inputs: &[
        Input::quantity("reading", "mm", "movement shown"),
        Input::quantity("lever_angle", "deg", "angle between the lever and the surface").at_least(0.0).below(90.0),
    ],
    outputs: &[
        Output::quantity("true_movement", "mm", "real movement"),
        Output::quantity("over_reading", "%", "by how much the indicator reads high"),
    ],
    refusals: &[],
    usual_mistake: "dividing by the cosine in place of multiplying",
    validity: "small movement of a plain lever",
    source: "small motion of a lever",
    example: r#"{"reading": 0.1, "lever_angle": 30.0}"#,
    solve,
};
