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
    let clearance = given.number("clearance")?;
    let half_reaction = given.number("reaction_time")? / 2.0;
    // The root of the formula, turned so that a long reaction takes no small difference of large numbers.
    let half_stop = (clearance / 2.0).sqrt() / given.number("deceleration")?.sqrt();
    let safe_speed = 60.0 * (clearance / (half_reaction + half_reaction.hypot(half_stop)));
    Ok(Answer::new().with("safe_speed", safe_speed).with("ceiling", 100.0 * (safe_speed / given.number("rapid_rate")?)))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, near, refuses, with};

    // Worked case rapid_override_for_clearance of the project's own set of cases.
    #[test]
    fn ten_millimetres_allow_hardly_any_rapid() {
        let inputs = json!({"clearance": 10, "deceleration": "3 m/s2", "reaction_time": 0.7, "rapid_rate": "20 m/min"});
        let expected = json!({"safe_speed": 854.247_071_195_846_6, "ceiling": 4.271_235_355_979_233_5});
        holds("rapid-ceiling", &inputs, &expected);
    }

    // Schoolbook: without reaction v^2 = 2 a s; without braking distance v = s/t.
    #[test]
    fn either_part_alone_is_the_schoolbook_formula() {
        let inputs = json!({"clearance": 8, "deceleration": 100, "reaction_time": 0, "rapid_rate": 2400});
        holds("rapid-ceiling", &inputs, &json!({"safe_speed": 2400.0, "ceiling": 100.0}));
        let inputs = json!({"clearance": 7, "deceleration": 1e30, "reaction_time": 0.7, "rapid_rate": 6000});
        holds("rapid-ceiling", &inputs, &json!({"safe_speed": 600.0, "ceiling": 10.0}));
    }

    // Algebra: for a long reaction v = s/t (1 - s/(2 a t^2)), of which the second part is 1e-14 here.
    #[test]
    fn a_long_reaction_loses_no_digits() {
        let inputs = json!({"clearance": 2, "deceleration": 1e8, "reaction_time": 1000, "rapid_rate": 1});
        near("rapid-ceiling", &inputs, "safe_speed", 0.12, 1e-14);
    }

    #[test]
    fn what_no_axis_does_is_refused_and_extremes_stay_finite() {
        let inputs = json!({"clearance": 1e300, "deceleration": 1e300, "reaction_time": 1e300, "rapid_rate": 1e4});
        holds("rapid-ceiling", &inputs, &json!({"safe_speed": 60.0}));
        for key in ["clearance", "deceleration", "rapid_rate"] {
            refuses("rapid-ceiling", &with(&inputs, key, json!(0)), key);
        }
        refuses("rapid-ceiling", &with(&inputs, "reaction_time", json!(-0.1)), "reaction_time");
    }
}
