//! How far is the spindle off the centre of a bore or boss that was swept with an indicator?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "sweep-centre-offset",
    version: 1,
    topic: "metrology",
    question: "How far is the spindle off the centre of a bore or boss that was swept with an indicator?",
    formula: "offset_x = x_difference/2; offset_y = y_difference/2; radial_offset = sqrt(offset_x^2+offset_y^2)",
    inputs: &[
        Input::quantity("x_difference", "mm", "reading at +X minus reading at -X"),
        Input::quantity("y_difference", "mm", "reading at +Y minus reading at -Y"),
    ],
    outputs: &[
        Output::quantity("offset_x", "mm", "half the difference, same sign"),
        Output::quantity("offset_y", "mm", "half the difference, same sign"),
        Output::quantity("radial_offset", "mm", "length of the offset"),
    ],
    refusals: &[],
    usual_mistake: "the offset is HALF the difference of opposite readings",
    validity: "round bore, sweep square to it",
    source: "indicator sweep",
    example: r#"{"x_difference": 0.024, "y_difference": -0.01}"#,
    solve,
};
