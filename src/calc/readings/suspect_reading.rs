//! Which of several repeats stands off the others?

use super::statistics::{self, range_agrees, range_limit};
use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "suspect-reading",
    version: 1,
    topic: "metrology",
    question: "Which of several repeats stands off the others?",
    formula: "suspect = reading furthest from the median; others_range = range of the rest; others_agree = others_range <= \
         W(count-1)*repeatability + 2 display_step as in repeat-range-limit; with two left, W(2)",
    inputs: &[
        Input::quantities("readings", "mm", "repeats of one reading, in the order taken").least_items(3),
        Input::quantity("repeatability", "mm", "standard deviation of one reading of the instrument")
            .at_least(0.0)
            .or(0.0),
        Input::quantity("display_step", "mm", "smallest step that the instrument shows").at_least(0.0).or(0.0),
    ],
    outputs: &[
        Output::count("suspect_place", "which one it is, counted from 1"),
        Output::quantity("suspect", "mm", "the reading itself"),
        Output::quantity("away", "mm", "how far it stands from the median of the others, with its sign"),
        Output::quantity("others_range", "mm", "largest minus smallest of the others"),
        Output::flag("others_agree", "true when the others agree without it: then it is the one to look at first"),
    ],
    refusals: &[],
    usual_mistake: "dropping the suspect without looking: it may be the only right one, and the others touched a chip",
    validity: "three or more repeats; of two nobody can tell which is wrong",
    source: "distance from the median; distribution of the range of normal values",
    example: r#"{"readings": [-235.374, -235.375, -235.324], "repeatability": 0.0008, "display_step": 0.001}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let readings = given.numbers("readings")?;
    let middle = statistics::median(readings);
    let furthest = readings
        .iter()
        .enumerate()
        .reduce(|most, next| if (next.1 - middle).abs() > (most.1 - middle).abs() { next } else { most });
    let (place, suspect) = furthest.ok_or_else(|| Refused::undeclared("readings"))?;
    let others: Vec<f64> =
        readings.iter().enumerate().filter(|(other, _)| *other != place).map(|(_, reading)| *reading).collect();
    let others_range = statistics::range(&others);
    let limit = range_limit(others.len(), given.number("repeatability")?, given.number("display_step")?);
    Ok(Answer::new()
        .with("suspect_place", place + 1)
        .with("suspect", *suspect)
        .with("away", suspect - statistics::median(&others))
        .with("others_range", others_range)
        .with("others_agree", range_agrees(&others, others_range, limit)))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, refuses, with};

    // By hand: the third stands 0.05 off the middle of the other two, which are one count apart.
    #[test]
    fn the_one_that_stands_off_is_named() {
        let inputs =
            json!({"readings": [-235.374, -235.375, -235.3245], "repeatability": 0.0008, "display_step": 0.001});
        let expected = json!({"suspect_place": 3, "suspect": -235.3245, "away": 0.05, "others_agree": true});
        holds("suspect-reading", &inputs, &expected);
        refuses("suspect-reading", &with(&inputs, "readings", json!([1, 2])), "readings");
    }

    // By hand: without the furthest the rest still lie apart: nobody can be named.
    #[test]
    fn when_the_others_disagree_as_well_nothing_is_shown() {
        let inputs = json!({"readings": [0, 0.04, 0.1, 0.19], "repeatability": 0.001, "display_step": 0.001});
        holds("suspect-reading", &inputs, &json!({"suspect_place": 4, "others_agree": false}));
        let same = json!({"readings": [1, 1, 1]});
        holds("suspect-reading", &same, &json!({"suspect_place": 1, "away": 0.0, "others_agree": true}));
    }
}
