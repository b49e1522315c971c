//! At which rapid setting can a person still stop the tool within the clearance?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "rapid-ceiling",
    version: 1,
    topic: "first-run",
    question: "At which rapid setting can a person still stop the tool within the clearance?",
    formula: "v = -a t + sqrt((a t)^2 + 2 a s) (mm/s); safe_speed = 60 v; ceiling = 100 safe_speed/rapid_rate",
    inputs: &[
        Input::quantity("clearance", "mm", "distance left to the work").above(0.0),
        Input::quantity("deceleration", "mm/s2", "deceleration of the axis").above(0.0),
        Input::quantity("reaction_time", "s", "time from seeing to the axis beginning to stop").at_least(0.0),
        Input::quantity("rapid_rate", "mm/min", "full rapid rate").above(0.0),
    ],
    outputs: &[
        Output::quantity("safe_speed", "mm/min", "highest speed that stops in time"),
        Output::quantity("ceiling", "%", "highest rapid setting; over 100 the dial is no limit"),
    ],
    refusals: &[],
    usual_mistake: "a quarter rapid is far too fast for a short gap",
    validity: "constant deceleration; both defaults must be measured",
    source: "kinematics",
    example: r#"{"clearance": 10.0, "deceleration": 3000.0, "reaction_time": 0.7, "rapid_rate": 20000.0}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let (clearance, deceleration) = (given.number("clearance")?, given.number("deceleration")?);
    let reaction = deceleration * given.number("reaction_time")?;
    // The same root without the difference of two nearly equal numbers: 2 a s / (a t + sqrt((a t)² + 2 a s)).
    let twice = 2.0 * deceleration * clearance;
    let speed = 60.0 * twice / (reaction + reaction.hypot(twice.sqrt()));
    Ok(Answer::new().with("safe_speed", speed).with("ceiling", 100.0 * speed / given.number("rapid_rate")?))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{answer, holds, near};

    // The project's own worked case (kinematics).
    #[test]
    fn ten_millimetres_let_a_twentieth_of_the_rapid_be_stopped() {
        let inputs = json!({"clearance": 10, "deceleration": 3000, "reaction_time": 0.7, "rapid_rate": 20000});
        holds("rapid-ceiling", &inputs, &json!({"safe_speed": 854.247_071_195_846, "ceiling": 4.271_235_355_979_23}));
    }

    // Kinematics: what the ceiling allows stops in just the clearance.
    #[test]
    fn the_ceiling_stops_in_the_clearance() {
        let inputs = json!({"clearance": 10, "deceleration": 3000, "reaction_time": 0.7, "rapid_rate": 20000});
        let ceiling = answer("rapid-ceiling", &inputs)["ceiling"]["value"].as_f64().unwrap();
        let run = json!({"rapid_rate": 20000, "rapid_dial": ceiling, "deceleration": 3000, "reaction_time": 0.7});
        near("stopping-distance", &run, "stopping_distance", 10.0, 1e-9);
    }
}
