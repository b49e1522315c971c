//! How far does an off-centre fixture carry the part sideways and in height at each index angle?

use crate::calc::degrees;
use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "off-centre-shift",
    version: 1,
    topic: "rotary",
    question: "How far does an off-centre fixture carry the part sideways and in height at each index angle?",
    formula: "turn = s*index_angle; shift_y = off_centre_y cos(turn) - off_centre_z sin(turn); shift_z = \
         off_centre_y sin(turn) + off_centre_z cos(turn)",
    inputs: &[
        Input::quantity("off_centre_y", "mm", "fixture off the rotary centreline at index 0, plus towards +Y"),
        Input::quantity("off_centre_z", "mm", "same, plus towards +Z"),
        Input::work_turns(),
        Input::quantities("index_angles", "deg", "commanded rotary angles").least_items(1),
    ],
    outputs: &[
        Output::quantities("shifts_y", "mm", "machine Y shift at each index, in the order given"),
        Output::quantities("shifts_z", "mm", "machine Z shift at each index"),
    ],
    refusals: &[],
    usual_mistake: "the two senses agree at 0 and 180 and differ at 90 and 270: test there",
    validity: "rigid bodies, one rotary axis",
    source: "plane rotation",
    example: r#"{
            "off_centre_y": 0.018, "off_centre_z": -0.011, "work_turns": "left-hand",
            "index_angles": [0, 90, 180, 270]
        }"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let (y, z) = (given.number("off_centre_y")?, given.number("off_centre_z")?);
    let sense = given.work_turns()?;
    let turns = given.numbers("index_angles")?.iter().map(|index| degrees::sine_and_cosine(sense * index));
    let (shifts_y, shifts_z): (Vec<f64>, Vec<f64>) =
        turns.map(|(sine, cosine)| (y * cosine - z * sine, y * sine + z * cosine)).unzip();
    Ok(Answer::new().with("shifts_y", shifts_y).with("shifts_z", shifts_z))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, refuses, with};

    // Worked case offcentre_shift_iso of the project's own set of cases; signs at 90 and 270 change with the sense.
    #[test]
    fn the_sense_shows_at_the_quarter_turns() {
        let inputs = json!({"off_centre_y": 0.018, "off_centre_z": -0.011, "work_turns": "left-hand",
            "index_angles": [0, 90, 180, 270]});
        let expected = json!({"shifts_y": [0.018, -0.011, -0.018, 0.011], "shifts_z": [-0.011, -0.018, 0.011, 0.018]});
        holds("off-centre-shift", &inputs, &expected);
        let expected = json!({"shifts_y": [0.018, 0.011, -0.018, -0.011], "shifts_z": [-0.011, 0.018, 0.011, -0.018]});
        holds("off-centre-shift", &with(&inputs, "work_turns", json!("right-hand")), &expected);
        refuses("off-centre-shift", &with(&inputs, "index_angles", json!([])), "index_angles");
        refuses("off-centre-shift", &with(&inputs, "index_angles", json!([0, null])), "index_angles");
    }
}
