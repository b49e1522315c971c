//! At which rapid setting can a person still stop the tool within the clearance?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "rapid-ceiling",
    version: 1,
    topic: "first-run",
    question: "At which rapid setting can a person still stop the tool within the clearance?",
    formula: "v = -a t + sqrt((a t)^2 + 2 a s) (mm/s); safe_speed = 60 v; ceiling = 100 safe_speed/rapid_rate",
    inputs: &[
        Input::quantity("clearance", "mm", "distance left to the work").above(0.0),
        Input::quantity("deceleration", "mm/s2", "deceleration of the axis").above(0.0),
        Input::quantity("reaction_time", "s", "time from seeing to the axis beginning to stop").at_least(0.0),
        Input::quantity("rapid_rate", "mm/min", "full rapid rate").above(0.0),
    ],
    outputs: &[
        Output::quantity("safe_speed", "mm/min", "highest speed that stops in time"),
        Output::quantity("ceiling", "%", "highest rapid setting; over 100 the dial is no limit"),
    ],
    refusals: &[],
    usual_mistake: "a quarter rapid is far too fast for a short gap",
    validity: "constant deceleration; both defaults must be measured",
    source: "kinematics",
    example: r#"{"clearance": 10.0, "deceleration": 3000.0, "reaction_time": 0.7, "rapid_rate": 20000.0}"#,
    solve,
};
