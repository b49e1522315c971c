//! Do two measurements of one thing agree within their expanded uncertainties?

use crate::calc::limits;
use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "repeat-agreement",
    version: 1,
    topic: "metrology",
    question: "Do two measurements of one thing agree within their expanded uncertainties?",
    formula: "difference = second_value - first_value; agreement_ratio = |difference|/sqrt(U1^2+U2^2); agrees = \
         agreement_ratio <= 1",
    inputs: &[
        Input::quantity("first_value", "mm", "first result"),
        Input::quantity("first_expanded_uncertainty", "mm", "its expanded uncertainty").above(0.0),
        Input::quantity("second_value", "mm", "second result"),
        Input::quantity("second_expanded_uncertainty", "mm", "its expanded uncertainty").above(0.0),
    ],
    outputs: &[
        Output::quantity("difference", "mm", "second minus first"),
        Output::quantity("agreement_ratio", "1", "normalised error"),
        Output::flag("agrees", "true when the ratio is 1 or less"),
    ],
    refusals: &[],
    usual_mistake: "using standard in place of expanded uncertainties",
    validity: "independent results",
    source: "normalised error of comparison measurements",
    example: r#"{
            "first_value": -187.4632, "first_expanded_uncertainty": 0.0031, "second_value": -187.4571,
            "second_expanded_uncertainty": 0.0034
        }"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let difference = given.number("second_value")? - given.number("first_value")?;
    let together = given.number("first_expanded_uncertainty")?.hypot(given.number("second_expanded_uncertainty")?);
    let agreement_ratio = difference.abs() / together;
    Ok(Answer::new()
        .with("difference", difference)
        .with("agreement_ratio", agreement_ratio)
        .with("agrees", limits::within(agreement_ratio, 1.0)))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, near, refuses, with};

    // Worked case repeat_setup_En of the project's own set of cases.
    #[test]
    fn setups_that_lie_further_apart_than_both_uncertainties() {
        let inputs = json!({"first_value": -187.4632, "first_expanded_uncertainty": 0.0031,
            "second_value": -187.4571, "second_expanded_uncertainty": 0.0034});
        near("repeat-agreement", &inputs, "agreement_ratio", 1.325_773_719_963, 1e-11);
        holds("repeat-agreement", &inputs, &json!({"agrees": false}));
        refuses(
            "repeat-agreement",
            &with(&inputs, "first_expanded_uncertainty", json!(0)),
            "first_expanded_uncertainty",
        );
    }

    // Algebra: 3 and 4 in squares are 5, and exactly 1 still agrees.
    #[test]
    fn a_ratio_of_one_agrees() {
        let inputs = json!({"first_value": 1, "first_expanded_uncertainty": 0.75, "second_value": -0.25,
            "second_expanded_uncertainty": 1});
        let expected = json!({"difference": -1.25, "agreement_ratio": 1.0, "agrees": true});
        holds("repeat-agreement", &inputs, &expected);
    }
}
