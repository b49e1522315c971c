//! Where is a face when the middle between it and the opposite one was found?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "face-from-middle",
    version: 1,
    topic: "rotary",
    question: "Where is a face when both it and the opposite one were touched and their distance is known?",
    formula: "middle = (low_reading + high_reading)/2; face_position = middle - known_distance/2 on the low side, plus on \
         the high side",
    inputs: &[
        Input::quantity("low_reading", "mm", "spindle position at the touch on the low (-) face, from outside"),
        Input::quantity("high_reading", "mm", "spindle position at the touch on the high (+) face, from outside"),
        Input::quantity("known_distance", "mm", "distance of the two faces, measured beforehand").above(0.0),
        Input::word("face", &["low", "high"], "which of the two is wanted"),
    ],
    outputs: &[
        Output::quantity("middle", "mm", "middle of the two; the tip's radius cancels in it"),
        Output::quantity("face_position", "mm", "the face wanted"),
    ],
    refusals: &[],
    usual_mistake: "taking the tip's radius off a middle: it is not in it",
    validity: "one tip on both sides, same way of touching; half of the error of the known distance stays",
    source: "common practice (midpoint of two faces)",
    example: r#"{"low_reading": -315.406, "high_reading": -239.404, "known_distance": 70, "face": "low"}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let middle = f64::midpoint(given.number("low_reading")?, given.number("high_reading")?);
    let half = given.number("known_distance")? / 2.0;
    let face = if given.word("face")? == "low" { middle - half } else { middle + half };
    Ok(Answer::new().with("middle", middle).with("face_position", face))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, refuses, with};

    // Common practice: a tip of any radius leaves the middle; faces at -312.404 and -242.404.
    #[test]
    fn the_radius_is_not_in_the_middle() {
        for radius in [0.5, 3.0] {
            let inputs = json!({"low_reading": -312.404 - radius, "high_reading": -242.404 + radius, "known_distance": 70,
                "face": "low"});
            holds("face-from-middle", &inputs, &json!({"middle": -277.404, "face_position": -312.404}));
            holds("face-from-middle", &with(&inputs, "face", json!("high")), &json!({"face_position": -242.404}));
            refuses("face-from-middle", &with(&inputs, "known_distance", json!(0)), "known_distance");
        }
    }
}
