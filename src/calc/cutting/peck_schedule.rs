//! In which steps shall a hole be pecked, and is it deep enough to need pecking?

use crate::calc::limits;
use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "peck-schedule",
    version: 1,
    topic: "cutting",
    question: "In which steps shall a hole be pecked, and is it deep enough to need pecking?",
    formula: "q1 = first_peck; next = max(peck_ratio*last, least_peck); the last one is trimmed to the depth; what \
         is left counts only when more than 1e-6 mm; depth_ratio = depth/drill_diameter: up to 3 continuous, over 3 \
         up to 8 peck, over 8 special",
    inputs: &[
        Input::quantity("depth", "mm", "depth of the full diameter").above(0.0),
        Input::quantity("drill_diameter", "mm", "drill diameter").above(0.0),
        Input::quantity("first_peck", "mm", "first peck").above(0.0),
        Input::quantity("peck_ratio", "1", "each peck over the one before").above(0.0).at_most(1.0),
        Input::quantity("least_peck", "mm", "smallest peck").above(0.0),
    ],
    outputs: &[
        Output::quantity("depth_ratio", "1", "depth over diameter"),
        Output::word("drilling_way", &["continuous", "peck", "special"], "how to drill by that ratio"),
        Output::quantities("peck_depths", "mm", "depth after each peck"),
        Output::quantities("peck_increments", "mm", "each peck"),
        Output::count("peck_count", "number of pecks"),
    ],
    refusals: &[Refusal::of("least_peck", "greater than first_peck, or so small that more than 1000 pecks are needed")],
    usual_mistake: "too many small pecks: every re-entry in stainless is a rub",
    validity: "shop rule, not a standard",
    source: "shop rule",
    example: r#"{
            "depth": 24.0, "drill_diameter": 3.0, "first_peck": 6.0, "peck_ratio": 0.7, "least_peck": 2.0
        }"#,
    solve,
};

/// What is left of the depth counts only above this, millimetres.
const LEFT_OVER: f64 = 1e-6;
/// More pecks than this are refused.
const MOST_PECKS: usize = 1000;

fn solve(given: &Given) -> Result<Answer, Refused> {
    let (depth, ratio) = (given.number("depth")?, given.number("peck_ratio")?);
    let (mut peck, least) = (given.number("first_peck")?, given.number("least_peck")?);
    if least > peck {
        return Err(Refused::new("least_peck", "The least peck is greater than the first peck."));
    }
    let mut depths: Vec<f64> = Vec::new();
    let mut increments = Vec::new();
    let mut reached = 0.0;
    while depth - reached > LEFT_OVER {
        if depths.len() == MOST_PECKS {
            return Err(Refused::new("least_peck", "The pecks are so small that more than 1,000 are needed."));
        }
        let step = peck.min(depth - reached);
        reached += step;
        depths.push(reached);
        increments.push(step);
        peck = (ratio * peck).max(least);
    }
    let depth_ratio = depth / given.number("drill_diameter")?;
    let count = depths.len();
    Ok(Answer::new()
        .with("depth_ratio", depth_ratio)
        .with("drilling_way", way(depth_ratio))
        .with("peck_depths", depths)
        .with("peck_increments", increments)
        .with("peck_count", count))
}

fn way(depth_ratio: f64) -> &'static str {
    if limits::within(depth_ratio, 3.0) {
        "continuous"
    } else if limits::within(depth_ratio, 8.0) {
        "peck"
    } else {
        "special"
    }
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, refuses, with};

    // The project's own worked case; a shop rule, not a standard.
    #[test]
    fn eight_diameters_in_nine_pecks() {
        let inputs = json!({"depth": 24, "drill_diameter": 3, "first_peck": 6, "peck_ratio": 0.7, "least_peck": 2});
        holds("peck-schedule", &inputs, &json!({"depth_ratio": 8.0, "drilling_way": "peck", "peck_count": 9}));
        holds("peck-schedule", &with(&inputs, "depth", json!(9)), &json!({"drilling_way": "continuous"}));
        holds("peck-schedule", &with(&inputs, "depth", json!(25)), &json!({"drilling_way": "special"}));
    }

    #[test]
    fn least_pecks_that_make_no_sense_are_refused() {
        let inputs = json!({"depth": 24, "drill_diameter": 3, "first_peck": 6, "peck_ratio": 0.7, "least_peck": 7});
        refuses("peck-schedule", &inputs, "least_peck");
        refuses("peck-schedule", &with(&inputs, "least_peck", json!(0.001)), "least_peck");
    }
}
