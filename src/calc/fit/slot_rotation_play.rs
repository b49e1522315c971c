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

fn solve(given: &Given) -> Result<Answer, Refused> {
    let (slot_width, jaw_width) = (given.number("slot_width")?, given.number("jaw_width")?);
    let jaw_length = given.number("jaw_length")?;
    let diagonal = jaw_length.hypot(jaw_width);
    if slot_width < jaw_width || slot_width >= diagonal {
        let reason =
            format!("slot_width must be at least the jaw's width and less than its diagonal of {diagonal} mm.");
        return Err(Refused::new("slot_width", reason));
    }
    let side_play = slot_width - jaw_width;
    // The formula's difference of two angles loses digits when the play is small; sine and cosine of the difference do not.
    let (slot, jaw, length) = (slot_width / diagonal, jaw_width / diagonal, jaw_length / diagonal);
    let rest = ((1.0 - slot) * (1.0 + slot)).sqrt();
    let sine = side_play / diagonal * (slot + jaw) / (slot * length + jaw * rest);
    let cosine = rest * length + slot * jaw;
    Ok(Answer::new()
        .with("side_play", side_play)
        .with("play_angle", sine.atan2(cosine).to_degrees())
        .with("play_angle_small", (side_play / jaw_length).to_degrees()))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, refuses, with};

    // Worked case slot_rotation_play of the project's own set of cases.
    #[test]
    fn two_hundredths_let_the_fixture_turn() {
        let inputs = json!({"slot_width": 16.02, "jaw_width": 16.0, "jaw_length": 38.0});
        let expected = json!({"side_play": 0.02, "play_angle": 0.030_159_016_910_386_104,
            "play_angle_small": 0.030_155_673_427_937_426});
        holds("slot-rotation-play", &inputs, &expected);
    }

    // The formula itself, in its plain form.
    #[test]
    fn the_stable_form_is_the_plain_form() {
        for (slot, jaw, length) in
            [(16.02_f64, 16.0_f64, 38.0_f64), (10.0, 4.0, 10.0), (1.0, 0.001, 1.0), (39.9, 16.0, 38.0)]
        {
            let plain = ((slot / length.hypot(jaw)).asin() - jaw.atan2(length)).to_degrees();
            let inputs = json!({"slot_width": slot, "jaw_width": jaw, "jaw_length": length});
            holds("slot-rotation-play", &inputs, &json!({"play_angle": plain}));
        }
    }

    #[test]
    fn slots_without_play_or_without_end_are_refused() {
        let inputs = json!({"slot_width": 4, "jaw_width": 4, "jaw_length": 3});
        holds("slot-rotation-play", &inputs, &json!({"play_angle": 0.0}));
        refuses("slot-rotation-play", &with(&inputs, "slot_width", json!(3.999)), "slot_width");
        refuses("slot-rotation-play", &with(&inputs, "slot_width", json!(5)), "slot_width");
    }
}
