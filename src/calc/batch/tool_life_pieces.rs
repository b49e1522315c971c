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
