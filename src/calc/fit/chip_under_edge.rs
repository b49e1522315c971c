//! How much does a chip under one edge tilt the fixture and shift a feature standing above it?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "chip-under-edge",
    version: 1,
    topic: "fit",
    question: "How much does a chip under one edge tilt the fixture and shift a feature standing above it?",
    formula: "tilt_angle = atan(chip_thickness/base_length); feature_shift = chip_thickness*overhang/base_length",
    inputs: &[
        Input::quantity("chip_thickness", "mm", "thickness of the chip").above(0.0),
        Input::quantity("base_length", "mm", "distance from the chip to the opposite edge").above(0.0),
        Input::quantity("overhang", "mm", "height of the feature above the seat").at_least(0.0),
    ],
    outputs: &[
        Output::quantity("tilt_angle", "deg", "tilt of the fixture"),
        Output::quantity("feature_shift", "mm", "sideways shift of the feature"),
    ],
    refusals: &[],
    usual_mistake: "a tenth under one edge is not a tenth at the feature: it grows with the overhang",
    validity: "rigid fixture, chip at the very edge",
    source: "lever",
    example: r#"{"chip_thickness": 0.1, "base_length": 70.0, "overhang": 45.0}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let slope = given.number("chip_thickness")? / given.number("base_length")?;
    Ok(Answer::new()
        .with("tilt_angle", slope.atan().to_degrees())
        .with("feature_shift", slope * given.number("overhang")?))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, refuses, with};

    // Worked case chip_under_edge of the project's own set of cases.
    #[test]
    fn a_tenth_under_one_edge_moves_a_hole_by_more_than_its_zone() {
        let inputs = json!({"chip_thickness": 0.1, "base_length": 70.0, "overhang": 45.0});
        let expected = json!({"tilt_angle": 0.081_851_057_909_156_13, "feature_shift": 0.064_285_714_285_714_28});
        holds("chip-under-edge", &inputs, &expected);
        refuses("chip-under-edge", &with(&inputs, "chip_thickness", json!(0)), "chip_thickness");
        refuses("chip-under-edge", &with(&inputs, "base_length", json!(0)), "base_length");
        refuses("chip-under-edge", &with(&inputs, "overhang", json!(-1)), "overhang");
    }
}
