//! Where is the rotary centreline in Z when two opposite faces were touched from above, half a turn apart?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "flip-from-above",
    version: 1,
    topic: "rotary",
    question: "Where is the rotary centreline in Z when two opposite faces were touched from above, half a turn apart?",
    formula: "centreline_z = (face_z_at_0 + face_z_at_180 - known_height)/2; off_centre_z = (face_z_at_0 - \
         face_z_at_180)/2",
    inputs: &[
        Input::quantity("face_z_at_0", "mm", "Z of the face that looks up at the first index, tip or setter taken off"),
        Input::quantity("face_z_at_180", "mm", "Z of the opposite face, looking up half a turn later"),
        Input::quantity("known_height", "mm", "distance of the two faces, measured beforehand").above(0.0),
    ],
    outputs: &[
        Output::quantity("centreline_z", "mm", "Z of the rotary centreline"),
        Output::quantity("off_centre_z", "mm", "off-centre of the fixture in Z at the first index"),
    ],
    refusals: &[],
    usual_mistake: "half of any error of the height stays in the centreline, and the whole error of the tip or setter",
    validity: "parallel opposite faces, fixture not moved between the flips, both turns finished from the same side",
    source: "reversal method of the ISO 230-1 kind",
    example: r#"{"face_z_at_0": -327.807, "face_z_at_180": -327.784, "known_height": 90.001}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let (first, second) = (given.number("face_z_at_0")?, given.number("face_z_at_180")?);
    let centre = f64::midpoint(first, second) - given.number("known_height")? / 2.0;
    Ok(Answer::new().with("centreline_z", centre).with("off_centre_z", f64::midpoint(first, -second)))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, refuses, with};

    // Geometry: a block of 90 whose middle stands 0.03 above an axis at -400: faces at -354.97 and, turned, -355.03.
    #[test]
    fn the_flip_takes_the_off_centre_out() {
        let inputs = json!({"face_z_at_0": -354.97, "face_z_at_180": -355.03, "known_height": 90});
        holds("flip-from-above", &inputs, &json!({"centreline_z": -400.0, "off_centre_z": 0.03}));
        refuses("flip-from-above", &with(&inputs, "known_height", json!(0)), "known_height");
    }
}
