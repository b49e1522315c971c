//! Over what length does a drill cut only part of its circle where it breaks into a cross bore?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "cross-bore-breakout",
    version: 1,
    topic: "cutting",
    question: "Over what length does a drill cut only part of its circle where it breaks into a cross bore?",
    formula: "interrupted_length = R - sqrt(R^2 - r^2); R = cross_bore_diameter/2, r = hole_diameter/2",
    inputs: &[
        Input::quantity("hole_diameter", "mm", "hole being drilled").above(0.0),
        Input::quantity("cross_bore_diameter", "mm", "bore it breaks into").above(0.0),
    ],
    outputs: &[Output::quantity("interrupted_length", "mm", "length of interrupted cut")],
    refusals: &[Refusal::of("hole_diameter", "greater than the cross bore")],
    usual_mistake: "letting go of the feed at the breakout",
    validity: "hole square to the cross bore and through its centreline",
    source: "circle",
    example: r#"{"hole_diameter": 3, "cross_bore_diameter": 8}"#,
    solve,
};
