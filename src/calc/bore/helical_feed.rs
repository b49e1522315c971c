//! Which centre feed and ramp belong to a wall feed when a bore is milled in a helix?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "helical-feed",
    version: 1,
    topic: "bore",
    question: "Which centre feed and ramp belong to a wall feed when a bore is milled in a helix?",
    formula: "feed_factor = (bore_diameter - cutter_diameter)/bore_diameter; centre_feed = wall_feed*feed_factor; \
         ramp_angle = atan(pitch/(pi (bore_diameter-cutter_diameter))); path_per_turn = sqrt((pi \
         (bore_diameter-cutter_diameter))^2 + pitch^2)",
    inputs: &[
        Input::quantity("bore_diameter", "mm", "bore").above(0.0),
        Input::quantity("cutter_diameter", "mm", "cutter").above(0.0),
        Input::quantity("wall_feed", "mm/min", "feed at the wall").above(0.0),
        Input::quantity("pitch", "mm", "depth per turn").at_least(0.0),
    ],
    outputs: &[
        Output::quantity("feed_factor", "1", "centre feed over wall feed"),
        Output::quantity("centre_feed", "mm/min", "feed to program"),
        Output::quantity("ramp_angle", "deg", "ramp of the centre path"),
        Output::quantity("path_per_turn", "mm", "length of the centre path per turn"),
    ],
    refusals: &[Refusal::of("cutter_diameter", "as large as the bore or larger")],
    usual_mistake: "programming the wall feed: the wall then runs far faster",
    validity: "full circles",
    source: "geometry",
    example: r#"{"bore_diameter": 10.0, "cutter_diameter": 6.0, "wall_feed": 180.0, "pitch": 0.4}"#,
    solve,
};
