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
    /// A life of a whole number of pieces may miss it by this share in the arithmetic.
    const NOISE: f64 = 1e-12;
    const MILLIMETRES_IN_METRE: f64 = 1000.0;
    let life = given.number("drilled_life")? * MILLIMETRES_IN_METRE;
    let pieces = life / (given.number("holes_per_piece")? * given.number("depth_per_hole")?);
    let nearest = pieces.round();
    let is_whole = (pieces - nearest).abs() <= NOISE * nearest;
    Ok(Answer::new().with("whole_pieces", if is_whole { nearest } else { pieces.floor() }))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, refuses, with};

    // By hand: 4000/(6*24) = 27.8.
    #[test]
    fn the_last_piece_that_is_begun_does_not_count() {
        let inputs = json!({"drilled_life": 4, "holes_per_piece": 6, "depth_per_hole": 24});
        holds("tool-life-pieces", &inputs, &json!({"whole_pieces": 27}));
        let short = with(&inputs, "drilled_life", json!("143.9 mm"));
        holds("tool-life-pieces", &short, &json!({"whole_pieces": 0}));
    }

    // By hand: 2030/20.3 = 100 and 3690/36.9 = 100, though doubles come out one bit below.
    #[test]
    fn a_life_of_whole_pieces_counts_them_all() {
        for (life, holes, depth) in [(2.03, 1, 20.3), (3.69, 3, 12.3), (4.06, 2, 20.3)] {
            let inputs = json!({"drilled_life": life, "holes_per_piece": holes, "depth_per_hole": depth});
            holds("tool-life-pieces", &inputs, &json!({"whole_pieces": 100}));
            let worn = with(&inputs, "drilled_life", json!(life - 1e-9));
            holds("tool-life-pieces", &worn, &json!({"whole_pieces": 99}));
        }
    }

    #[test]
    fn values_outside_their_limits_are_refused() {
        let inputs = json!({"drilled_life": 4, "holes_per_piece": 6, "depth_per_hole": 24});
        refuses("tool-life-pieces", &with(&inputs, "drilled_life", json!(0)), "drilled_life");
        refuses("tool-life-pieces", &with(&inputs, "holes_per_piece", json!(0)), "holes_per_piece");
        refuses("tool-life-pieces", &with(&inputs, "holes_per_piece", json!(2.5)), "holes_per_piece");
        refuses("tool-life-pieces", &with(&inputs, "depth_per_hole", json!(0)), "depth_per_hole");
        refuses("tool-life-pieces", &with(&inputs, "drilled_life", json!(1e306)), "inputs");
    }
}
