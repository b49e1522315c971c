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
    let both = given.number("first_expanded_uncertainty")?.hypot(given.number("second_expanded_uncertainty")?);
    let ratio = difference.abs() / both;
    Ok(Answer::new()
        .with("difference", difference)
        .with("agreement_ratio", ratio)
        .with("agrees", limits::within(ratio, 1.0)))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, with};

    // The project's own worked case (normalised error, as in comparisons of measurements).
    #[test]
    fn a_difference_beyond_both_uncertainties_does_not_agree() {
        let inputs = json!({"first_value": -187.4632, "first_expanded_uncertainty": 0.0031, "second_value": -187.4571,
            "second_expanded_uncertainty": 0.0034});
        holds(
            "repeat-agreement",
            &inputs,
            &json!({"difference": 0.0061, "agreement_ratio": 1.325_773_719_962_92, "agrees": false}),
        );
        holds("repeat-agreement", &with(&inputs, "second_value", json!(-187.46)), &json!({"agrees": true}));
    }
}
