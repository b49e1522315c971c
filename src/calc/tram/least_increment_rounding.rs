//! What can the control really send of a correction, and what does the left-over cost at the pads and at the
//! feature?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "least-increment-rounding",
    version: 1,
    topic: "tram",
    question: "What can the control really send of a correction, and what does the left-over cost at the pads and \
         at the feature?",
    formula: "correction_to_send = nearest multiple of least_increment (halves away from zero); left_over = \
         index_correction - correction_to_send; pad_difference_left = pad_span tan(left_over); tangential_left = \
         feature_radius*left_over in radians",
    inputs: &[
        Input::quantity("index_correction", "deg", "correction wanted"),
        Input::quantity("least_increment", "deg", "smallest step of the rotary").above(0.0),
        Input::quantity("pad_span", "mm", "distance between the reading places").above(0.0),
        Input::quantity("feature_radius", "mm", "radius of the tightest feature").above(0.0),
    ],
    outputs: &[
        Output::quantity("correction_to_send", "deg", "multiple of the least increment"),
        Output::quantity("left_over", "deg", "angle left"),
        Output::quantity("pad_difference_left", "mm", "pad difference left"),
        Output::quantity("tangential_left", "mm", "error left at the feature"),
    ],
    refusals: &[],
    usual_mistake: "rounding early and losing the left-over from the error budget",
    validity: "none",
    source: "rounding",
    example: r#"{
            "index_correction": 0.18334586862300742, "least_increment": 0.001, "pad_span": 70,
            "feature_radius": 24
        }"#,
    solve,
};
