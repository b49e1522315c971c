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
    let (reading, radius) = (given.number("reading")?, given.number("tip_radius")?);
    let face = if given.word("tip_stands_on")? == "plus-side" { reading - radius } else { reading + radius };
    Ok(Answer::new().with("face_position", face))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, with};

    // The project's own worked case; the sign rule is common practice.
    #[test]
    fn the_radius_goes_towards_the_face() {
        let inputs = json!({"reading": -317.4046, "tip_radius": 5, "tip_stands_on": "minus-side"});
        holds("touched-face", &inputs, &json!({"face_position": -312.4046}));
        holds(
            "touched-face",
            &with(&inputs, "tip_stands_on", json!("plus-side")),
            &json!({"face_position": -322.4046}),
        );
    }
}
