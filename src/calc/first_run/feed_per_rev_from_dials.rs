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
    let programmed = given.number("feed_per_rev")?;
    let actual = programmed * given.number("feed_dial")? / given.number("spindle_dial")?;
    Ok(Answer::new().with("actual_feed_per_rev", actual))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::holds;

    // Common practice: feed down and spindle up make the chip thinner twice.
    #[test]
    fn both_dials_count() {
        let inputs = json!({"feed_per_rev": 0.1, "feed_dial": 50, "spindle_dial": 125});
        holds("feed-per-rev-from-dials", &inputs, &json!({"actual_feed_per_rev": 0.04}));
    }
}
