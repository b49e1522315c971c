//! Where is the face that the tip touched?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "touched-face",
    version: 1,
    topic: "metrology",
    question: "Where is the face that the tip touched?",
    formula: "face_position = reading - tip_radius when the tip stands on the plus side of the face, + tip_radius \
         on the minus side",
    inputs: &[
        Input::quantity("reading", "mm", "position read at the touch"),
        Input::quantity("tip_radius", "mm", "radius (not diameter) of the tip").at_least(0.0),
        Input::word(
            "tip_stands_on",
            &["plus-side", "minus-side"],
            "side of the face on which the tip stands, along the axis being read",
        ),
    ],
    outputs: &[Output::quantity("face_position", "mm", "position of the face")],
    refusals: &[],
    usual_mistake: "sign of the radius, or the diameter typed for the radius",
    validity: "same speed and direction as when the tip was calibrated",
    source: "sign rule",
    example: r#"{"reading": -317.4046, "tip_radius": 5.0, "tip_stands_on": "minus-side"}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let side = if given.word("tip_stands_on")? == "plus-side" { -1.0 } else { 1.0 };
    Ok(Answer::new().with("face_position", given.number("reading")? + side * given.number("tip_radius")?))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, refuses, with};

    // Worked case touch_back_face of the project's own set of cases.
    #[test]
    fn the_radius_points_from_the_tip_to_the_face() {
        let inputs = json!({"reading": -317.4046, "tip_radius": 5, "tip_stands_on": "minus-side"});
        holds("touched-face", &inputs, &json!({"face_position": -312.4046}));
        holds(
            "touched-face",
            &with(&inputs, "tip_stands_on", json!("plus-side")),
            &json!({"face_position": -322.4046}),
        );
        refuses("touched-face", &with(&inputs, "tip_radius", json!(-5)), "tip_radius");
        refuses("touched-face", &with(&inputs, "tip_stands_on", json!("left")), "tip_stands_on");
    }

    // Geometry: the middle of two outside touches with one tip is free of its radius (worked example -12.503, 37.491).
    #[test]
    fn the_radius_cancels_in_a_middle() {
        let face = |reading: f64, side: &str| {
            let inputs = json!({"reading": reading, "tip_radius": 3, "tip_stands_on": side});
            crate::calc::check::answer("touched-face", &inputs)["face_position"]["value"].as_f64().unwrap()
        };
        let middle = f64::midpoint(face(-12.503, "minus-side"), face(37.491, "plus-side"));
        assert!((middle - 12.494).abs() < 1e-12, "{middle}");
    }
}
