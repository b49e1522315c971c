//! What does the indicator show, and has it room to swing without lifting off or reaching its end?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "indicator-travel",
    version: 1,
    topic: "metrology",
    question: "What does the indicator show, and has it room to swing without lifting off or reaching its end?",
    formula: "reading = divisions_shown*division + full_turns*range_per_turn; room_left = travel - preload - \
         expected_swing; within_travel = room_left >= 0 and preload >= expected_swing/2",
    inputs: &[
        Input::quantity("travel", "mm", "whole travel of the indicator").above(0.0),
        Input::quantity("preload", "mm", "preload at zero").at_least(0.0),
        Input::quantity("expected_swing", "mm", "whole swing expected, low to high").at_least(0.0),
        Input::quantity("division", "mm", "value of one division").above(0.0),
        Input::quantity("divisions_shown", "1", "divisions that the needle shows"),
        Input::count("full_turns", "whole turns of the needle").at_least(0.0).or(0.0),
        Input::quantity("range_per_turn", "mm", "value of one whole turn").at_least(0.0).or(0.0),
    ],
    outputs: &[
        Output::quantity("reading", "mm", "reading as a length"),
        Output::quantity("room_left", "mm", "travel left"),
        Output::flag("within_travel", "true when it neither lifts off nor reaches its end"),
    ],
    refusals: &[
        Refusal::of("range_per_turn", "zero although full_turns is not"),
        Refusal::of("preload", "greater than the travel"),
    ],
    usual_mistake: "a preload below half the swing lifts off and reads flat",
    validity: "swing to both sides of the zero",
    source: "definition",
    example: r#"{
            "travel": 0.8, "preload": 0.2, "expected_swing": 0.3, "division": 0.01, "divisions_shown": 12.5
        }"#,
    solve,
};
