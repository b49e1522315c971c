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

fn solve(given: &Given) -> Result<Answer, Refused> {
    let depth = given.number("depth")?;
    let first_peck = given.number("first_peck")?;
    let least_peck = given.number("least_peck")?;
    if !limits::within(least_peck, first_peck) {
        return Err(Refused::new("least_peck", "least_peck must not be greater than first_peck."));
    }
    let (peck_depths, peck_increments) = pecks(depth, first_peck, given.number("peck_ratio")?, least_peck)?;
    let depth_ratio = depth / given.number("drill_diameter")?;
    Ok(Answer::new()
        .with("depth_ratio", depth_ratio)
        .with("drilling_way", drilling_way(depth_ratio))
        .with("peck_count", peck_depths.len())
        .with("peck_depths", peck_depths)
        .with("peck_increments", peck_increments))
}

/// Returns the depth after each peck, and each peck.
fn pecks(depth: f64, first: f64, ratio: f64, least: f64) -> Result<(Vec<f64>, Vec<f64>), Refused> {
    /// Less than this is not worth a peck, in millimetres.
    const WORTH_A_PECK: f64 = 1e-6;
    const MOST_PECKS: usize = 1000;
    let (mut depths, mut increments) = (Vec::new(), Vec::new());
    let (mut reached, mut peck) = (0.0, first);
    while depth - reached > WORTH_A_PECK {
        if depths.len() == MOST_PECKS {
            let reason = format!("least_peck is so small that more than {MOST_PECKS} pecks are needed: peck deeper.");
            return Err(Refused::new("least_peck", reason));
        }
        let left = depth - reached;
        increments.push(peck.min(left));
        reached = if peck < left { reached + peck } else { depth };
        depths.push(reached);
        peck = least.max(ratio * peck);
    }
    Ok((depths, increments))
}

fn drilling_way(depth_ratio: f64) -> &'static str {
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

    use crate::calc::check::{answer, holds, refuses, with};

    // Worked case peck_schedule of the project's own set of cases.
    #[test]
    fn pecks_shrink_to_the_least_and_end_at_the_depth() {
        let inputs = json!({"depth": 24, "drill_diameter": 3, "first_peck": 6, "peck_ratio": 0.7, "least_peck": 2});
        let expected = json!({"depth_ratio": 8.0, "drilling_way": "peck",
            "peck_depths": [6.0, 10.2, 13.14, 15.198, 17.198, 19.198, 21.198, 23.198, 24.0],
            "peck_increments": [6.0, 4.2, 2.94, 2.058, 2.0, 2.0, 2.0, 2.0, 0.802], "peck_count": 9});
        holds("peck-schedule", &inputs, &expected);
    }

    // Shop rule of the derivation: up to 3 drill diameters at once, up to 8 in pecks. 0.27/0.09 is above 3 in doubles
    // only.
    #[test]
    fn the_way_of_drilling_follows_the_depth_in_diameters() {
        let inputs = json!({"depth": 1, "drill_diameter": 1, "first_peck": 1, "peck_ratio": 1, "least_peck": 1});
        for (depth, diameter, way) in [
            (0.27, 0.09, "continuous"),
            (3.0, 1.0, "continuous"),
            (3.01, 1.0, "peck"),
            (8.0, 1.0, "peck"),
            (8.01, 1.0, "special"),
        ] {
            let inputs = with(&with(&inputs, "depth", json!(depth)), "drill_diameter", json!(diameter));
            holds("peck-schedule", &inputs, &json!({"drilling_way": way}));
        }
    }

    // By hand: less than a nanometre left is no peck, more is one; so is a hole of less than that.
    #[test]
    fn what_is_left_counts_only_above_a_nanometre() {
        let inputs = json!({"depth": 6.000_000_9, "drill_diameter": 2, "first_peck": 3, "peck_ratio": 1,
            "least_peck": 3});
        holds("peck-schedule", &inputs, &json!({"peck_depths": [3.0, 6.0], "peck_count": 2}));
        let deeper = with(&inputs, "depth", json!(6.000_002));
        holds("peck-schedule", &deeper, &json!({"peck_depths": [3.0, 6.0, 6.000_002], "peck_count": 3}));
        let tenths = json!({"depth": 0.3, "drill_diameter": 1, "first_peck": 0.1, "peck_ratio": 1, "least_peck": 0.1});
        holds("peck-schedule", &tenths, &json!({"peck_count": 3}));
        let none = with(&tenths, "depth", json!(1e-7));
        holds("peck-schedule", &none, &json!({"peck_depths": [], "peck_increments": [], "peck_count": 0}));
    }

    #[test]
    fn a_thousand_pecks_are_enough() {
        let inputs = json!({"depth": 1000, "drill_diameter": 2, "first_peck": 1, "peck_ratio": 0.5, "least_peck": 1});
        let pecks = answer("peck-schedule", &inputs);
        assert_eq!(pecks["peck_count"], json!(1000));
        refuses("peck-schedule", &with(&inputs, "depth", json!(1000.1)), "least_peck");
        refuses("peck-schedule", &with(&inputs, "depth", json!(1e300)), "least_peck");
        refuses("peck-schedule", &with(&inputs, "least_peck", json!(1.01)), "least_peck");
        refuses("peck-schedule", &with(&inputs, "peck_ratio", json!(1.01)), "peck_ratio");
        refuses("peck-schedule", &with(&inputs, "peck_ratio", json!(0)), "peck_ratio");
        let one_bite = with(&inputs, "first_peck", json!("20 m"));
        holds("peck-schedule", &one_bite, &json!({"peck_depths": [1000.0], "peck_increments": [1000.0]}));
    }
}
