//! What does the indicator show, and has it room to swing without lifting off or reaching its end?

use crate::calc::limits;
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

fn solve(given: &Given) -> Result<Answer, Refused> {
    let (travel, preload) = (given.number("travel")?, given.number("preload")?);
    let (full_turns, range_per_turn) = (given.number("full_turns")?, given.number("range_per_turn")?);
    if full_turns > 0.0 && range_per_turn <= 0.0 {
        let reason = "range_per_turn is missing: say what one whole turn of the needle is worth.";
        return Err(Refused::new("range_per_turn", reason));
    }
    if preload > travel {
        return Err(Refused::new("preload", "preload is greater than the travel: the indicator would be at its end."));
    }
    let swing = given.number("expected_swing")?;
    let room_left = travel - preload - swing;
    let within_travel = limits::difference_within(-room_left, 0.0, travel) && limits::within(swing / 2.0, preload);
    let reading = given.number("divisions_shown")? * given.number("division")? + full_turns * range_per_turn;
    Ok(Answer::new().with("reading", reading).with("room_left", room_left).with("within_travel", within_travel))
}

#[cfg(test)]
mod tests {
    use serde_json::{Value, json};

    use crate::calc::check::{holds, refuses, with};

    fn lever() -> Value {
        json!({"travel": 0.8, "preload": 0.2, "expected_swing": 0.3, "division": 0.01, "divisions_shown": 12.5})
    }

    // Definition, by hand.
    #[test]
    fn divisions_and_turns_make_the_reading() {
        holds("indicator-travel", &lever(), &json!({"reading": 0.125, "room_left": 0.3, "within_travel": true}));
        let dial = json!({"travel": 10, "preload": 1, "expected_swing": 0.5, "division": 0.01, "divisions_shown": -25,
            "full_turns": 2, "range_per_turn": 1});
        holds("indicator-travel", &dial, &json!({"reading": 1.75, "within_travel": true}));
        refuses("indicator-travel", &with(&dial, "range_per_turn", json!(0)), "range_per_turn");
        refuses("indicator-travel", &with(&dial, "full_turns", json!(1.5)), "full_turns");
        refuses("indicator-travel", &with(&lever(), "preload", json!(0.81)), "preload");
    }

    // Common practice: at least half the swing of preload, and room for the swing above it; the edges are inside.
    #[test]
    fn it_neither_lifts_off_nor_reaches_its_end() {
        for (preload, within) in [(0.149, false), (0.15, true), (0.5, true), (0.501, false)] {
            let inputs = with(&lever(), "preload", json!(preload));
            holds("indicator-travel", &inputs, &json!({"within_travel": within}));
        }
    }
}
