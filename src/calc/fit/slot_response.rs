//! How much of a wall offset did the slot really give?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "slot-response",
    version: 1,
    topic: "fit",
    question: "How much of a wall offset did the slot really give?",
    formula: "response = (width_after - width_before)/(2 wall_offset)",
    inputs: &[
        Input::quantity("width_before", "mm", "width of the slot before the pass").above(0.0),
        Input::quantity("width_after", "mm", "width after the pass").above(0.0),
        Input::quantity("wall_offset", "mm", "how much was set to be taken off each wall").above(0.0),
    ],
    outputs: &[Output::quantity("response", "1", "share of the set offset that was cut; 1 when the slot did as told")],
    refusals: &[],
    usual_mistake: "forgetting that the offset is cut on two walls; and taking a spring pass for a cut",
    validity: "both walls cut with the same offset by the same tool; widths measured at the same place and warmth",
    source: "common practice",
    example: r#"{"width_before": 15.990333333333334, "width_after": 15.997666666666667, "wall_offset": 0.004}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let grown = given.number("width_after")? - given.number("width_before")?;
    Ok(Answer::new().with("response", grown / (2.0 * given.number("wall_offset")?)))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, near, refuses, with};

    // The project's worked job of a flow-sensor body, first slot: 0.004 on each wall opened 15.9903 to 15.9977.
    #[test]
    fn growth_over_twice_the_offset() {
        let inputs = json!({"width_before": 47.971 / 3.0, "width_after": 47.993 / 3.0, "wall_offset": 0.004});
        near("slot-response", &inputs, "response", 0.916_666_666_666_7, 1e-10);
        let exact = json!({"width_before": 10, "width_after": 10.5, "wall_offset": 0.25});
        holds("slot-response", &exact, &json!({"response": 1.0}));
        refuses("slot-response", &with(&inputs, "wall_offset", json!(0)), "wall_offset");
    }
}
