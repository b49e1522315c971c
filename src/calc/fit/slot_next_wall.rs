//! Which wall offset opens a slot to the play wanted, a little at a time?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "slot-next-wall",
    version: 1,
    topic: "fit",
    question: "Which wall offset opens a slot to the play wanted, without going past it?",
    formula: "tightness = jaw_width - slot_width; missing = play_wanted + tightness; wall_offset = \
         damping*missing/(2 response)",
    inputs: &[
        Input::quantity("slot_width", "mm", "width of the slot now").above(0.0),
        Input::quantity("jaw_width", "mm", "width of the jaw").above(0.0),
        Input::quantity("play_wanted", "mm", "slot width minus jaw width that is wanted").above(0.0),
        Input::quantity("response", "1", "share of the last wall offset that was cut (slot-response)")
            .above(0.0)
            .or(1.0),
        Input::quantity("damping", "1", "share of what is missing that is taken in this pass")
            .above(0.0)
            .at_most(1.0)
            .or(0.8),
    ],
    outputs: &[
        Output::quantity("tightness", "mm", "jaw width minus slot width, plus while the jaw does not go in"),
        Output::quantity("missing", "mm", "what the width still lacks"),
        Output::quantity("wall_offset", "mm", "what to take off each wall in the next pass"),
    ],
    refusals: &[Refusal::of("slot_width", "the slot already has the play wanted: nothing to take off")],
    usual_mistake: "taking what is missing off each wall, which opens the slot by twice as much",
    validity: "both walls cut with the same offset; a slot cut too wide cannot be put right",
    source: "common practice",
    example: r#"{"slot_width": 15.997666666666667, "jaw_width": 15.999666666666666, "play_wanted": 0.015, "response": 0.9166666666666666}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let tightness = given.number("jaw_width")? - given.number("slot_width")?;
    let missing = given.number("play_wanted")? + tightness;
    if missing <= 0.0 {
        return Err(Refused::new("slot_width", "slot_width already has the play wanted: take nothing off."));
    }
    let wall_offset = given.number("damping")? * missing / 2.0 / given.number("response")?;
    Ok(Answer::new().with("tightness", tightness).with("missing", missing).with("wall_offset", wall_offset))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{near, refuses, with};

    // The project's worked job of a flow-sensor body, first slot, second pass: 0.007 418 181 8.
    #[test]
    fn the_second_pass_goes_by_what_the_first_gave() {
        let inputs = json!({"slot_width": 47.993 / 3.0, "jaw_width": 47.999 / 3.0, "play_wanted": 0.015,
            "response": 0.022 / 0.024});
        near("slot-next-wall", &inputs, "tightness", 0.002, 1e-12);
        near("slot-next-wall", &inputs, "missing", 0.017, 1e-12);
        near("slot-next-wall", &inputs, "wall_offset", 0.007_418_181_818_18, 1e-12);
        let first = with(&with(&inputs, "response", json!(null)), "damping", json!(1));
        near("slot-next-wall", &first, "wall_offset", 0.0085, 1e-12);
        refuses("slot-next-wall", &with(&inputs, "damping", json!(1.01)), "damping");
    }

    #[test]
    fn a_slot_that_is_wide_enough_is_left_alone() {
        let inputs = json!({"slot_width": 10.25, "jaw_width": 10, "play_wanted": 0.25});
        refuses("slot-next-wall", &inputs, "slot_width");
        refuses("slot-next-wall", &with(&inputs, "slot_width", json!(10.5)), "slot_width");
    }
}
