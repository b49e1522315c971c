//! How far must the tool stick out so that the holder clears the fixture at full depth?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "stick-out-needed",
    version: 1,
    topic: "fit",
    question: "How far must the tool stick out so that the holder clears the fixture at full depth?",
    formula: "stick_out = max(0, obstacle_radius - hole_bottom_radius + safety_margin)",
    inputs: &[
        Input::quantity("obstacle_radius", "mm", "height of the obstacle above the rotary centreline").at_least(0.0),
        Input::quantity("hole_bottom_radius", "mm", "height of the tip above the centreline at full depth")
            .at_least(0.0),
        Input::quantity("safety_margin", "mm", "safety margin").at_least(0.0),
    ],
    outputs: &[Output::quantity("stick_out", "mm", "length of tool needed below the holder")],
    refusals: &[],
    usual_mistake: "forgetting the margin, or measuring the depth from the surface in place of the bottom",
    validity: "vertical tool",
    source: "geometry",
    example: r#"{"obstacle_radius": 64.7, "hole_bottom_radius": 17.5, "safety_margin": 2}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let reach =
        given.number("obstacle_radius")? - given.number("hole_bottom_radius")? + given.number("safety_margin")?;
    Ok(Answer::new().with("stick_out", reach.max(0.0)))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, refuses, with};

    // By hand.
    #[test]
    fn the_holder_stays_over_the_obstacle() {
        let inputs = json!({"obstacle_radius": 64.7, "hole_bottom_radius": 17.5, "safety_margin": 2});
        holds("stick-out-needed", &inputs, &json!({"stick_out": 49.2}));
        holds("stick-out-needed", &with(&inputs, "hole_bottom_radius", json!(70)), &json!({"stick_out": 0.0}));
        refuses("stick-out-needed", &with(&inputs, "safety_margin", json!(-2)), "safety_margin");
    }
}
