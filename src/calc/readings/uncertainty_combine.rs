//! What is the combined and the expanded uncertainty of a result with several contributions?

use crate::calc::readings::student_t;
use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};

const FIELDS: &[Input] = &[
    Input::quantity(
        "sensitivity",
        "1",
        "sensitivity coefficient; carries mm per unit when the contribution is not a length",
    )
    .or(1.0),
    Input::quantity("standard_uncertainty", "mm", "standard uncertainty (plain number when it is not a length)")
        .at_least(0.0),
    Input::degrees_of_freedom("degrees_of_freedom", "a number of at least 1, or 'infinite'")
        .at_least(1.0)
        .or_infinite(),
];

pub(super) static CALCULATION: Calculation = Calculation {
    id: "uncertainty-combine",
    version: 1,
    topic: "metrology",
    question: "What is the combined and the expanded uncertainty of a result with several contributions?",
    formula: "u_c = sqrt(sum (c u)^2); nu_eff = u_c^4/sum((c u)^4/nu), not rounded; coverage_factor = Student t \
         quantile at (1+coverage_probability)/2 with nu_eff (normal when infinite); expanded = coverage_factor*u_c",
    inputs: &[
        Input::records("contributions", FIELDS, "independent contributions").least_items(1),
        Input::quantity("coverage_probability", "1", "probability of the coverage interval")
            .above(0.0)
            .below(1.0)
            .or(0.95),
    ],
    outputs: &[
        Output::quantity("combined_uncertainty", "mm", "combined standard uncertainty"),
        Output::degrees_of_freedom(
            "effective_degrees_of_freedom",
            "effective degrees of freedom (Welch-Satterthwaite), or the word 'infinite'",
        ),
        Output::quantity("coverage_factor", "1", "coverage factor for the probability"),
        Output::quantity("expanded_uncertainty", "mm", "coverage_factor times combined_uncertainty"),
        Output::quantity("expanded_uncertainty_k2", "mm", "2 times combined_uncertainty, for comparison"),
    ],
    refusals: &[Refusal::of("contributions", "empty list, or all contributions zero")],
    usual_mistake: "k = 2 on a few readings: with two or three degrees of freedom the factor is far larger; a \
         midpoint has sensitivities one half and one half",
    validity: "independent contributions, near-linear model",
    source: "JCGM 100 clauses 5 and G.4",
    example: r#"{
            "contributions": [{"sensitivity": 1, "standard_uncertainty": 0.000122474487137, "degrees_of_freedom": 4}, {"sensitivity": 1, "standard_uncertainty": 0.000288675134595, "degrees_of_freedom": "infinite"}, {"sensitivity": 1, "standard_uncertainty": 0.00057735026919, "degrees_of_freedom": "infinite"}, {"sensitivity": 10.0, "standard_uncertainty": 4e-05, "degrees_of_freedom": "infinite"}]
        }"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let contributions = given.records("contributions")?;
    let mut variance = 0.0;
    let mut over_freedom = 0.0;
    for contribution in contributions {
        let part = contribution.number("sensitivity")? * contribution.number("standard_uncertainty")?;
        let freedom = contribution.number("degrees_of_freedom")?;
        variance += part * part;
        if freedom.is_finite() {
            over_freedom += (part * part) * (part * part) / freedom;
        }
    }
    if variance <= 0.0 {
        return Err(Refused::new("contributions", "All contributions are zero: there is nothing to combine."));
    }
    let combined = variance.sqrt();
    let freedom = if over_freedom > 0.0 { variance * variance / over_freedom } else { f64::INFINITY };
    let upper = f64::midpoint(1.0, given.number("coverage_probability")?);
    let factor = student_t::quantile(upper, freedom.max(1.0));
    Ok(Answer::new()
        .with("combined_uncertainty", combined)
        .with("effective_degrees_of_freedom", freedom)
        .with("coverage_factor", factor)
        .with("expanded_uncertainty", factor * combined)
        .with("expanded_uncertainty_k2", 2.0 * combined))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, near, refuses};

    // JCGM 100:2008 H.1 (end gauge), nanometres: u_c = 32 (31.66), nu_eff = 16.7 before truncation.
    #[test]
    fn the_end_gauge_of_the_gum() {
        let inputs = json!({"contributions": [
            {"standard_uncertainty": 25, "degrees_of_freedom": 18},
            {"standard_uncertainty": 9.681_941_954, "degrees_of_freedom": 25.6},
            {"standard_uncertainty": 2.886_787_315, "degrees_of_freedom": 50},
            {"standard_uncertainty": 16.599_027_06, "degrees_of_freedom": 2}], "coverage_probability": 0.99});
        near("uncertainty-combine", &inputs, "combined_uncertainty", 31.66, 0.005);
        near("uncertainty-combine", &inputs, "effective_degrees_of_freedom", 16.7, 0.1);
    }

    // JCGM 100:2008 G.4: four equal contributions of ten degrees of freedom make forty.
    #[test]
    fn equal_contributions_add_their_degrees_of_freedom() {
        let one = json!({"standard_uncertainty": 1, "degrees_of_freedom": 10});
        let inputs = json!({"contributions": [one, one, one, one]});
        holds(
            "uncertainty-combine",
            &inputs,
            &json!({"combined_uncertainty": 2.0, "effective_degrees_of_freedom": 40.0}),
        );
    }

    #[test]
    fn nothing_to_combine_is_refused() {
        refuses("uncertainty-combine", &json!({"contributions": [{"standard_uncertainty": 0}]}), "contributions");
        refuses("uncertainty-combine", &json!({"contributions": []}), "contributions");
    }
}
