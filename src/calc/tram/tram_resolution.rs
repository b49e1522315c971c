//! How finely can a level be read with a display of this step, and how far apart may two levels lie?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "tram-resolution",
    version: 1,
    topic: "tram",
    question: "How finely can a level be read with a display of this step, and how far apart may two levels of one part \
         lie?",
    formula: "index_uncertainty = sqrt(2)*display_step/sqrt(12)/pad_span in degrees; repeat_limit = \
         3 sqrt(rotary_repeat^2 + index_uncertainty^2)",
    inputs: &[
        Input::quantity("display_step", "mm", "smallest step of the indicator's display").at_least(0.0),
        Input::quantity("pad_span", "mm", "distance between the two reading places").above(0.0),
        Input::quantity("rotary_repeat", "deg", "how well the rotary comes back to an angle, standard deviation")
            .at_least(0.0),
    ],
    outputs: &[
        Output::quantity("index_uncertainty", "deg", "standard uncertainty of the level from the display alone"),
        Output::quantity("repeat_limit", "deg", "difference of two levels that is still chance"),
    ],
    refusals: &[],
    usual_mistake: "asking for a level finer than the display and the pads can show",
    validity: "display rounds to the nearest step; small angles",
    source: "JCGM 100 clause F.2.2.1 (width of a display step)",
    example: r#"{"display_step": 0.001, "pad_span": 56, "rotary_repeat": 0.002}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let each = given.number("display_step")? / 12.0_f64.sqrt();
    let index_uncertainty = (2.0_f64.sqrt() * each / given.number("pad_span")?).to_degrees();
    let repeat_limit = 3.0 * given.number("rotary_repeat")?.hypot(index_uncertainty);
    Ok(Answer::new().with("index_uncertainty", index_uncertainty).with("repeat_limit", repeat_limit))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{near, refuses, with};

    // The project's two worked jobs: 0.001 mm over 56 mm; 0.00005 in over 2.2 in.
    #[test]
    fn two_readings_of_one_display() {
        let inputs = json!({"display_step": 0.001, "pad_span": 56, "rotary_repeat": 0.002});
        near("tram-resolution", &inputs, "index_uncertainty", 0.000_417_695, 5e-10);
        let inch = json!({"display_step": "0.00005 in", "pad_span": "2.2 in", "rotary_repeat": 0.002});
        near("tram-resolution", &inch, "index_uncertainty", 0.000_531_611_5, 5e-11);
        near("tram-resolution", &inch, "repeat_limit", 0.006_208_340_9, 5e-11);
        refuses("tram-resolution", &with(&inputs, "pad_span", json!(0)), "pad_span");
    }
}
