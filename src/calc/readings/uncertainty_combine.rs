//! What is the combined and the expanded uncertainty of a result with several contributions?

use super::student_t;
use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};

pub(super) const SENSITIVITY: Input = Input::quantity(
    "sensitivity",
    "1",
    "sensitivity coefficient; carries mm per unit when the contribution is not a length",
)
.or(1.0);
pub(super) const STANDARD_UNCERTAINTY: Input =
    Input::quantity("standard_uncertainty", "mm", "standard uncertainty (plain number when it is not a length)")
        .at_least(0.0);
pub(super) const DEGREES_OF_FREEDOM: Input =
    Input::degrees_of_freedom("degrees_of_freedom", "a number of at least 1, or 'infinite'")
        .at_least(1.0)
        .or_infinite();

const FIELDS: &[Input] = &[SENSITIVITY, STANDARD_UNCERTAINTY, DEGREES_OF_FREEDOM];

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
    let contributions: Vec<Contribution> =
        given.records("contributions")?.iter().map(Contribution::of).collect::<Result<_, _>>()?;
    let combined = combine(&contributions, given.number("coverage_probability")?)?;
    Ok(Answer::new()
        .with("combined_uncertainty", combined.uncertainty)
        .with("effective_degrees_of_freedom", combined.degrees_of_freedom)
        .with("coverage_factor", combined.factor)
        .with("expanded_uncertainty", combined.factor * combined.uncertainty)
        .with("expanded_uncertainty_k2", 2.0 * combined.uncertainty))
}

/// One contribution to an uncertainty.
pub(super) struct Contribution {
    /// What it makes of the result: |sensitivity × standard uncertainty|.
    pub size: f64,
    /// Its degrees of freedom; infinity when it is known exactly.
    pub degrees_of_freedom: f64,
}

impl Contribution {
    /// Reads one from a record with sensitivity, standard uncertainty and degrees of freedom.
    pub(super) fn of(record: &Given) -> Result<Self, Refused> {
        Ok(Self {
            size: (record.number("sensitivity")? * record.number("standard_uncertainty")?).abs(),
            degrees_of_freedom: record.number("degrees_of_freedom")?,
        })
    }
}

/// Several contributions put together.
pub(super) struct Combined {
    /// Combined standard uncertainty.
    pub uncertainty: f64,
    /// Effective degrees of freedom (Welch and Satterthwaite).
    pub degrees_of_freedom: f64,
    /// Coverage factor for the probability asked for.
    pub factor: f64,
}

/// Combines contributions; refuses when there is nothing to combine.
pub(super) fn combine(contributions: &[Contribution], coverage_probability: f64) -> Result<Combined, Refused> {
    let largest = contributions.iter().map(|one| one.size).fold(0.0, f64::max);
    if largest <= 0.0 {
        return Err(Refused::new("contributions", "contributions are all zero: there is nothing to combine."));
    }
    // Shares of the largest keep the squares from running over or out.
    let square = |one: &Contribution| (one.size / largest).powi(2);
    let sum: f64 = contributions.iter().map(square).sum();
    let inverse: f64 = contributions.iter().map(|one| (square(one) / sum).powi(2) / one.degrees_of_freedom).sum();
    let degrees_of_freedom = 1.0 / inverse;
    Ok(Combined {
        uncertainty: largest * sum.sqrt(),
        degrees_of_freedom,
        factor: student_t::coverage_factor(coverage_probability, degrees_of_freedom),
    })
}

#[cfg(test)]
mod tests {
    use serde_json::{Value, json};

    use crate::calc::check::{answer, holds, near, refuses};

    fn contribution(sensitivity: f64, uncertainty: f64, freedom: &Value) -> Value {
        json!({"sensitivity": sensitivity, "standard_uncertainty": uncertainty, "degrees_of_freedom": freedom})
    }

    // JCGM 100 (GUM) H.1, gauge block, in nm: u_c = 32 (u_c^2 = 1002), 16.7 degrees of freedom. The freedoms of 50 and 2
    // belong to the two rectangular contributions.
    #[test]
    fn the_gauge_block_of_the_gum() {
        let length = 50_000_623.0;
        let contributions = json!([
            contribution(1.0, 25.0, &json!(18)),
            contribution(1.0, 5.8, &json!(24)),
            contribution(1.0, 3.9, &json!(5)),
            contribution(1.0, 6.7, &json!(8)),
            contribution(length * -0.1, 1e-6 / 3.0_f64.sqrt(), &json!(50)),
            contribution(-length * 11.5e-6, 0.05 / 3.0_f64.sqrt(), &json!(2)),
        ]);
        let inputs = json!({"contributions": contributions, "coverage_probability": 0.99});
        near("uncertainty-combine", &inputs, "combined_uncertainty", 1002.0_f64.sqrt(), 0.015);
        near("uncertainty-combine", &inputs, "effective_degrees_of_freedom", 16.7, 0.1);
    }

    // JCGM 100 (GUM) H.1 from the GUM's own rounded uncertainties of its inputs (9.7 nm, 0.58e-6, 0.029 degC), as the manual
    // page of the R package propagate works it: 31.71 nm, 16.66 degrees of freedom, U99 = 92.1 nm. The GUM truncates to
    // 16, where t99 is 2.92 and U99 93. A u_c rounded to 32 nm would have given 17.5.
    #[test]
    fn the_gauge_block_from_rounded_inputs() {
        let length = 50_000_623.0;
        let contributions = json!([
            contribution(1.0, 25.0, &json!(18)),
            contribution(1.0, 9.7, &json!(25.6)),
            contribution(length * -0.1, 0.58e-6, &json!(50)),
            contribution(-length * 11.5e-6, 0.029, &json!(2)),
        ]);
        let inputs = json!({"contributions": contributions, "coverage_probability": 0.99});
        near("uncertainty-combine", &inputs, "combined_uncertainty", 31.71, 0.005);
        near("uncertainty-combine", &inputs, "effective_degrees_of_freedom", 16.66, 0.01);
        near("uncertainty-combine", &inputs, "expanded_uncertainty", 92.1, 0.05);
        let truncated = json!({"probability": 0.995, "degrees_of_freedom": 16});
        near("student-t-quantile", &truncated, "quantile", 2.92, 0.005);
        near("student-t-quantile", &truncated, "quantile", 93.0 / 32.0, 0.5 / 32.0);
    }

    // JCGM 100 G.4: four equal contributions of ten degrees of freedom have forty.
    #[test]
    fn equal_contributions_add_their_freedom() {
        let four = vec![contribution(-0.5, 0.002, &json!(10)); 4];
        let expected = json!({"combined_uncertainty": 0.002, "effective_degrees_of_freedom": 40.0,
            "expanded_uncertainty_k2": 0.004});
        holds("uncertainty-combine", &json!({"contributions": four}), &expected);
    }

    // JCGM 101:2008 9.2, table 2: four normal contributions of 1 give the 95 % interval of 3.92 either side.
    #[test]
    fn four_normal_contributions_of_the_first_supplement() {
        let four = vec![json!({"standard_uncertainty": 1}); 4];
        let inputs = json!({"contributions": four, "coverage_probability": 0.95});
        near("uncertainty-combine", &inputs, "expanded_uncertainty", 3.92, 0.005);
    }

    // NIST TN 1297 6.2: the normal factors for 90 %, 95.45 % and 99 %; a sensitivity left out is 1.
    #[test]
    fn without_scatter_the_factor_is_normal() {
        let inputs = |coverage: f64| {
            json!({"contributions": [{"standard_uncertainty": 3e-200}, {"standard_uncertainty": 4e-200}],
                "coverage_probability": coverage})
        };
        for (coverage, factor) in [(0.9, 1.645), (0.9545, 2.0), (0.99, 2.576)] {
            near("uncertainty-combine", &inputs(coverage), "coverage_factor", factor, 0.0005);
        }
        let found = answer("uncertainty-combine", &inputs(0.9));
        assert_eq!(found["effective_degrees_of_freedom"], json!("infinite"));
        let combined = found["combined_uncertainty"]["value"].as_f64().unwrap();
        assert!((combined / 5e-200 - 1.0).abs() < 1e-14, "{combined}");
    }

    #[test]
    fn nothing_to_combine_is_refused() {
        for (contributions, blamed) in [
            (json!([]), "contributions"),
            (json!([contribution(0.0, 1.0, &json!(3)), contribution(1.0, 0.0, &json!(3))]), "contributions"),
            (json!([contribution(1.0, 1.0, &json!(0.5))]), "contributions"),
            (json!([contribution(1e200, 1e200, &json!(5))]), "inputs"),
        ] {
            refuses("uncertainty-combine", &json!({"contributions": contributions}), blamed);
        }
    }
}
