//! Which contribution weighs how much in an uncertainty, and how wide is the result?

use super::uncertainty_combine::{Contribution, DEGREES_OF_FREEDOM, SENSITIVITY, STANDARD_UNCERTAINTY, combine};
use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};

const FIELDS: &[Input] =
    &[Input::text("name", "what it comes from"), SENSITIVITY, STANDARD_UNCERTAINTY, DEGREES_OF_FREEDOM];

pub(super) static CALCULATION: Calculation = Calculation {
    id: "uncertainty-budget",
    version: 1,
    topic: "metrology",
    question: "Which contribution weighs how much in an uncertainty, and how wide is the result?",
    formula: "as uncertainty-combine; terms = |c u|; shares = 100 (c u)^2/sum (c u)^2; heaviest = name of the largest term",
    inputs: &[
        Input::records("contributions", FIELDS, "independent contributions by name").least_items(1),
        Input::quantity("coverage_probability", "1", "probability of the coverage interval")
            .above(0.0)
            .below(1.0)
            .or(0.95),
    ],
    outputs: &[
        Output::quantities("terms", "mm", "what each contribution makes of the result, in the order given"),
        Output::quantities("shares", "%", "its share of the variance"),
        Output::texts("heaviest", "the name of the largest"),
        Output::quantity("combined_uncertainty", "mm", "combined standard uncertainty"),
        Output::degrees_of_freedom(
            "effective_degrees_of_freedom",
            "effective degrees of freedom (Welch-Satterthwaite), or the word 'infinite'",
        ),
        Output::quantity("coverage_factor", "1", "coverage factor for the probability"),
        Output::quantity("expanded_uncertainty", "mm", "coverage_factor times combined_uncertainty"),
    ],
    refusals: &[Refusal::of("contributions", "empty list, or all contributions zero")],
    usual_mistake: "working on a small contribution: halving the second largest hardly shows",
    validity: "independent contributions, near-linear model",
    source: "JCGM 100 clauses 5, 7.2.1 and G.4",
    example: r#"{
            "contributions": [{"name": "touches", "standard_uncertainty": 0.0005, "degrees_of_freedom": 8},
                {"name": "tip radius", "standard_uncertainty": 0.0005}]
        }"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let records = given.records("contributions")?;
    let contributions: Vec<Contribution> = records.iter().map(Contribution::of).collect::<Result<_, _>>()?;
    let combined = combine(&contributions, given.number("coverage_probability")?)?;
    let terms: Vec<f64> = contributions.iter().map(|one| one.size).collect();
    let shares: Vec<f64> = terms.iter().map(|term| 100.0 * (term / combined.uncertainty).powi(2)).collect();
    let heaviest = records.iter().zip(&terms).reduce(|most, next| if next.1 > most.1 { next } else { most });
    let heaviest = heaviest.map(|(record, _)| record.text("name").map(str::to_owned)).transpose()?;
    Ok(Answer::new()
        .with("terms", terms)
        .with("shares", shares)
        .with("heaviest", heaviest.into_iter().collect::<Vec<String>>())
        .with("combined_uncertainty", combined.uncertainty)
        .with("effective_degrees_of_freedom", combined.degrees_of_freedom)
        .with("coverage_factor", combined.factor)
        .with("expanded_uncertainty", combined.factor * combined.uncertainty))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, near, refuses, with};

    // JCGM 100 (GUM) H.1, gauge block, in nm: components 25, 9.7, 2.9 and 16.6 with 18, 25.6, 50 and 2 degrees of freedom
    // give u_c = 32 (u_c^2 = 1002) and 16.7; the largest component is the calibration of the standard.
    #[test]
    fn the_gauge_block_of_the_gum() {
        let inputs = json!({"coverage_probability": 0.99, "contributions": [
            {"name": "standard", "standard_uncertainty": 25, "degrees_of_freedom": 18},
            {"name": "difference", "standard_uncertainty": 9.7, "degrees_of_freedom": 25.6},
            {"name": "expansion", "standard_uncertainty": 2.9, "degrees_of_freedom": 50},
            {"name": "temperature", "standard_uncertainty": 16.6, "degrees_of_freedom": 2},
        ]});
        near("uncertainty-budget", &inputs, "combined_uncertainty", 1002.0_f64.sqrt(), 0.03);
        near("uncertainty-budget", &inputs, "effective_degrees_of_freedom", 16.7, 0.1);
        holds("uncertainty-budget", &inputs, &json!({"heaviest": ["standard"], "terms": [25.0, 9.7, 2.9, 16.6]}));
    }

    // By hand: 3 and 4 make 5, with shares of 36 and 64 hundredths; the normal factor is 1.959964.
    #[test]
    fn shares_are_of_the_variance() {
        let inputs = json!({"contributions": [
            {"name": "touches", "sensitivity": -0.5, "standard_uncertainty": 6},
            {"name": "tip", "standard_uncertainty": 4},
        ]});
        let expected = json!({"terms": [3.0, 4.0], "shares": [36.0, 64.0], "heaviest": ["tip"],
            "combined_uncertainty": 5.0, "effective_degrees_of_freedom": "infinite"});
        holds("uncertainty-budget", &inputs, &expected);
        near("uncertainty-budget", &inputs, "coverage_factor", 1.959_963_985, 1e-9);
        let nothing = json!([{"name": "touches", "standard_uncertainty": 0}]);
        refuses("uncertainty-budget", &with(&inputs, "contributions", nothing), "contributions");
        refuses("uncertainty-budget", &with(&inputs, "contributions", json!([])), "contributions");
    }
}
