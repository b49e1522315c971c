//! Is a feature inside its round position zone?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "position-zone",
    version: 1,
    topic: "inspection",
    question: "Is a feature inside its round position zone?",
    formula: "radial_error = sqrt(error_x^2+error_y^2); diametral_error = 2 radial_error; inside = diametral_error \
         <= position_zone; per_axis_limit = position_zone/2/sqrt(2)",
    inputs: &[
        Input::quantity("position_zone", "mm", "DIAMETER of the position zone").above(0.0),
        Input::quantity("error_x", "mm", "error in one direction"),
        Input::quantity("error_y", "mm", "error across it"),
    ],
    outputs: &[
        Output::quantity("radial_error", "mm", "distance from true position"),
        Output::quantity("diametral_error", "mm", "twice that, to compare with the zone"),
        Output::flag("inside", "true when inside or on the edge"),
        Output::quantity("per_axis_limit", "mm", "equal error per axis that just reaches the zone"),
    ],
    refusals: &[],
    usual_mistake: "each axis below half the zone and the hole is out all the same",
    validity: "none",
    source: "definition of the position tolerance (ISO 1101)",
    example: r#"{"position_zone": 0.05, "error_x": 0.019, "error_y": 0.0165}"#,
    solve,
};
