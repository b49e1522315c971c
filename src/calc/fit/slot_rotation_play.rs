//! How far can the fixture turn on the jaws before a corner of the jaw meets the slot wall?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "slot-rotation-play",
    version: 1,
    topic: "fit",
    question: "How far can the fixture turn on the jaws before a corner of the jaw meets the slot wall?",
    formula: "jaw_length sin t + jaw_width cos t = slot_width -> play_angle = \
         asin(slot_width/sqrt(jaw_length^2+jaw_width^2)) - atan2(jaw_width, jaw_length); play_angle_small = \
         (slot_width-jaw_width)/jaw_length in radians",
    inputs: &[
        Input::quantity("slot_width", "mm", "width of the slot").above(0.0),
        Input::quantity("jaw_width", "mm", "width of the jaw").above(0.0),
        Input::quantity("jaw_length", "mm", "length of jaw in the slot").above(0.0),
    ],
    outputs: &[
        Output::quantity("side_play", "mm", "slot width minus jaw width"),
        Output::quantity("play_angle", "deg", "turn each way, exact"),
        Output::quantity("play_angle_small", "deg", "short form, for comparison"),
    ],
    refusals: &[Refusal::of("slot_width", "narrower than the jaw, or as wide as the jaw's diagonal or wider")],
    usual_mistake: "the short form drifts when the play is large",
    validity: "straight parallel walls",
    source: "plane geometry",
    example: r#"{"slot_width": 16.02, "jaw_width": 16.0, "jaw_length": 38.0}"#,
    solve,
};
