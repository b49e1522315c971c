//! How well is the rotary centreline known from a flip?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "centreline-uncertainty",
    version: 1,
    topic: "rotary",
    question: "How well is the Y of the rotary centreline known from side touches before and after half a turn?",
    formula: "centreline_uncertainty = sqrt(sum u_i^2/16 + (touch_height*roll_uncertainty in radians)^2), u_i = \
         reading_uncertainties",
    inputs: &[
        Input::vector(
            "reading_uncertainties",
            4,
            "mm",
            "standard uncertainty of the means of the four touches: front and back, each at both indexes",
        )
        .at_least(0.0),
        Input::quantity("touch_height", "mm", "height of the touches above the rotary centreline, minus when below"),
        Input::quantity("roll_uncertainty", "deg", "standard uncertainty of the fixture's roll").at_least(0.0),
    ],
    outputs: &[Output::quantity("centreline_uncertainty", "mm", "standard uncertainty of the centreline in Y")],
    refusals: &[],
    usual_mistake: "forgetting the roll: it does not average out over the flip unless the touches are at centre height",
    validity: "independent touches; small roll",
    source: "JCGM 100 clause 5.1.2; the centreline is the mean of four readings",
    example: r#"{
            "reading_uncertainties": [0.0005, 0.0005, 0.0005, 0.0005], "touch_height": 10, "roll_uncertainty": 0.0005
        }"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let readings: [f64; 4] = given.vector("reading_uncertainties")?;
    let of_touches = readings.iter().fold(0.0, |sum: f64, uncertainty| sum.hypot(*uncertainty)) / 4.0;
    let of_roll = given.number("touch_height")? * given.number("roll_uncertainty")?.to_radians();
    Ok(Answer::new().with("centreline_uncertainty", of_touches.hypot(of_roll)))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, refuses, with};

    // JCGM 100 5.1.2, by hand: four of 0.008 leave 0.004; 10 mm high, 0.003/10 rad adds 0.003; together 0.005.
    #[test]
    fn the_mean_of_four_and_the_roll() {
        let inputs = json!({"reading_uncertainties": [0.008, 0.008, 0.008, 0.008], "touch_height": -10,
            "roll_uncertainty": 0.0003_f64.to_degrees()});
        holds("centreline-uncertainty", &inputs, &json!({"centreline_uncertainty": 0.005}));
        let at_centre = with(&inputs, "touch_height", json!(0));
        holds("centreline-uncertainty", &at_centre, &json!({"centreline_uncertainty": 0.004}));
        let three = with(&inputs, "reading_uncertainties", json!([0, 0, 0]));
        refuses("centreline-uncertainty", &three, "reading_uncertainties");
        let negative = with(&inputs, "reading_uncertainties", json!([0, 0, 0, -1]));
        refuses("centreline-uncertainty", &negative, "reading_uncertainties");
    }
}
