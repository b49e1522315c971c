//! How high must the tip stand before the rotary turns?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "tip-height-for-turn",
    version: 1,
    topic: "first-run",
    question: "How high above the rotary centreline must the tip stand before the rotary turns?",
    formula: "least_height = swing_radius + margin",
    inputs: &[
        Input::quantity("swing_radius", "mm", "largest radius that swings round, screws and jaws too").above(0.0),
        Input::quantity("margin", "mm", "gap wanted").at_least(0.0),
    ],
    outputs: &[Output::quantity("least_height", "mm", "least height of the tip above the centreline")],
    refusals: &[],
    usual_mistake: "a retract to the clearance plane of the hole: a corner of the fixture swings higher",
    validity: "one rotary axis; Z of the program counted from the centreline",
    source: "definition of the swing",
    example: r#"{"swing_radius": 64.7, "margin": 5}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    Ok(Answer::new().with("least_height", given.number("swing_radius")? + given.number("margin")?))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, refuses};

    // By definition.
    #[test]
    fn the_margin_comes_on_top_of_the_swing() {
        holds("tip-height-for-turn", &json!({"swing_radius": 60, "margin": 5}), &json!({"least_height": 65.0}));
        refuses("tip-height-for-turn", &json!({"swing_radius": 60, "margin": -5}), "margin");
    }
}
