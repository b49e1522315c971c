//! By how much and which way must the rotary be turned to bring two pads level?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "tram-correction",
    version: 1,
    topic: "tram",
    question: "By how much and which way must the rotary be turned to bring two pads level?",
    formula: "pad_difference = rear_reading - front_reading - pad_step; roll_angle = atan(pad_difference/pad_span) \
         for flats, asin for high-points; index_correction = -s*roll_angle (s=+1 right-hand, -1 left-hand)",
    inputs: &[
        Input::quantity("rear_reading", "mm", "indicator on the rear (+Y) pad, plus = higher"),
        Input::quantity("front_reading", "mm", "indicator on the front (-Y) pad, plus = higher"),
        Input::quantity("pad_span", "mm", "distance between the two reading places").above(0.0),
        Input::quantity("pad_step", "mm", "drawing height of the rear pad above the front pad").or(0.0),
        Input::work_turns(),
        Input::word(
            "pad_contact",
            &["flats", "high-points"],
            "flats read at fixed Y, or two high points followed by the indicator",
        )
        .or_word("flats"),
    ],
    outputs: &[
        Output::quantity("pad_difference", "mm", "height difference with the drawing step taken off"),
        Output::quantity("roll_angle", "deg", "right-hand roll of the work, plus = rear pad high"),
        Output::quantity("index_correction", "deg", "angle to command, with its sign"),
    ],
    refusals: &[Refusal::of("pad_span", "shorter than the height difference when high-points are read")],
    usual_mistake: "forgetting the drawing height difference of the pads, or sending the correction in the wrong \
         sense",
    validity: "pad faces coplanar apart from the stated step",
    source: "plane geometry",
    example: r#"{
            "rear_reading": 0.129, "front_reading": -0.095, "pad_span": 70.0, "work_turns": "left-hand"
        }"#,
    solve,
};
