//! What is the real feed per revolution when both dials are turned?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "feed-per-rev-from-dials",
    version: 1,
    topic: "first-run",
    question: "What is the real feed per revolution when both dials are turned?",
    formula: "actual_feed_per_rev = feed_per_rev*feed_dial/spindle_dial",
    inputs: &[
        Input::quantity("feed_per_rev", "mm/rev", "programmed feed").above(0.0),
        Input::quantity("feed_dial", "%", "feed setting").at_least(0.0),
        Input::quantity("spindle_dial", "%", "spindle setting").above(0.0),
    ],
    outputs: &[Output::quantity("actual_feed_per_rev", "mm/rev", "real feed per revolution")],
    refusals: &[],
    usual_mistake: "turning the spindle up while turning the feed down rubs twice",
    validity: "feed programmed per minute",
    source: "definition",
    example: r#"{"feed_per_rev": 0.06, "feed_dial": 50, "spindle_dial": 110}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let dials = given.number("feed_dial")? / given.number("spindle_dial")?;
    Ok(Answer::new().with("actual_feed_per_rev", given.number("feed_per_rev")? * dials))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, refuses, with};

    // By hand: 0.06 * 50/110 = 3/110. The project's own set of cases has it as feed_per_rev_with_two_overrides.
    #[test]
    fn a_faster_spindle_thins_the_feed_once_more() {
        let inputs = json!({"feed_per_rev": 0.06, "feed_dial": 50, "spindle_dial": 110});
        holds("feed-per-rev-from-dials", &inputs, &json!({"actual_feed_per_rev": 3.0 / 110.0}));
        let equal = with(&inputs, "feed_dial", json!("110 %"));
        holds("feed-per-rev-from-dials", &equal, &json!({"actual_feed_per_rev": 0.06}));
        let held = with(&inputs, "feed_dial", json!(0));
        holds("feed-per-rev-from-dials", &held, &json!({"actual_feed_per_rev": 0.0}));
        refuses("feed-per-rev-from-dials", &with(&inputs, "spindle_dial", json!(0)), "spindle_dial");
        refuses("feed-per-rev-from-dials", &with(&inputs, "feed_dial", json!(-1)), "feed_dial");
    }
}
