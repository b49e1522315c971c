//! Which spindle speed and feed rate belong to a cutting speed, with a speed limit?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "spindle-speed",
    version: 1,
    topic: "cutting",
    question: "Which spindle speed and feed rate belong to a cutting speed, with a speed limit?",
    formula: "ideal_speed = 1000 cutting_speed/(pi tool_diameter); spindle_speed = min(ideal_speed, speed_limit); \
         actual_cutting_speed = pi tool_diameter spindle_speed/1000; feed_rate = spindle_speed*feed_per_rev",
    inputs: &[
        Input::quantity("cutting_speed", "m/min", "cutting speed wanted").above(0.0),
        Input::quantity("tool_diameter", "mm", "tool diameter").above(0.0),
        Input::quantity("speed_limit", "rpm", "highest spindle speed; left out: no limit").above(0.0).may_be_left_out(),
        Input::quantity("feed_per_rev", "mm/rev", "feed per revolution; left out: no feed rate")
            .above(0.0)
            .may_be_left_out(),
    ],
    outputs: &[
        Output::quantity("ideal_speed", "rpm", "speed without limit"),
        Output::quantity("spindle_speed", "rpm", "speed to use"),
        Output::flag("limited", "true when the limit bites (ideal_speed above speed_limit)"),
        Output::quantity("actual_cutting_speed", "m/min", "cutting speed then"),
        Output::quantity("feed_rate", "mm/min", "feed rate from the speed in use")
            .null_when("feed_per_rev is left out"),
    ],
    refusals: &[],
    usual_mistake: "working out the feed rate from the speed before the limit",
    validity: "none",
    source: "definition",
    example: r#"{
            "cutting_speed": "60 ft/min", "tool_diameter": "0.1875 in", "feed_per_rev": "0.0025 in/rev"
        }"#,
    solve,
};
