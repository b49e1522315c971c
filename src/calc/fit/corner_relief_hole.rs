//! How does a relief hole on the corner bisector cut into the walls so that a sharp corner can seat?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "corner-relief-hole",
    version: 1,
    topic: "fit",
    question: "How does a relief hole on the corner bisector cut into the walls so that a sharp corner can seat?",
    formula: "centre_offset = r/sqrt(2) from each wall; wall_lost = sqrt(2) r; overcut = r(1 - 1/sqrt(2)); r = \
         relief_diameter/2",
    inputs: &[Input::quantity("relief_diameter", "mm", "diameter of the relief hole").above(0.0)],
    outputs: &[
        Output::quantity("centre_offset", "mm", "hole centre inside each wall"),
        Output::quantity("wall_lost", "mm", "length of each wall lost from the corner"),
        Output::quantity("overcut", "mm", "depth of the hole beyond each wall"),
    ],
    refusals: &[],
    usual_mistake: "centring the hole on the corner itself: it eats more wall than needed",
    validity: "square corner, hole through the corner point",
    source: "circle geometry",
    example: r#"{"relief_diameter": 3}"#,
    solve,
};
