//! What is the combined and the expanded uncertainty of a result with several contributions?

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
