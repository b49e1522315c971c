//! How far is the fixture off centre in height, from half its height found after a quarter turn?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "off-centre-from-quarter-turn",
    version: 1,
    topic: "rotary",
    question: "How far is the fixture off centre in height, from the half height that a quarter turn found?",
    formula: "off_centre_z = half_height_found - fixture_half_height",
    inputs: &[
        Input::quantity(
            "half_height_found",
            "mm",
            "rotary centreline to the fixture's top face as the quarter turn found it (centreline-quarter-turn)",
        ),
        Input::quantity("fixture_half_height", "mm", "half the fixture's own height, measured off the machine")
            .above(0.0),
    ],
    outputs: &[Output::quantity("off_centre_z", "mm", "fixture off the rotary centreline in Z at index 0, plus up")],
    refusals: &[],
    usual_mistake: "taking the fixture's drawing height for its measured one: the whole error lands in the off-centre",
    validity: "top face turned to a side without being re-clamped",
    source: "plane geometry",
    example: r#"{"half_height_found": 44.989, "fixture_half_height": 45.0005}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let off_centre_z = given.number("half_height_found")? - given.number("fixture_half_height")?;
    Ok(Answer::new().with("off_centre_z", off_centre_z))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{near, refuses, with};

    // The project's worked job of a flow-sensor body: 44.989 found on a fixture of 45.0005 lies 0.0115 low.
    #[test]
    fn a_top_that_is_found_low_sits_low() {
        let inputs = json!({"half_height_found": 44.989, "fixture_half_height": 45.0005});
        near("off-centre-from-quarter-turn", &inputs, "off_centre_z", -0.0115, 1e-12);
        let flat = with(&inputs, "fixture_half_height", json!(0));
        refuses("off-centre-from-quarter-turn", &flat, "fixture_half_height");
    }
}
