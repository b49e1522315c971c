//! Does the position zone leave a share for the tram, and which of the other shares would have to shrink?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

const TERM: &[Input] = &[
    Input::text("name", "what the share is of"),
    Input::quantity("uncertainty", "mm", "its standard uncertainty across the feature").at_least(0.0).below(1e6),
];

pub(super) static CALCULATION: Calculation = Calculation {
    id: "tram-budget",
    version: 1,
    topic: "tram",
    question: "Does the position zone leave a share for the tram, and which of the other shares would have to shrink?",
    formula: "budget_uncertainty = position_zone/2/sqrt(-2 ln 0.05); used = sum u^2/budget_uncertainty^2; closes = \
         used < 1; tram_uncertainty = budget_uncertainty sqrt(1 - used); pad_difference_limit = pad_span tan(sqrt(3) \
         tram_uncertainty/feature_radius); ranked: the terms from the largest; shares: u^2 over the sum of all; \
         without: used when that term alone is gone; least_zone = 2 sqrt(-2 ln 0.05) sqrt(sum u^2)",
    inputs: &[
        Input::quantity("position_zone", "mm", "DIAMETER of the position zone").above(0.0).below(1e6),
        Input::quantity("feature_radius", "mm", "radius of the feature from the rotary centreline")
            .above(0.0)
            .below(1e6),
        Input::quantity("pad_span", "mm", "distance between the pads").above(0.0).below(1e6),
        Input::records("terms", TERM, "everything else that moves the feature"),
    ],
    outputs: &[
        Output::quantity("budget_uncertainty", "mm", "standard uncertainty allowed per direction"),
        Output::quantity("used", "1", "share of it, squared, that the terms use; from 1 up nothing is left"),
        Output::flag("closes", "true when something is left for the tram"),
        Output::quantity("tram_uncertainty", "mm", "share left for the tram").null_when("nothing is left"),
        Output::quantity("pad_difference_limit", "mm", "largest pad difference that passes")
            .null_when("nothing is left, or every tram would pass"),
        Output::quantity("least_zone", "mm", "zone that the terms alone would use up"),
        Output::texts("ranked", "the terms from the largest to the smallest"),
        Output::quantities("shares", "1", "their shares of the sum, in that order"),
        Output::quantities("without", "1", "what would be used if one term alone were gone, in that order"),
    ],
    refusals: &[],
    usual_mistake: "polishing a small share: halving the largest helps most",
    validity: "independent normal parts, equal in both directions",
    source: "JCGM 100 clause 5.1.2; 95 % radius of a circular normal",
    example: r#"{
            "position_zone": 0.02, "feature_radius": 60, "pad_span": 70,
            "terms": [{"name": "hole wander", "uncertainty": 0.008}, {"name": "pickup", "uncertainty": 0.002}]
        }"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let factor = (-2.0 * 0.05_f64.ln()).sqrt();
    let budget = given.number("position_zone")? / 2.0 / factor;
    let mut terms = Vec::new();
    for term in given.records("terms")? {
        terms.push((term.text("name")?.to_owned(), term.number("uncertainty")?));
    }
    terms.sort_by(|one, other| other.1.total_cmp(&one.1));
    let sum: f64 = terms.iter().map(|(_, uncertainty)| uncertainty.powi(2)).sum();
    let used = sum / budget.powi(2);
    let left = (used < 1.0).then(|| budget * (1.0 - used).sqrt());
    let limit = left.and_then(|tram| {
        let half_width = 3.0_f64.sqrt() * tram / given.number("feature_radius").ok()?;
        let limit = given.number("pad_span").ok()? * half_width.tan();
        (half_width < std::f64::consts::FRAC_PI_2 && limit.is_finite()).then_some(limit)
    });
    let share = |uncertainty: f64| if sum > 0.0 { uncertainty.powi(2) / sum } else { 0.0 };
    // The others summed up anew: what is left of a difference would be noise beside one large term.
    let others = |place: usize| terms.iter().enumerate().filter(move |(other, _)| *other != place);
    let without: Vec<f64> = (0..terms.len())
        .map(|place| others(place).map(|(_, (_, uncertainty))| (uncertainty / budget).powi(2)).sum())
        .collect();
    Ok(Answer::new()
        .with("budget_uncertainty", budget)
        .with("used", used)
        .with("closes", left.is_some())
        .with("tram_uncertainty", left)
        .with("pad_difference_limit", limit)
        .with("least_zone", 2.0 * factor * sum.sqrt())
        .with("ranked", terms.iter().map(|(name, _)| name.clone()).collect::<Vec<String>>())
        .with("shares", terms.iter().map(|(_, uncertainty)| share(*uncertainty)).collect::<Vec<f64>>())
        .with("without", without))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{answer, holds, near, with};

    // Worked case tram_tolerance_from_budget of the project's own set of cases, shuffled.
    #[test]
    fn what_is_left_is_the_trams() {
        let inputs = json!({"position_zone": 0.05, "feature_radius": 24, "pad_span": 70, "terms": [
            {"name": "b", "uncertainty": 0.003}, {"name": "a", "uncertainty": 0.0035},
            {"name": "c", "uncertainty": 0.0025}, {"name": "d", "uncertainty": 0.002}]});
        holds(
            "tram-budget",
            &inputs,
            &json!({"tram_uncertainty": 0.008_533_174_246_275_057, "closes": true,
            "pad_difference_limit": 0.043_108_021_870_630_175, "ranked": ["a", "b", "c", "d"]}),
        );
    }

    // By hand: 0.02 over 2 over 2.447747 is 4.0854 um; a drill that wanders 8 um uses 3.834 of that, squared.
    #[test]
    fn a_drill_that_wanders_leaves_nothing_in_a_small_zone() {
        let inputs = json!({"position_zone": 0.02, "feature_radius": 60, "pad_span": 70, "terms": [
            {"name": "pickup", "uncertainty": 0.002}, {"name": "wander", "uncertainty": 0.008}]});
        holds(
            "tram-budget",
            &inputs,
            &json!({"closes": false, "tram_uncertainty": null, "pad_difference_limit": null,
            "ranked": ["wander", "pickup"]}),
        );
        near("tram-budget", &inputs, "used", 4.0741, 5e-4);
        near("tram-budget", &inputs, "least_zone", 2.0 * 2.447_747 * 0.008_246_2, 5e-7);
        holds("tram-budget", &with(&inputs, "terms", json!([])), &json!({"used": 0.0, "closes": true}));
    }

    // By hand: beside a term of 0.001 one of 1e-12 leaves 1e-24 over the squared budget when the large one is gone.
    #[test]
    fn a_small_share_is_left_whole_when_the_large_one_is_gone() {
        let inputs = json!({"position_zone": 0.05, "feature_radius": 24, "pad_span": 70, "terms": [
            {"name": "large", "uncertainty": 0.001}, {"name": "small", "uncertainty": 1e-12}]});
        let budget: f64 = 0.025 / (-2.0 * 0.05_f64.ln()).sqrt();
        let without = [(1e-12 / budget).powi(2), (0.001 / budget).powi(2)];
        let found = answer("tram-budget", &inputs);
        for (found, wanted) in found["without"].as_array().unwrap().iter().zip(without) {
            let found = found.get("value").unwrap_or(found).as_f64().unwrap();
            assert!((found / wanted - 1.0).abs() < 1e-12, "{found} {wanted}");
        }
    }
}
