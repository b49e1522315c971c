//! How hard does the thrust on an off-centre hole try to turn the rotary, and what part of its brake is that?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "brake-moment",
    version: 1,
    topic: "fit",
    question: "How hard does the thrust on an off-centre hole try to turn the rotary, and what part of its brake is \
         that?",
    formula: "moment = thrust*|lateral_offset|; brake_use = moment/brake_torque",
    inputs: &[
        Input::quantity("thrust", "N", "thrust along the spindle").at_least(0.0),
        Input::quantity("lateral_offset", "mm", "offset of the hole from the rotary centreline in Y, either sign"),
        Input::quantity("brake_torque", "N m", "stated holding torque of the brake").above(0.0),
    ],
    outputs: &[
        Output::quantity("moment", "N m", "moment about the rotary axis"),
        Output::quantity("brake_use", "1", "share of the brake used, 1 = all"),
    ],
    refusals: &[],
    usual_mistake: "a hole through the centreline asks nothing of the brake, an offset hole does",
    validity: "static",
    source: "statics",
    example: r#"{"thrust": 170, "lateral_offset": 3.25, "brake_torque": 60}"#,
    solve,
};
