//! How well is the roll of a part known from its two pads?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "pad-difference-uncertainty",
    version: 1,
    topic: "tram",
    question: "How well is the roll of a part known from the readings on its two pads?",
    formula: "difference_uncertainty = sqrt(rear_uncertainty^2 + front_uncertainty^2); roll_uncertainty = \
         difference_uncertainty/pad_span in degrees",
    inputs: &[
        Input::quantity("rear_uncertainty", "mm", "standard uncertainty of the rear reading").at_least(0.0),
        Input::quantity("front_uncertainty", "mm", "standard uncertainty of the front reading").at_least(0.0),
        Input::quantity("pad_span", "mm", "distance between the two reading places").above(0.0),
    ],
    outputs: &[
        Output::quantity("difference_uncertainty", "mm", "standard uncertainty of rear minus front"),
        Output::quantity("roll_uncertainty", "deg", "standard uncertainty of the roll"),
    ],
    refusals: &[],
    usual_mistake: "halving it as for a midpoint: a difference carries both in full",
    validity: "independent readings; small angles; pad span known well",
    source: "JCGM 100 clause 5.1.2",
    example: r#"{"rear_uncertainty": 0.0005, "front_uncertainty": 0.0005, "pad_span": 56}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let difference = given.number("rear_uncertainty")?.hypot(given.number("front_uncertainty")?);
    Ok(Answer::new()
        .with("difference_uncertainty", difference)
        .with("roll_uncertainty", (difference / given.number("pad_span")?).to_degrees()))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, near, refuses, with};

    // JCGM 100 5.1.2, by hand: 3 and 4 make 5 micrometres; 0.005 in 100 is 10.313 seconds of arc.
    #[test]
    fn both_readings_count_in_full() {
        let inputs = json!({"rear_uncertainty": 0.003, "front_uncertainty": 0.004, "pad_span": 100});
        holds("pad-difference-uncertainty", &inputs, &json!({"difference_uncertainty": 0.005}));
        near("pad-difference-uncertainty", &inputs, "roll_uncertainty", 10.313 / 3600.0, 0.0005 / 3600.0);
        refuses("pad-difference-uncertainty", &with(&inputs, "pad_span", json!(-1)), "pad_span");
    }
}
