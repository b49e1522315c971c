//! How far does a jaw edge stand off the slot floor because of the fillet in the corner?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "corner-standoff",
    version: 1,
    topic: "fit",
    question: "How far does a jaw edge stand off the slot floor because of the fillet in the corner?",
    formula: "h = max(0, R - sqrt(R^2-(R-g-b)^2) if g+b<R, R - b - sqrt(R^2-(R-g)^2) if g<R); chamfer_for_flush = \
         max(0, R-g); R fillet_radius, g side_gap, b jaw_chamfer",
    inputs: &[
        Input::quantity("fillet_radius", "mm", "fillet radius of the slot corner").at_least(0.0),
        Input::quantity("side_gap", "mm", "gap between jaw side and slot wall").at_least(0.0),
        Input::quantity("jaw_chamfer", "mm", "leg of the 45 degree chamfer on the jaw edge, 0 = sharp")
            .at_least(0.0)
            .or(0.0),
    ],
    outputs: &[
        Output::quantity("standoff", "mm", "height by which the jaw stands off the floor, 0 = flush"),
        Output::quantity("chamfer_for_flush", "mm", "smallest chamfer leg that lets it seat"),
    ],
    refusals: &[],
    usual_mistake: "testing the middle of the chamfer only: the ends of the chamfer touch the fillet first",
    validity: "45 degree chamfer, round fillet tangent to floor and wall",
    source: "circle geometry",
    example: r#"{"fillet_radius": 1.5, "side_gap": 0.05, "jaw_chamfer": 0.0}"#,
    solve,
};
