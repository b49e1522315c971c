//! What does an angle error cost across and in depth at a radius?

use crate::calc::degrees;
use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "angle-error-at-radius",
    version: 1,
    topic: "tram",
    question: "What does an angle error cost across and in depth at a radius?",
    formula: "tangential_error = radius sin(angle_error); depth_error = radius (1 - cos(angle_error)) = 2 radius \
         sin^2(angle_error/2)",
    inputs: &[
        Input::quantity("radius", "mm", "radius of the feature").at_least(0.0),
        Input::quantity("angle_error", "deg", "error of the index angle"),
    ],
    outputs: &[
        Output::quantity("tangential_error", "mm", "error across, with the sign of the angle"),
        Output::quantity("depth_error", "mm", "error in depth, never negative"),
    ],
    refusals: &[],
    usual_mistake: "1 - cos loses all digits for a small angle: use the half-angle form",
    validity: "none",
    source: "arc geometry",
    example: r#"{"radius": 24.0, "angle_error": 0.05}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let (radius, angle_error) = (given.number("radius")?, given.number("angle_error")?);
    let (sine, _) = degrees::sine_and_cosine(angle_error);
    let (half_sine, _) = degrees::sine_and_cosine(angle_error / 2.0);
    Ok(Answer::new().with("tangential_error", radius * sine).with("depth_error", 2.0 * radius * half_sine * half_sine))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, near, refuses};

    // Worked case angle_error_at_radius of the project's own set of cases.
    #[test]
    fn a_twentieth_of_a_degree_costs_across_and_hardly_in_depth() {
        let expected = json!({"tangential_error": 0.020_943_948_365_643_59, "depth_error": 9.138_522_013_652_695e-6});
        holds("angle-error-at-radius", &json!({"radius": 24.0, "angle_error": 0.05}), &expected);
        refuses("angle-error-at-radius", &json!({"radius": -1, "angle_error": 0}), "radius");
    }

    // Geometry: 10 seconds of arc at 100 mm are 0.004848 mm across (Abbe); 1 degree over 100 mm shortens by 0.01523 mm
    // (cosine error).
    #[test]
    fn abbe_and_cosine_errors_come_out() {
        let inputs = json!({"radius": 100, "angle_error": "10 arcsec"});
        near("angle-error-at-radius", &inputs, "tangential_error", 0.004_848_136_809, 5e-13);
        let inputs = json!({"radius": 100, "angle_error": "1 deg"});
        near("angle-error-at-radius", &inputs, "depth_error", 0.015_230_484_36, 5e-12);
    }
}
