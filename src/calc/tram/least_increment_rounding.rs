//! What can the control really send of a correction, and what does the left-over cost at the pads and at the
//! feature?

use crate::calc::degrees;
use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "least-increment-rounding",
    version: 1,
    topic: "tram",
    question: "What can the control really send of a correction, and what does the left-over cost at the pads and \
         at the feature?",
    formula: "correction_to_send = nearest multiple of least_increment (halves away from zero); left_over = \
         index_correction - correction_to_send; pad_difference_left = pad_span tan(left_over); tangential_left = \
         feature_radius*left_over in radians",
    inputs: &[
        Input::quantity("index_correction", "deg", "correction wanted"),
        Input::quantity("least_increment", "deg", "smallest step of the rotary").above(0.0),
        Input::quantity("pad_span", "mm", "distance between the reading places").above(0.0),
        Input::quantity("feature_radius", "mm", "radius of the tightest feature").above(0.0),
    ],
    outputs: &[
        Output::quantity("correction_to_send", "deg", "multiple of the least increment"),
        Output::quantity("left_over", "deg", "angle left"),
        Output::quantity("pad_difference_left", "mm", "pad difference left"),
        Output::quantity("tangential_left", "mm", "error left at the feature"),
    ],
    refusals: &[],
    usual_mistake: "rounding early and losing the left-over from the error budget",
    validity: "none",
    source: "rounding",
    example: r#"{
            "index_correction": 0.18334586862300742, "least_increment": 0.001, "pad_span": 70,
            "feature_radius": 24
        }"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let (wanted, least_increment) = (given.number("index_correction")?, given.number("least_increment")?);
    let correction_to_send = whole_steps(wanted / least_increment) * least_increment;
    let left_over = wanted - correction_to_send;
    Ok(Answer::new()
        .with("correction_to_send", correction_to_send)
        .with("left_over", left_over)
        .with("pad_difference_left", given.number("pad_span")? * degrees::tangent(left_over))
        .with("tangential_left", given.number("feature_radius")? * left_over.to_radians()))
}

/// Rounds to the nearest whole number, halves away from zero; a half that the division has rounded just below a half is
/// still a half.
pub(super) fn whole_steps(steps: f64) -> f64 {
    (steps * (1.0 + 4.0 * f64::EPSILON)).round()
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, refuses, with};

    // By hand.
    #[test]
    fn what_cannot_be_sent_is_left_over() {
        let inputs =
            json!({"index_correction": 0.18334, "least_increment": 0.001, "pad_span": 70, "feature_radius": 24});
        let left: f64 = 0.000_34_f64.to_radians();
        let expected = json!({"correction_to_send": 0.183, "left_over": 0.000_34, "pad_difference_left": 70.0 * left.tan(),
            "tangential_left": 24.0 * left});
        holds("least-increment-rounding", &inputs, &expected);
        refuses("least-increment-rounding", &with(&inputs, "least_increment", json!(0)), "least_increment");
    }

    // By hand: halves go away from zero, also those that binary numbers miss (1.0005/0.001 is 1000.4999999999999).
    #[test]
    fn halves_go_away_from_zero() {
        for (wanted, sent) in [(1.0005, 1.001), (-1.0005, -1.001), (0.0005, 0.001), (0.1835, 0.184), (0.1834, 0.183)] {
            let inputs =
                json!({"index_correction": wanted, "least_increment": 0.001, "pad_span": 70, "feature_radius": 24});
            holds("least-increment-rounding", &inputs, &json!({"correction_to_send": sent}));
        }
    }
}
