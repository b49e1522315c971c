//! Where is the rotary centreline in Y when the same two faces are touched at an index and half a turn later?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "flip-centreline",
    version: 1,
    topic: "rotary",
    question: "Where is the rotary centreline in Y when the same two faces are touched at an index and half a turn \
         later?",
    formula: "centreline_y = (midpoint_at_0 + midpoint_at_180)/2; off_centre_y = (midpoint_at_0 - midpoint_at_180)/2",
    inputs: &[
        Input::quantity("midpoint_at_0", "mm", "middle of front and back readings at the first index"),
        Input::quantity("midpoint_at_180", "mm", "middle of front and back readings half a turn later"),
    ],
    outputs: &[
        Output::quantity("centreline_y", "mm", "machine Y of the rotary centreline"),
        Output::quantity("off_centre_y", "mm", "off-centre of the fixture at the first index, plus towards +Y"),
    ],
    refusals: &[],
    usual_mistake: "the midpoint at ONE angle is the centreline plus the off-centre, not the centreline",
    validity: "parallel opposite faces, fixture not moved between the flips, same brake state",
    source: "reversal method of the ISO 230-1 kind",
    example: r#"{"midpoint_at_0": -187.4462, "midpoint_at_180": -187.4812}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let (first, flipped) = (given.number("midpoint_at_0")?, given.number("midpoint_at_180")?);
    Ok(Answer::new()
        .with("centreline_y", f64::midpoint(first, flipped))
        .with("off_centre_y", f64::midpoint(first, -flipped)))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, refuses};

    // Worked case flip_two_angles of the project's own set of cases.
    #[test]
    fn the_middle_of_two_middles_is_the_centreline() {
        let inputs = json!({"midpoint_at_0": -187.4462, "midpoint_at_180": -187.4812});
        holds("flip-centreline", &inputs, &json!({"centreline_y": -187.4637, "off_centre_y": 0.0175}));
        refuses("flip-centreline", &json!({"midpoint_at_0": "1 deg", "midpoint_at_180": 0}), "midpoint_at_0");
    }
}
