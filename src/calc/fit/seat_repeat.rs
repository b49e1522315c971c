//! Does a fixture come back to the same seat after it was released and clamped again?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "seat-repeat",
    version: 1,
    topic: "fit",
    question: "Does a fixture come back to the same seat after it was released and clamped again?",
    formula: "changes = second - first at each corner; lift = mean change; largest_change = largest |change|; allowed = \
         3 sqrt(2) repeatability + 2 display_step; comes_back = largest_change <= allowed",
    inputs: &[
        Input::quantities("first", "mm", "indicator at the corners, first clamping").least_items(1),
        Input::quantities("second", "mm", "the same corners after release and clamping again").same_length_as("first"),
        Input::quantity("repeatability", "mm", "standard deviation of one reading").at_least(0.0),
        Input::quantity("display_step", "mm", "smallest step that the indicator shows").at_least(0.0),
    ],
    outputs: &[
        Output::quantities("changes", "mm", "change at each corner"),
        Output::quantity("lift", "mm", "mean change"),
        Output::quantity("largest_change", "mm", "largest change, without its sign"),
        Output::quantity("allowed", "mm", "what the indicator alone explains"),
        Output::flag("comes_back", "true when nothing but the indicator is seen"),
    ],
    refusals: &[],
    usual_mistake: "clamping once: a chip that happens to lie flat is not seen",
    validity: "same corners, same direction of reading",
    source: "difference of two normal readings, three standard deviations, and both ends of the display",
    example: r#"{"first": [0, -0.002, -0.001, 0], "second": [0.001, -0.001, -0.001, 0.001], "repeatability": 0.0007,
        "display_step": 0.001}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let (first, second) = (given.numbers("first")?, given.numbers("second")?);
    let changes: Vec<f64> = first.iter().zip(second).map(|(before, after)| after - before).collect();
    let largest = changes.iter().fold(0.0_f64, |largest, change| largest.max(change.abs()));
    let allowed =
        3.0 * std::f64::consts::SQRT_2 * given.number("repeatability")? + 2.0 * given.number("display_step")?;
    let count = f64::from(u32::try_from(changes.len()).unwrap_or(u32::MAX));
    Ok(Answer::new()
        .with("lift", changes.iter().map(|change| change / count).sum::<f64>())
        .with("changes", changes)
        .with("largest_change", largest)
        .with("allowed", allowed)
        .with("comes_back", crate::calc::limits::within(largest, allowed)))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, refuses, with};

    // By hand: one corner rose by 0.5, so the seat rose by an eighth; 3 sqrt(2) 0.1 + 0.05 = 0.474 264...
    #[test]
    fn one_corner_that_rose_is_seen() {
        let inputs =
            json!({"first": [0, 0, 0, 0], "second": [0, 0, 0.5, 0], "repeatability": 0.1, "display_step": 0.025});
        let expected = json!({"changes": [0.0, 0.0, 0.5, 0.0], "lift": 0.125, "largest_change": 0.5,
            "allowed": 0.474_264_068_711_928_5, "comes_back": false});
        holds("seat-repeat", &inputs, &expected);
        holds("seat-repeat", &with(&inputs, "second", json!([0, 0, 0.47, 0])), &json!({"comes_back": true}));
        refuses("seat-repeat", &with(&inputs, "second", json!([0, 0])), "second");
    }
}
