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
    let speed = given.number("rapid_rate")? * (given.number("rapid_dial")? / 100.0);
    let speed_per_second = speed / 60.0;
    let braking = speed_per_second * (speed_per_second / given.number("deceleration")?) / 2.0;
    Ok(Answer::new()
        .with("speed", speed)
        .with("stopping_distance", speed_per_second * given.number("reaction_time")? + braking))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, near, refuses, with};

    // By hand: 100 mm/s, 70 mm in reaction and 100^2/(2*3000) = 5/3 mm in braking. The derivation prints 71.7 mm.
    #[test]
    fn most_of_the_way_is_reaction() {
        let inputs = json!({"rapid_rate": 20_000, "rapid_dial": 30, "deceleration": 3000, "reaction_time": 0.7});
        holds("stopping-distance", &inputs, &json!({"speed": 6000.0, "stopping_distance": 70.0 + 5.0 / 3.0}));
        near("stopping-distance", &inputs, "stopping_distance", 71.7, 0.05);
    }

    // Algebra: at the ceiling that rapid-ceiling gives, the distance is the clearance.
    #[test]
    fn it_undoes_the_ceiling() {
        let inputs = json!({"rapid_rate": 20_000, "rapid_dial": 4.271_235_355_979_233_5, "deceleration": 3000,
            "reaction_time": 0.7});
        holds("stopping-distance", &inputs, &json!({"stopping_distance": 10.0}));
    }

    #[test]
    fn a_dial_at_zero_stands_still_and_one_past_full_is_refused() {
        let inputs = json!({"rapid_rate": 20_000, "rapid_dial": 0, "deceleration": 3000, "reaction_time": 0.7});
        holds("stopping-distance", &inputs, &json!({"speed": 0.0, "stopping_distance": 0.0}));
        refuses("stopping-distance", &with(&inputs, "rapid_dial", json!(100.5)), "rapid_dial");
        refuses("stopping-distance", &with(&inputs, "rapid_dial", json!(-1)), "rapid_dial");
        refuses("stopping-distance", &with(&inputs, "deceleration", json!(0)), "deceleration");
        let fast = with(&with(&inputs, "rapid_rate", json!(1e300)), "rapid_dial", json!(100));
        refuses("stopping-distance", &fast, "inputs");
    }
}
