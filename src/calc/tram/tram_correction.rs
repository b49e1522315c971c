//! By how much and which way must the rotary be turned to bring two pads level?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "tram-correction",
    version: 1,
    topic: "tram",
    question: "By how much and which way must the rotary be turned to bring two pads level?",
    formula: "pad_difference = rear_reading - front_reading - pad_step; roll_angle = atan(pad_difference/pad_span) \
         for flats, asin for high-points; index_correction = -s*roll_angle (s=+1 right-hand, -1 left-hand)",
    inputs: &[
        Input::quantity("rear_reading", "mm", "indicator on the rear (+Y) pad, plus = higher"),
        Input::quantity("front_reading", "mm", "indicator on the front (-Y) pad, plus = higher"),
        Input::quantity("pad_span", "mm", "distance between the two reading places").above(0.0),
        Input::quantity("pad_step", "mm", "drawing height of the rear pad above the front pad").or(0.0),
        Input::work_turns(),
        Input::word(
            "pad_contact",
            &["flats", "high-points"],
            "flats read at fixed Y, or two high points followed by the indicator",
        )
        .or_word("flats"),
    ],
    outputs: &[
        Output::quantity("pad_difference", "mm", "height difference with the drawing step taken off"),
        Output::quantity("roll_angle", "deg", "right-hand roll of the work, plus = rear pad high"),
        Output::quantity("index_correction", "deg", "angle to command, with its sign"),
    ],
    refusals: &[Refusal::of("pad_span", "shorter than the height difference when high-points are read")],
    usual_mistake: "forgetting the drawing height difference of the pads, or sending the correction in the wrong \
         sense",
    validity: "pad faces coplanar apart from the stated step",
    source: "plane geometry",
    example: r#"{
            "rear_reading": 0.129, "front_reading": -0.095, "pad_span": 70.0, "work_turns": "left-hand"
        }"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let pad_difference = given.number("rear_reading")? - given.number("front_reading")? - given.number("pad_step")?;
    let pad_span = given.number("pad_span")?;
    let slope = pad_difference / pad_span;
    let roll_angle = match given.word("pad_contact")? {
        "flats" => slope.atan().to_degrees(),
        _ if slope.abs() > 1.0 => {
            let reason = "pad_span is shorter than the height difference of the two high points, which cannot be.";
            return Err(Refused::new("pad_span", reason));
        }
        _ => slope.asin().to_degrees(),
    };
    Ok(Answer::new()
        .with("pad_difference", pad_difference)
        .with("roll_angle", roll_angle)
        .with("index_correction", -given.work_turns()? * roll_angle))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, near, refuses, with};

    // Worked case tram_two_pads_iso of the project's own set of cases.
    #[test]
    fn a_high_rear_pad_is_turned_down() {
        let inputs =
            json!({"rear_reading": 0.129, "front_reading": -0.095, "pad_span": 70.0, "work_turns": "left-hand"});
        let expected = json!({"pad_difference": 0.224, "roll_angle": 0.183_345_868_623_007_42,
            "index_correction": 0.183_345_868_623_007_42});
        holds("tram-correction", &inputs, &expected);
        let stepped = with(&inputs, "pad_step", json!(0.224));
        holds("tram-correction", &stepped, &json!({"roll_angle": 0.0, "index_correction": 0.0}));
    }

    // Geometry: two features at (-40, 20.00) and (40, 20.06) come level by a turn of -atan2(0.06, 80) = -0.042971827 deg.
    #[test]
    fn two_pads_eighty_apart_come_level() {
        let inputs = json!({"rear_reading": 20.06, "front_reading": 20.0, "pad_span": 80, "work_turns": "right-hand"});
        near("tram-correction", &inputs, "index_correction", -0.042_971_827, 5e-10);
    }

    // Geometry: sin 30 = 0.5.
    #[test]
    fn high_points_keep_their_distance_while_they_turn() {
        let inputs = json!({"rear_reading": 35, "front_reading": 0, "pad_span": 70, "work_turns": "right-hand",
            "pad_contact": "high-points"});
        holds("tram-correction", &inputs, &json!({"roll_angle": 30.0, "index_correction": -30.0}));
        holds("tram-correction", &with(&inputs, "rear_reading", json!(70)), &json!({"roll_angle": 90.0}));
        refuses("tram-correction", &with(&inputs, "rear_reading", json!(70.001)), "pad_span");
        refuses("tram-correction", &with(&inputs, "pad_contact", json!("points")), "pad_contact");
    }
}
