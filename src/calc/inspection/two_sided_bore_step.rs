//! What step and kink appear in the middle of a bore drilled from both sides, from a centreline error and an index
//! error?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "two-sided-bore-step",
    version: 1,
    topic: "inspection",
    question: "What step and kink appear in the middle of a bore drilled from both sides, from a centreline error \
         and an index error?",
    formula: "first_side_error = centreline_error; second_side_error = -centreline_error; step_at_middle = 2 \
         centreline_error; kink_angle = index_error; mouth_error = mouth_radius sin(index_error)",
    inputs: &[
        Input::quantity("centreline_error", "mm", "error of the Y register, plus towards +Y"),
        Input::quantity("index_error", "deg", "error of the half turn").or(0.0),
        Input::quantity("mouth_radius", "mm", "radius at which the bore leaves the part").at_least(0.0),
    ],
    outputs: &[
        Output::quantity("first_side_error", "mm", "offset of the first half bore on the part"),
        Output::quantity("second_side_error", "mm", "offset of the second half bore"),
        Output::quantity("step_at_middle", "mm", "step where they meet"),
        Output::quantity("kink_angle", "deg", "angle between the two halves"),
        Output::quantity("mouth_error", "mm", "tangential error at the far mouth"),
    ],
    refusals: &[],
    usual_mistake: "the step is twice the error: half of it is a free check of the centreline",
    validity: "index exactly half a turn apart apart from index_error",
    source: "reversal",
    example: r#"{"centreline_error": 0.008, "index_error": 0.01, "mouth_radius": 24}"#,
    solve,
};
