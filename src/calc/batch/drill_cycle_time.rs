//! How long does a pecked hole take?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "drill-cycle-time",
    version: 1,
    topic: "batch",
    question: "How long does a pecked hole take?",
    formula: "cutting_time = (last depth + reentry_gap (n-1) + clearance)/feed_rate; rapid_time = sum 2 (depth_i + \
         clearance)/rapid_rate; both in minutes times 60; time_per_hole = sum",
    inputs: &[
        Input::quantities("peck_depths", "mm", "depth after each peck, growing").above(0.0).least_items(1),
        Input::quantity("feed_rate", "mm/min", "feed rate").above(0.0),
        Input::quantity("clearance", "mm", "height of the retract plane above the surface").at_least(0.0),
        Input::quantity("reentry_gap", "mm", "gap left above the last depth on re-entry").at_least(0.0),
        Input::quantity("rapid_rate", "mm/min", "rapid rate").above(0.0),
    ],
    outputs: &[
        Output::quantity("cutting_time", "s", "time in feed"),
        Output::quantity("rapid_time", "s", "time in rapid"),
        Output::quantity("time_per_hole", "s", "both"),
    ],
    refusals: &[Refusal::of("peck_depths", "empty list, or depths that do not grow from peck to peck")],
    usual_mistake: "counting the depth only once for the rapids",
    validity: "no acceleration; full retract after each peck",
    source: "sum of moves",
    example: r#"{
            "peck_depths": [6, 10.2, 13.14, 15.2], "feed_rate": 286, "clearance": 2, "reentry_gap": 0.5,
            "rapid_rate": 20000
        }"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let depths = given.numbers("peck_depths")?;
    let grows = depths.windows(2).all(|pair| matches!(pair, [one, next] if one < next));
    let Some(last) = depths.last().filter(|_| grows) else {
        return Err(Refused::new("peck_depths", "The depths must grow from peck to peck."));
    };
    let (clearance, gap) = (given.number("clearance")?, given.number("reentry_gap")?);
    #[expect(clippy::cast_precision_loss, reason = "no list has 2^53 entries")]
    let again = (depths.len() - 1) as f64;
    let cutting = 60.0 * (last + gap * again + clearance) / given.number("feed_rate")?;
    let travel: f64 = depths.iter().map(|depth| 2.0 * (depth + clearance)).sum();
    let rapid = 60.0 * travel / given.number("rapid_rate")?;
    Ok(Answer::new().with("cutting_time", cutting).with("rapid_time", rapid).with("time_per_hole", cutting + rapid))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{near, refuses, with};

    // Kinematics by hand: 10 mm and 2 mm clearance at 120 mm/min take 6 s; out and in at 2400 mm/min 0.6 s.
    #[test]
    fn cutting_and_travel_add_up() {
        let inputs =
            json!({"peck_depths": [10], "feed_rate": 120, "clearance": 2, "reentry_gap": 0.2, "rapid_rate": 2400});
        near("drill-cycle-time", &inputs, "cutting_time", 6.0, 1e-12);
        near("drill-cycle-time", &inputs, "rapid_time", 0.6, 1e-12);
        let pecked = with(&inputs, "peck_depths", json!([5, 10]));
        near("drill-cycle-time", &pecked, "cutting_time", 6.1, 1e-12);
        refuses("drill-cycle-time", &with(&inputs, "peck_depths", json!([5, 5])), "peck_depths");
        refuses("drill-cycle-time", &with(&inputs, "peck_depths", json!([])), "peck_depths");
    }
}
