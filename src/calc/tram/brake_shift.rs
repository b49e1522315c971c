//! How far did closing the brake turn the work, and how much is that at the feature?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "brake-shift",
    version: 1,
    topic: "tram",
    question: "How far did closing the brake turn the work, and how much is that at the feature?",
    formula: "shift_angle = (pad_before - pad_after)/pad_radius in radians; shift_at_feature = (pad_before - \
         pad_after)*feature_radius/pad_radius",
    inputs: &[
        Input::quantity("pad_before", "mm", "pad reading before the brake closes"),
        Input::quantity("pad_after", "mm", "same pad after"),
        Input::quantity("pad_radius", "mm", "distance of the pad from the centreline").above(0.0),
        Input::quantity("feature_radius", "mm", "radius of the feature").at_least(0.0),
    ],
    outputs: &[
        Output::quantity("shift_angle", "deg", "turn of the work, plus when the pad dropped"),
        Output::quantity("shift_at_feature", "mm", "movement at the feature"),
    ],
    refusals: &[],
    usual_mistake: "using the pad span (both pads) for the radius (one pad)",
    validity: "small angles",
    source: "small angle",
    example: r#"{"pad_before": 0.002, "pad_after": -0.003, "pad_radius": 35, "feature_radius": 24}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let dropped = given.number("pad_before")? - given.number("pad_after")?;
    let turned = dropped / given.number("pad_radius")?;
    Ok(Answer::new()
        .with("shift_angle", turned.to_degrees())
        .with("shift_at_feature", turned * given.number("feature_radius")?))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, near, refuses, with};

    // Textbook: 1 second of arc over 1 m is 4.848 microns.
    #[test]
    fn five_microns_over_a_metre_are_a_second_of_arc() {
        let inputs = json!({"pad_before": "4.848 um", "pad_after": 0, "pad_radius": "1 m", "feature_radius": 500});
        near("brake-shift", &inputs, "shift_angle", 1.0 / 3600.0, 1e-7);
        holds("brake-shift", &inputs, &json!({"shift_at_feature": 0.002_424}));
        refuses("brake-shift", &with(&inputs, "feature_radius", json!(-1)), "feature_radius");
    }
}
