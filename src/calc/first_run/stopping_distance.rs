//! How far does an axis run on from the moment a person sees the need to stop?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "stopping-distance",
    version: 1,
    topic: "first-run",
    question: "How far does an axis run on from the moment a person sees the need to stop?",
    formula: "v = rapid_rate*rapid_dial/100/60 (mm/s); stopping_distance = v*reaction_time + v^2/(2 deceleration)",
    inputs: &[
        Input::quantity("rapid_rate", "mm/min", "full rapid rate").above(0.0),
        Input::quantity("rapid_dial", "%", "rapid setting").at_least(0.0).at_most(100.0),
        Input::quantity("deceleration", "mm/s2", "deceleration of the axis").above(0.0),
        Input::quantity("reaction_time", "s", "reaction time").at_least(0.0),
    ],
    outputs: &[
        Output::quantity("speed", "mm/min", "speed at that setting"),
        Output::quantity("stopping_distance", "mm", "distance run"),
    ],
    refusals: &[],
    usual_mistake: "leaving out the reaction: it is most of the distance",
    validity: "constant deceleration",
    source: "kinematics",
    example: r#"{"rapid_rate": 20000, "rapid_dial": 30, "deceleration": 3000, "reaction_time": 0.7}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let speed = given.number("rapid_rate")? * given.number("rapid_dial")? / 100.0;
    let per_second = speed / 60.0;
    let distance =
        per_second * given.number("reaction_time")? + per_second * per_second / (2.0 * given.number("deceleration")?);
    Ok(Answer::new().with("speed", speed).with("stopping_distance", distance))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, with};

    // The project's own derivation D19: 30 % of 20 m/min needs 71.7 mm.
    #[test]
    fn thirty_percent_needs_seventy_two_millimetres() {
        let inputs = json!({"rapid_rate": 20000, "rapid_dial": 30, "deceleration": 3000, "reaction_time": 0.7});
        holds("stopping-distance", &inputs, &json!({"speed": 6000.0, "stopping_distance": 71.666_666_666_666_67}));
        holds("stopping-distance", &with(&inputs, "rapid_dial", json!(0)), &json!({"stopping_distance": 0.0}));
    }
}
