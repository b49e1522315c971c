//! How do the tangential errors of a first article split into a Y register error, an index error and an off-centre
//! error?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "first-article-split",
    version: 1,
    topic: "inspection",
    question: "How do the tangential errors of a first article split into a Y register error, an index error and an \
         off-centre error?",
    formula: "least squares on error_i = -y_register_error + r_i*angle_error + off_centre_y cos(azimuth_i) + \
         off_centre_z sin(azimuth_i), angle_error in radians",
    inputs: &[
        Input::quantities("azimuths", "deg", "azimuth of each feature on the part, right-hand about +X from +Z")
            .least_items(4),
        Input::quantities("radii", "mm", "radius of each feature").above(0.0).least_items(4).same_length_as("azimuths"),
        Input::quantities("tangential_errors", "mm", "measured error across, plus in the direction of growing azimuth")
            .least_items(4)
            .same_length_as("azimuths"),
    ],
    outputs: &[
        Output::quantity("y_register_error", "mm", "error of the Y register"),
        Output::quantity("angle_error", "deg", "error of the rotary zero"),
        Output::quantity("off_centre_y", "mm", "off-centre left in Y"),
        Output::quantity("off_centre_z", "mm", "off-centre left in Z"),
        Output::quantity("largest_residual", "mm", "largest absolute residual"),
    ],
    refusals: &[
        Refusal::of("azimuths", "fewer than four features, or fewer than three different azimuths modulo 360"),
        Refusal::of(
            "radii",
            "another number of entries, or the radii cannot be told from the other columns (one radius only)",
        ),
        Refusal::of("tangential_errors", "another number of entries than azimuths"),
    ],
    usual_mistake: "with one radius only, a Y error and an index error cannot be told apart: refuse and ask for a \
         second radius",
    validity: "small errors",
    source: "linear least squares",
    example: r#"{
            "azimuths": [0, 90, 180, 270, 45], "radii": [24, 24, 24, 24, 40],
            "tangential_errors": [0.012, 0.004, -0.003, 0.005, 0.014]
        }"#,
    solve,
};
