//! Do two slots find both jaws, and does the fixture come down on what it is meant to stand on?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "slot-seating",
    version: 1,
    topic: "fit",
    question: "Do two slots find both jaws, and does the fixture come down on what it is meant to stand on?",
    formula: "spacing_error = slot_spacing - jaw_spacing; spacing_room = (play_1 + play_2)/2; finds_both = |spacing_error| \
         <= spacing_room; floor_gap = slot_depth - jaw_height: above 0 the back face is down, below 0 the slot floors are",
    inputs: &[
        Input::quantity("slot_spacing", "mm", "middle of one slot to the middle of the other").above(0.0),
        Input::quantity("jaw_spacing", "mm", "middle of one jaw to the middle of the other").above(0.0),
        Input::quantity("play_1", "mm", "play of the first slot"),
        Input::quantity("play_2", "mm", "play of the second"),
        Input::quantity("slot_depth", "mm", "depth of the slots").above(0.0),
        Input::quantity("jaw_height", "mm", "how far the jaws stand into them").above(0.0),
    ],
    outputs: &[
        Output::quantity("spacing_error", "mm", "how much farther apart the slots are than the jaws"),
        Output::quantity("spacing_room", "mm", "how much of that the plays can take up"),
        Output::flag("finds_both", "true when both jaws go in"),
        Output::quantity("floor_gap", "mm", "gap between slot floor and jaw when the back face is down"),
    ],
    refusals: &[],
    usual_mistake: "slots of the right width at the wrong spacing feel like slots that are too narrow",
    validity: "fixed jaws; jaws that centre themselves take up the spacing by moving",
    source: "plane geometry",
    example: r#"{"slot_spacing": 60.004, "jaw_spacing": 60.0, "play_1": 0.012, "play_2": 0.014, "slot_depth": 8.2,
        "jaw_height": 8.0}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let spacing_error = given.number("slot_spacing")? - given.number("jaw_spacing")?;
    let spacing_room = f64::midpoint(given.number("play_1")?, given.number("play_2")?);
    Ok(Answer::new()
        .with("spacing_error", spacing_error)
        .with("spacing_room", spacing_room)
        .with("finds_both", crate::calc::limits::within(spacing_error.abs(), spacing_room))
        .with("floor_gap", given.number("slot_depth")? - given.number("jaw_height")?))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, with};

    // By hand: each slot may stand off its jaw by half its play, one to each side.
    #[test]
    fn half_of_each_play_takes_up_the_spacing() {
        let inputs = json!({"slot_spacing": 60.25, "jaw_spacing": 60, "play_1": 0.25, "play_2": 0.25, "slot_depth": 8,
            "jaw_height": 8.5});
        let expected = json!({"spacing_error": 0.25, "spacing_room": 0.25, "finds_both": true, "floor_gap": -0.5});
        holds("slot-seating", &inputs, &expected);
        let narrower = with(&inputs, "play_2", json!(0.125));
        holds("slot-seating", &narrower, &json!({"finds_both": false}));
    }
}
