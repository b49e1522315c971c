//! How long does a pecked hole take?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "drill-cycle-time",
    version: 1,
    topic: "batch",
    question: "How long does a pecked hole take?",
    formula: "cutting_time = (last depth + reentry_gap (n-1) + clearance)/feed_rate; rapid_time = sum 2 (depth_i + \
         clearance)/rapid_rate; both in minutes times 60; time_per_hole = sum",
    inputs: &[
        Input::quantities("peck_depths", "mm", "depth after each peck, growing").above(0.0).least_items(1),
        Input::quantity("feed_rate", "mm/min", "feed rate").above(0.0),
        Input::quantity("clearance", "mm", "height of the retract plane above the surface").at_least(0.0),
        Input::quantity("reentry_gap", "mm", "gap left above the last depth on re-entry").at_least(0.0),
        Input::quantity("rapid_rate", "mm/min", "rapid rate").above(0.0),
    ],
    outputs: &[
        Output::quantity("cutting_time", "s", "time in feed"),
        Output::quantity("rapid_time", "s", "time in rapid"),
        Output::quantity("time_per_hole", "s", "both"),
    ],
    refusals: &[Refusal::of("peck_depths", "empty list, or depths that do not grow from peck to peck")],
    usual_mistake: "counting the depth only once for the rapids",
    validity: "no acceleration; full retract after each peck",
    source: "sum of moves",
    example: r#"{
            "peck_depths": [6, 10.2, 13.14, 15.2], "feed_rate": 286, "clearance": 2, "reentry_gap": 0.5,
            "rapid_rate": 20000
        }"#,
    solve,
};
