//! How many whole pieces can a drill do in its life?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "tool-life-pieces",
    version: 1,
    topic: "batch",
    question: "How many whole pieces can a drill do in its life?",
    formula: "whole_pieces = floor(drilled_life/(holes_per_piece*depth_per_hole))",
    inputs: &[
        Input::quantity("drilled_life", "m", "length a drill may cut in all").above(0.0),
        Input::count("holes_per_piece", "holes per piece").at_least(1.0),
        Input::quantity("depth_per_hole", "mm", "depth of one hole, point included").above(0.0),
    ],
    outputs: &[Output::count("whole_pieces", "pieces it can finish")],
    refusals: &[],
    usual_mistake: "rounding up: the drill then dies in a part",
    validity: "life counted in drilled length",
    source: "definition",
    example: r#"{"drilled_life": 4, "holes_per_piece": 6, "depth_per_hole": 24}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let per_piece = given.number("holes_per_piece")? * given.number("depth_per_hole")?;
    Ok(Answer::new().with("whole_pieces", (1000.0 * given.number("drilled_life")? / per_piece).floor()))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, with};

    // Arithmetic: 5 m of life, 4 holes of 10 mm make 125 pieces; a little less makes 124.
    #[test]
    fn only_whole_pieces_count() {
        let inputs = json!({"drilled_life": 5, "holes_per_piece": 4, "depth_per_hole": 10});
        holds("tool-life-pieces", &inputs, &json!({"whole_pieces": 125}));
        holds("tool-life-pieces", &with(&inputs, "drilled_life", json!(4.99)), &json!({"whole_pieces": 124}));
    }
}
