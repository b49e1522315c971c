//! Where is the rotary centreline in Z by a setter that stands on the fixture's top face?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "centre-below-top",
    version: 1,
    topic: "rotary",
    question: "Where is the middle of the fixture in Z by a reference tool on a setter that stands on its top face?",
    formula: "top_z = machine_z_at_touch - reference_tool_length - setter_height; middle_z = top_z - half_height; centreline_z = middle_z - \
         off_centre_z",
    inputs: &[
        Input::quantity("machine_z_at_touch", "mm", "machine Z with the reference tool on the setter"),
        Input::quantity("reference_tool_length", "mm", "length of the reference tool").above(0.0),
        Input::quantity("setter_height", "mm", "height of the setter; 0 when the face itself is touched").at_least(0.0),
        Input::quantity("half_height", "mm", "from the fixture's middle to its top face, measured").above(0.0),
        Input::quantity("off_centre_z", "mm", "fixture off the centreline in Z as it stands, plus = up").or(0.0),
    ],
    outputs: &[
        Output::quantity("top_z", "mm", "Z of the tip on the top face"),
        Output::quantity("middle_z", "mm", "Z of the fixture's middle"),
        Output::quantity("centreline_z", "mm", "Z of the rotary centreline"),
    ],
    refusals: &[],
    usual_mistake: "taking this middle for the centreline: it holds the off-centre, as a single middle in Y does",
    validity: "positive tool lengths; fixture level, setter wiped and standing flat",
    source: "common practice",
    example: r#"{
            "machine_z_at_touch": -157.394, "reference_tool_length": 120.412, "setter_height": 50, "half_height": 45.0005
        }"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let tip = given.number("machine_z_at_touch")? - given.number("reference_tool_length")?;
    let top = tip - given.number("setter_height")?;
    let middle = top - given.number("half_height")?;
    let centre = middle - given.number("off_centre_z")?;
    Ok(Answer::new().with("top_z", top).with("middle_z", middle).with("centreline_z", centre))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, refuses, with};

    // By hand: -100 - 120 - 50 = -270 on the face, 45 below it the middle.
    #[test]
    fn the_setter_and_half_the_height_are_taken_off() {
        let inputs = json!({"machine_z_at_touch": -100, "reference_tool_length": 120, "setter_height": 50,
            "half_height": 45, "off_centre_z": -0.5});
        let expected = json!({"top_z": -270.0, "middle_z": -315.0, "centreline_z": -314.5});
        holds("centre-below-top", &inputs, &expected);
        refuses("centre-below-top", &with(&inputs, "half_height", json!(0)), "half_height");
        refuses("centre-below-top", &with(&inputs, "setter_height", json!(-1)), "setter_height");
    }
}
