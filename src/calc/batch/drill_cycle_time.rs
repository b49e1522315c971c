//! How long does a pecked hole take?

use crate::calc::limits;
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
    const SECONDS_IN_MINUTE: f64 = 60.0;
    let peck_depths = given.numbers("peck_depths")?;
    let grow = peck_depths.iter().zip(peck_depths.iter().skip(1)).all(|(depth, next)| !limits::within(*next, *depth));
    let (Some(last_depth), true) = (peck_depths.last(), grow) else {
        let reason = "peck_depths must grow from peck to peck: give the depth reached after each one.";
        return Err(Refused::new("peck_depths", reason));
    };
    let clearance = given.number("clearance")?;
    #[expect(clippy::cast_precision_loss, reason = "no list has 2^53 entries")]
    let reentries = (peck_depths.len() - 1) as f64;
    let in_feed = last_depth + given.number("reentry_gap")? * reentries + clearance;
    let in_rapid: f64 = peck_depths.iter().map(|depth| 2.0 * (depth + clearance)).sum();
    let cutting_time = SECONDS_IN_MINUTE * (in_feed / given.number("feed_rate")?);
    let rapid_time = SECONDS_IN_MINUTE * (in_rapid / given.number("rapid_rate")?);
    Ok(Answer::new()
        .with("cutting_time", cutting_time)
        .with("rapid_time", rapid_time)
        .with("time_per_hole", cutting_time + rapid_time))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, refuses, with};

    // By hand: 15.2 + 3*0.5 + 2 = 18.7 mm in feed, twice (44.54 + 4*2) = 105.08 mm in rapid.
    #[test]
    fn a_pecked_hole_takes_its_feed_and_all_its_retracts() {
        let inputs = json!({"peck_depths": [6, 10.2, 13.14, 15.2], "feed_rate": 286, "clearance": 2,
            "reentry_gap": 0.5, "rapid_rate": "20 m/min"});
        let (cutting, rapid) = (60.0 * 18.7 / 286.0, 60.0 * 105.08 / 20_000.0);
        let expected = json!({"cutting_time": cutting, "rapid_time": rapid, "time_per_hole": cutting + rapid});
        holds("drill-cycle-time", &inputs, &expected);
    }

    // Textbook of modern manufacturing: a 60 mm blind hole with a point of 3.82 mm at 188 mm/min takes 0.339 min (from
    // memory). One peck has no re-entry.
    #[test]
    fn one_stroke_is_the_hole_of_the_textbook() {
        let inputs = json!({"peck_depths": [63.815_464_931], "feed_rate": 187.978_279_2, "clearance": 0,
            "reentry_gap": 0.5, "rapid_rate": 1e300});
        crate::calc::check::near("drill-cycle-time", &inputs, "time_per_hole", 60.0 * 0.339, 60.0 * 0.0006);
    }

    #[test]
    fn depths_that_do_not_grow_are_refused() {
        let inputs = json!({"peck_depths": [6, 6], "feed_rate": 286, "clearance": 2, "reentry_gap": 0.5,
            "rapid_rate": 20_000});
        for depths in [json!([6, 6]), json!([6, 5]), json!([]), json!([0, 6]), json!(6), json!([7.62, "0.3 in"])] {
            refuses("drill-cycle-time", &with(&inputs, "peck_depths", depths), "peck_depths");
        }
        let inputs = with(&inputs, "peck_depths", json!([6, 7]));
        refuses("drill-cycle-time", &with(&inputs, "feed_rate", json!(0)), "feed_rate");
        refuses("drill-cycle-time", &with(&inputs, "rapid_rate", json!(0)), "rapid_rate");
        refuses("drill-cycle-time", &with(&inputs, "clearance", json!(-2)), "clearance");
        refuses("drill-cycle-time", &with(&inputs, "reentry_gap", json!(-0.5)), "reentry_gap");
        refuses("drill-cycle-time", &with(&inputs, "peck_depths", json!([1e308, 1.7e308])), "inputs");
    }
}
