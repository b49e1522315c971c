//! Which value can the control hold that is nearest to a computed one?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "nearest-increment",
    version: 1,
    topic: "rotary",
    question: "Which value can the control hold that is nearest to a computed one?",
    formula: "rounded = nearest multiple of least_increment to value, halves away from zero; left_over = value - rounded",
    inputs: &[
        Input::quantity("value", "mm", "the computed value"),
        Input::quantity("least_increment", "mm", "smallest step of the control").above(0.0),
    ],
    outputs: &[
        Output::quantity("rounded", "mm", "the value to write"),
        Output::quantity("left_over", "mm", "what rounding leaves, handed to the error budget"),
    ],
    refusals: &[],
    usual_mistake: "rounding in the middle of a calculation instead of at its end",
    validity: "registers that hold whole multiples of one increment",
    source: "definition",
    example: r#"{"value": -312.405333, "least_increment": 0.001}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let (value, least_increment) = (given.number("value")?, given.number("least_increment")?);
    let rounded = (value / least_increment).round() * least_increment;
    Ok(Answer::new().with("rounded", rounded).with("left_over", value - rounded))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::holds;

    // Arithmetic, common practice: the control of the practice job holds thousandths of a millimetre.
    #[test]
    fn the_nearest_thousandth_is_written() {
        holds(
            "nearest-increment",
            &json!({"value": -312.405_333, "least_increment": 0.001}),
            &json!({"rounded": -312.405, "left_over": -0.000_333}),
        );
    }
}
