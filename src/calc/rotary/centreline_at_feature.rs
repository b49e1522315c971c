//! Where is the centreline at a feature along X when the rotary axis is not quite parallel?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "centreline-at-feature",
    version: 1,
    topic: "rotary",
    question: "Where is the centreline at a feature along X when the rotary axis is not quite parallel?",
    formula: "y = centreline_y + axis_slope_y (feature_x - reference_x); z likewise",
    inputs: &[
        Input::quantity("centreline_y", "mm", "centreline Y at reference_x"),
        Input::quantity("centreline_z", "mm", "centreline Z at reference_x"),
        Input::quantity("axis_slope_y", "mm/m", "slope of the axis in Y, plus when Y grows with X"),
        Input::quantity("axis_slope_z", "mm/m", "same in Z"),
        Input::quantity("reference_x", "mm", "X where the centreline was measured"),
        Input::quantity("feature_x", "mm", "X of the feature"),
    ],
    outputs: &[
        Output::quantity("centreline_y_at_feature", "mm", "centreline Y at the feature"),
        Output::quantity("centreline_z_at_feature", "mm", "centreline Z at the feature"),
    ],
    refusals: &[],
    usual_mistake: "taking the slope from the faceplate when the centreline was touched elsewhere",
    validity: "small slopes",
    source: "straight line",
    example: r#"{
            "centreline_y": -187.463, "centreline_z": -372.796, "axis_slope_y": 0.04, "axis_slope_z": -0.02,
            "reference_x": -212.4, "feature_x": -157.4
        }"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let metres = (given.number("feature_x")? - given.number("reference_x")?) / 1000.0;
    Ok(Answer::new()
        .with("centreline_y_at_feature", given.number("centreline_y")? + given.number("axis_slope_y")? * metres)
        .with("centreline_z_at_feature", given.number("centreline_z")? + given.number("axis_slope_z")? * metres))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::holds;

    // By hand: 55 mm along a slope of 0.04 mm/m is 2.2 microns.
    #[test]
    fn the_slope_carries_the_centreline_along() {
        let inputs = json!({"centreline_y": -187.463, "centreline_z": -372.796, "axis_slope_y": 0.04,
            "axis_slope_z": "-20 um/m", "reference_x": -212.4, "feature_x": -157.4});
        let expected = json!({"centreline_y_at_feature": -187.4608, "centreline_z_at_feature": -372.7971});
        holds("centreline-at-feature", &inputs, &expected);
    }
}
