//! How much play has the rotary, by reading one place after coming to the same angle from both sides?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "rotary-play",
    version: 1,
    topic: "tram",
    question: "How much play has the rotary, by two pads read after coming to the same angle from both sides?",
    formula: "play_angle = |atan((other_side - one_side)/pad_span)|; play_uncertainty = sqrt(2) \
         difference_uncertainty/pad_span in degrees; cost_at_pads = |other_side - one_side|",
    inputs: &[
        Input::quantity("one_side", "mm", "rear minus front, the angle approached from the usual side"),
        Input::quantity("other_side", "mm", "rear minus front, the same angle approached from the other side"),
        Input::quantity("pad_span", "mm", "distance between the two reading places").above(0.0),
        Input::quantity("difference_uncertainty", "mm", "standard uncertainty of one difference").at_least(0.0),
    ],
    outputs: &[
        Output::quantity("play_angle", "deg", "play between the two sides"),
        Output::quantity("play_uncertainty", "deg", "its standard uncertainty"),
        Output::quantity("cost_at_pads", "mm", "what a change of side costs at the pads"),
    ],
    refusals: &[],
    usual_mistake: "reading after a change of side and taking the play for a tilt",
    validity: "small angles; brake as in the cut",
    source: "plane geometry; JCGM 100 clause 5.1.2",
    example: r#"{"one_side": -0.179, "other_side": -0.183, "pad_span": 56, "difference_uncertainty": 0.0008}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let cost = (given.number("other_side")? - given.number("one_side")?).abs();
    let span = given.number("pad_span")?;
    let spread = std::f64::consts::SQRT_2 * given.number("difference_uncertainty")?;
    Ok(Answer::new()
        .with("play_angle", (cost / span).atan().to_degrees())
        .with("play_uncertainty", (spread / span).to_degrees())
        .with("cost_at_pads", cost))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, near, refuses, with};

    // By hand: 0.02 degrees of play move two pads 45 apart by 45 tan 0.02 = 0.015708 against each other.
    #[test]
    fn both_sides_show_the_play() {
        let inputs =
            json!({"one_side": 0.001, "other_side": 0.016_708, "pad_span": 45, "difference_uncertainty": 0.002});
        near("rotary-play", &inputs, "play_angle", 0.02, 1e-7);
        let other_way = with(&with(&inputs, "one_side", json!(0.016_708)), "other_side", json!(0.001));
        near("rotary-play", &other_way, "play_angle", 0.02, 1e-7);
        holds("rotary-play", &inputs, &json!({"play_uncertainty": (8e-6_f64.sqrt() / 45.0).to_degrees()}));
        refuses("rotary-play", &with(&inputs, "pad_span", json!(0)), "pad_span");
    }
}
