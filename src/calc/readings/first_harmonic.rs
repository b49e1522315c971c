//! What eccentricity and at which angle is hidden in readings taken round a turn?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "first-harmonic",
    version: 1,
    topic: "metrology",
    question: "What eccentricity and at which angle is hidden in readings taken round a turn?",
    formula: "least squares on reading = mean + cosine_part cos(angle) + sine_part sin(angle); amplitude = \
         sqrt(cosine_part^2+sine_part^2); high_point_angle = atan2(sine_part, cosine_part) mod 360; run_out = 2 \
         amplitude; residual_deviation = sqrt(sum r^2/(n-3))",
    inputs: &[
        Input::quantities("angles", "deg", "angles, at least three different ones (modulo 360)").least_items(3),
        Input::quantities("readings", "mm", "reading at each angle").least_items(3).same_length_as("angles"),
    ],
    outputs: &[
        Output::quantity("mean", "mm", "constant part"),
        Output::quantity("cosine_part", "mm", "part that goes with the cosine"),
        Output::quantity("sine_part", "mm", "part that goes with the sine"),
        Output::quantity("amplitude", "mm", "eccentricity"),
        Output::quantity("high_point_angle", "deg", "angle of the high point")
            .null_when("amplitude below 1e-12 mm")
            .round_the_circle(),
        Output::quantity("run_out", "mm", "2 times amplitude"),
        Output::quantity("residual_deviation", "mm", "standard deviation of the residuals")
            .null_when("exactly three readings"),
    ],
    refusals: &[
        Refusal::of("angles", "fewer than three, or fewer than three different angles modulo 360"),
        Refusal::of("readings", "another number of entries than angles"),
    ],
    usual_mistake: "half of highest minus lowest is not the eccentricity when there is noise or lobing",
    validity: "one wave per turn",
    source: "linear least squares",
    example: r#"{"angles": [0, 90, 180, 270], "readings": [0.012, 0.003, -0.011, -0.002]}"#,
    solve,
};
