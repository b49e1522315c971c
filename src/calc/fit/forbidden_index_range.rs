//! Between which index angles does a protruding point dip below a limit under the centreline?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "forbidden-index-range",
    version: 1,
    topic: "fit",
    question: "Between which index angles does a protruding point dip below a limit under the centreline?",
    formula: "rho = sqrt(y^2+z^2), alpha = atan2(z, y), a = asin(depth_limit/rho): point is below -depth_limit \
         while turn is in (180+a-alpha, 360-a-alpha); index = turn for right-hand, index range = (-turn_to, \
         -turn_from) for left-hand; all mod 360",
    inputs: &[
        Input::quantity("point_y", "mm", "point from the centreline at index 0"),
        Input::quantity("point_z", "mm", "same in Z"),
        Input::quantity("depth_limit", "mm", "how far below the centreline nothing may come, as a positive number")
            .above(0.0),
        Input::work_turns(),
    ],
    outputs: &[
        Output::flag(
            "reaches_limit",
            "true when the point can come below the limit at all (radius greater than depth_limit)",
        ),
        Output::quantity("turn_from", "deg", "start of the forbidden right-hand turn about +X")
            .null_when("reaches_limit is false")
            .round_the_circle(),
        Output::quantity("turn_to", "deg", "end of it, going up")
            .null_when("reaches_limit is false")
            .round_the_circle(),
        Output::quantity("index_from", "deg", "start of the forbidden index range, going up")
            .null_when("reaches_limit is false")
            .round_the_circle(),
        Output::quantity("index_to", "deg", "end of it").null_when("reaches_limit is false").round_the_circle(),
    ],
    refusals: &[],
    usual_mistake: "forgetting that the range runs the other way round for the other turning sense",
    validity: "rigid bodies, one rotary axis",
    source: "circular motion",
    example: r#"{"point_y": 118, "point_z": 9, "depth_limit": 110, "work_turns": "left-hand"}"#,
    solve,
};
