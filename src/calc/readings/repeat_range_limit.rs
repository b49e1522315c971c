//! How far apart may the repeats of one reading lie before one of them is doubted?

use super::statistics;
use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "repeat-range-limit",
    version: 1,
    topic: "metrology",
    question: "How far apart may the repeats of one reading lie before one of them is doubted?",
    formula: "range_limit = W(count)*repeatability + 2 display_step; W = range of count normal values, in standard \
         deviations, that is not passed with probability 0.9973 (three standard deviations); W(2) = 3 sqrt(2)",
    inputs: &[
        Input::count("count", "how many repeats").at_least(2.0),
        Input::quantity("repeatability", "mm", "standard deviation of one reading of the instrument, from the card")
            .at_least(0.0),
        Input::quantity("display_step", "mm", "smallest step that the instrument shows").at_least(0.0),
    ],
    outputs: &[Output::quantity("range_limit", "mm", "largest minus smallest that good repeats have")],
    refusals: &[],
    usual_mistake: "a limit of a few counts whatever the instrument and however many the repeats",
    validity: "normal scatter; more than 20 repeats are judged like 20",
    source: "distribution of the range of normal values",
    example: r#"{"count": 3, "repeatability": 0.0008, "display_step": 0.001}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let count = usize::try_from(given.small_count("count")?).unwrap_or(usize::MAX);
    let limit = statistics::range_limit(count, given.number("repeatability")?, given.number("display_step")?);
    Ok(Answer::new().with("range_limit", limit))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, near, refuses, with};

    // The difference of two normal values has sqrt(2) times their deviation: three of that, and both ends of the display.
    #[test]
    fn two_repeats_may_differ_by_three_deviations_of_a_difference() {
        let inputs = json!({"count": 2, "repeatability": 0.0008, "display_step": 0.001});
        let limit = 3.0 * 2.0_f64.sqrt() * 0.0008 + 0.002;
        holds("repeat-range-limit", &inputs, &json!({"range_limit": limit}));
        let silent = json!({"count": 9, "repeatability": 0, "display_step": 0});
        holds("repeat-range-limit", &silent, &json!({"range_limit": 0.0}));
        refuses("repeat-range-limit", &with(&inputs, "count", json!(1)), "count");
        refuses("repeat-range-limit", &with(&inputs, "repeatability", json!(-0.001)), "repeatability");
    }

    // scipy 1.17.1: studentized_range.ppf(0.9973002, n, inf) is 4.6787 for 3, 5.1232 for 5 and 6.0955 for 20.
    #[test]
    fn more_repeats_may_spread_wider() {
        for (count, factor) in [(3, 4.6787), (5, 5.1232), (20, 6.0955), (500, 6.0955)] {
            let inputs = json!({"count": count, "repeatability": 1, "display_step": 0});
            near("repeat-range-limit", &inputs, "range_limit", factor, 0.000_05);
        }
    }
}
