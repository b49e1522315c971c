//! Which way does the rotary turn from index to index, and how far are the hoses wound up?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "index-turns",
    version: 1,
    topic: "first-run",
    question: "Which way does the rotary turn from index to index, and how far are the hoses wound up?",
    formula: "difference_i = angle_i - angle_(i-1), from 0; straight: turn_i = difference_i; shortest: turn_i = \
         difference_i brought to -180 < turn_i <= 180; wound_up = largest |sum of the turns so far|; half_turns = \
         number of shortest turns of 180 within 1e-6, which may go either way and are counted as going on",
    inputs: &[
        Input::quantities("angles", "deg", "programmed angles in the order of the program").least_items(1),
        Input::word("way", &["shortest", "straight"], "how the control turns to a programmed angle")
            .or_word("shortest"),
    ],
    outputs: &[
        Output::quantities("turns", "deg", "turn to each angle, with its sign"),
        Output::quantity("wound_up", "deg", "furthest from the start, either way"),
        Output::quantity("longest_turn", "deg", "longest single turn"),
        Output::count("half_turns", "turns that may go either way"),
    ],
    refusals: &[],
    usual_mistake: "taking for granted that 270 is reached by -90: some controls go the long way, and hoses wrap",
    validity: "one rotary axis, absolute angles; which way a control goes is found by a dry turn",
    source: "angles taken round the circle; common practice",
    example: r#"{"angles": [0, 180, 90, 270]}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let shortest = given.word("way")? == "shortest";
    let (mut before, mut stands, mut wound, mut longest): (f64, f64, f64, f64) = (0.0, 0.0, 0.0, 0.0);
    let mut half_turns = 0_u32;
    let mut turns = Vec::new();
    for angle in given.numbers("angles")? {
        let mut turn = angle - before;
        if shortest {
            turn = 180.0 - (180.0 - turn).rem_euclid(360.0);
            if (turn.abs() - 180.0).abs() <= 1e-6 {
                half_turns += 1;
                turn = if stands < 0.0 { -180.0 } else { 180.0 };
            }
        }
        (before, stands) = (*angle, stands + turn);
        (wound, longest) = (wound.max(stands.abs()), longest.max(turn.abs()));
        turns.push(turn);
    }
    Ok(Answer::new()
        .with("turns", turns)
        .with("wound_up", wound)
        .with("longest_turn", longest)
        .with("half_turns", half_turns))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::holds;

    // By definition: each turn is the difference brought to the nearer way round.
    #[test]
    fn the_short_way_and_the_straight_way_are_told_apart() {
        let expected =
            json!({"turns": [0.0, 180.0, -90.0, 180.0], "wound_up": 270.0, "longest_turn": 180.0, "half_turns": 2});
        holds("index-turns", &json!({"angles": [0, 180, 90, 270]}), &expected);
        holds("index-turns", &json!({"angles": [0, 350, 20]}), &json!({"turns": [0.0, -10.0, 30.0], "wound_up": 20.0}));
        holds(
            "index-turns",
            &json!({"angles": [0, 350, 20], "way": "straight"}),
            &json!({"turns": [0.0, 350.0, -330.0], "wound_up": 350.0, "longest_turn": 350.0, "half_turns": 0}),
        );
    }

    #[test]
    fn turns_that_add_up_wind_the_hoses() {
        let wound = json!({"turns": [120.0, 120.0, 120.0, 120.0], "wound_up": 480.0, "half_turns": 0});
        holds("index-turns", &json!({"angles": [120, 240, 0, 120]}), &wound);
    }
}
