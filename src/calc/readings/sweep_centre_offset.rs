//! How far is the spindle off the centre of a bore or boss that was swept with an indicator?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "sweep-centre-offset",
    version: 1,
    topic: "metrology",
    question: "How far is the spindle off the centre of a bore or boss that was swept with an indicator?",
    formula: "offset_x = x_difference/2; offset_y = y_difference/2; radial_offset = sqrt(offset_x^2+offset_y^2)",
    inputs: &[
        Input::quantity("x_difference", "mm", "reading at +X minus reading at -X"),
        Input::quantity("y_difference", "mm", "reading at +Y minus reading at -Y"),
    ],
    outputs: &[
        Output::quantity("offset_x", "mm", "half the difference, same sign"),
        Output::quantity("offset_y", "mm", "half the difference, same sign"),
        Output::quantity("radial_offset", "mm", "length of the offset"),
    ],
    refusals: &[],
    usual_mistake: "the offset is HALF the difference of opposite readings",
    validity: "round bore, sweep square to it",
    source: "indicator sweep",
    example: r#"{"x_difference": 0.024, "y_difference": -0.01}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let (offset_x, offset_y) = (given.number("x_difference")? / 2.0, given.number("y_difference")? / 2.0);
    Ok(Answer::new()
        .with("offset_x", offset_x)
        .with("offset_y", offset_y)
        .with("radial_offset", offset_x.hypot(offset_y)))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::holds;

    // Common practice: opposite readings differ by twice the offset; 0.012 and -0.005 are 0.013 off.
    #[test]
    fn the_offset_is_half_the_difference() {
        let expected = json!({"offset_x": 0.012, "offset_y": -0.005, "radial_offset": 0.013});
        holds("sweep-centre-offset", &json!({"x_difference": 0.024, "y_difference": -0.01}), &expected);
    }
}
