//! What does an angle error cost across and in depth at a radius?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "angle-error-at-radius",
    version: 1,
    topic: "tram",
    question: "What does an angle error cost across and in depth at a radius?",
    formula: "tangential_error = radius sin(angle_error); depth_error = radius (1 - cos(angle_error)) = 2 radius \
         sin^2(angle_error/2)",
    inputs: &[
        Input::quantity("radius", "mm", "radius of the feature").at_least(0.0),
        Input::quantity("angle_error", "deg", "error of the index angle"),
    ],
    outputs: &[
        Output::quantity("tangential_error", "mm", "error across, with the sign of the angle"),
        Output::quantity("depth_error", "mm", "error in depth, never negative"),
    ],
    refusals: &[],
    usual_mistake: "1 - cos loses all digits for a small angle: use the half-angle form",
    validity: "none",
    source: "arc geometry",
    example: r#"{"radius": 24.0, "angle_error": 0.05}"#,
    solve,
};
