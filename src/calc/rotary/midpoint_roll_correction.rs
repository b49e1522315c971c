//! How far does a fixture that is still rolled push the middle of two side touches, and what is the middle put
//! right?

use crate::calc::degrees;
use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "midpoint-roll-correction",
    version: 1,
    topic: "rotary",
    question: "How far does a fixture that is still rolled push the middle of two side touches, and what is the \
         middle put right?",
    formula: "midpoint = (front+back)/2; midpoint_shift = -touch_height tan(roll_angle); midpoint_corrected = \
         midpoint - midpoint_shift",
    inputs: &[
        Input::quantity("front_reading", "mm", "touch on the front (-Y) face"),
        Input::quantity("back_reading", "mm", "touch on the back (+Y) face"),
        Input::quantity("touch_height", "mm", "height of both touches above the rotary centreline, minus when below"),
        Input::quantity(
            "roll_angle",
            "deg",
            "right-hand roll about +X of the touched faces (the fixture, not the part in it)",
        )
        .at_least(-45.0)
        .at_most(45.0),
    ],
    outputs: &[
        Output::quantity("midpoint", "mm", "middle as read"),
        Output::quantity("midpoint_shift", "mm", "part of it due to roll and height"),
        Output::quantity("midpoint_corrected", "mm", "middle without it"),
    ],
    refusals: &[],
    usual_mistake: "the flip average does NOT cancel this term: both faces move the same way and still do after \
         half a turn",
    validity: "flat parallel faces, both touched at one height",
    source: "plane geometry",
    example: r#"{
            "front_reading": -232.4462, "back_reading": -142.38, "touch_height": 10.0, "roll_angle": -0.183
        }"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let midpoint = f64::midpoint(given.number("front_reading")?, given.number("back_reading")?);
    let midpoint_shift = -given.number("touch_height")? * degrees::tangent(given.number("roll_angle")?);
    Ok(Answer::new()
        .with("midpoint", midpoint)
        .with("midpoint_shift", midpoint_shift)
        .with("midpoint_corrected", midpoint - midpoint_shift))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, near, refuses, with};

    // Worked case face_pair_roll_height of the project's own set of cases.
    #[test]
    fn roll_and_height_push_the_middle() {
        let inputs = json!({"front_reading": -232.4462, "back_reading": -142.38, "touch_height": 10.0,
            "roll_angle": -0.183});
        let expected = json!({"midpoint": -187.4131, "midpoint_shift": 0.031_939_633_920_514_83,
            "midpoint_corrected": -187.445_039_633_920_5});
        holds("midpoint-roll-correction", &inputs, &expected);
        refuses("midpoint-roll-correction", &with(&inputs, "roll_angle", json!(45.001)), "roll_angle");
    }

    // Worked by hand in the derivation: 15 mm high and 0.25 degrees shift the middle by -0.0655 mm.
    #[test]
    fn a_quarter_of_a_degree_is_no_trifle() {
        let inputs = json!({"front_reading": 0, "back_reading": 0, "touch_height": 15, "roll_angle": 0.25});
        near("midpoint-roll-correction", &inputs, "midpoint_shift", -0.0655, 0.000_05);
        let at_centre = with(&inputs, "touch_height", json!(0));
        holds("midpoint-roll-correction", &at_centre, &json!({"midpoint_shift": 0.0}));
    }
}
