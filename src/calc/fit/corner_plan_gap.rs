//! How much gap to each wall does a jaw corner need in plan to clear the fillet in a slot corner?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "corner-plan-gap",
    version: 1,
    topic: "fit",
    question: "How much gap to each wall does a jaw corner need in plan to clear the fillet in a slot corner?",
    formula: "gap_each_side = max(0, (fillet_radius - jaw_corner_radius)(1 - 1/sqrt(2)))",
    inputs: &[
        Input::quantity("fillet_radius", "mm", "fillet radius in plan").at_least(0.0),
        Input::quantity("jaw_corner_radius", "mm", "corner radius of the jaw in plan, 0 = sharp").at_least(0.0),
    ],
    outputs: &[Output::quantity("gap_each_side", "mm", "smallest equal gap to both walls")],
    refusals: &[],
    usual_mistake: "comparing the two radii only, without the corner factor",
    validity: "equal gap to both walls, square corner",
    source: "circle geometry",
    example: r#"{"fillet_radius": 1.5, "jaw_corner_radius": 0.5}"#,
    solve,
};
