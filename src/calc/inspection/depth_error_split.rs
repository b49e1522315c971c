//! How do the depth errors of a first article split into a Z register error and an off-centre error?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "depth-error-split",
    version: 1,
    topic: "inspection",
    question: "How do the depth errors of a first article split into a Z register error and an off-centre error?",
    formula: "least squares on error_i = -z_register_error - off_centre_y sin(azimuth_i) + off_centre_z \
         cos(azimuth_i)",
    inputs: &[
        Input::quantities("azimuths", "deg", "azimuth of each feature on the part, right-hand about +X from +Z")
            .least_items(3),
        Input::quantities("depth_errors", "mm", "measured depth error, plus = too deep")
            .least_items(3)
            .same_length_as("azimuths"),
    ],
    outputs: &[
        Output::quantity("z_register_error", "mm", "error of the Z register, plus = register too high"),
        Output::quantity("off_centre_y", "mm", "off-centre left in Y"),
        Output::quantity("off_centre_z", "mm", "off-centre left in Z"),
        Output::quantity("largest_residual", "mm", "largest absolute residual"),
    ],
    refusals: &[
        Refusal::of("azimuths", "fewer than three, or fewer than three different azimuths modulo 360"),
        Refusal::of("depth_errors", "another number of entries than azimuths"),
    ],
    usual_mistake: "a register that stands too high drills too shallow: mind the sign",
    validity: "small errors",
    source: "linear least squares",
    example: r#"{"azimuths": [0, 90, 180, 270], "depth_errors": [0.01, 0.004, 0.002, 0.008]}"#,
    solve,
};
