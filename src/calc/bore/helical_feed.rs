//! Which centre feed and ramp belong to a wall feed when a bore is milled in a helix?

use std::f64::consts::PI;

use crate::calc::limits;
use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "helical-feed",
    version: 1,
    topic: "bore",
    question: "Which centre feed and ramp belong to a wall feed when a bore is milled in a helix?",
    formula: "feed_factor = (bore_diameter - cutter_diameter)/bore_diameter; centre_feed = wall_feed*feed_factor; \
         ramp_angle = atan(pitch/(pi (bore_diameter-cutter_diameter))); path_per_turn = sqrt((pi \
         (bore_diameter-cutter_diameter))^2 + pitch^2)",
    inputs: &[
        Input::quantity("bore_diameter", "mm", "bore").above(0.0),
        Input::quantity("cutter_diameter", "mm", "cutter").above(0.0),
        Input::quantity("wall_feed", "mm/min", "feed at the wall").above(0.0),
        Input::quantity("pitch", "mm", "depth per turn").at_least(0.0),
    ],
    outputs: &[
        Output::quantity("feed_factor", "1", "centre feed over wall feed"),
        Output::quantity("centre_feed", "mm/min", "feed to program"),
        Output::quantity("ramp_angle", "deg", "ramp of the centre path"),
        Output::quantity("path_per_turn", "mm", "length of the centre path per turn"),
    ],
    refusals: &[Refusal::of("cutter_diameter", "as large as the bore or larger")],
    usual_mistake: "programming the wall feed: the wall then runs far faster",
    validity: "full circles",
    source: "geometry",
    example: r#"{"bore_diameter": 10.0, "cutter_diameter": 6.0, "wall_feed": 180.0, "pitch": 0.4}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let bore_diameter = given.number("bore_diameter")?;
    let cutter_diameter = given.number("cutter_diameter")?;
    if limits::within(bore_diameter, cutter_diameter) {
        let reason = "cutter_diameter must be smaller than the bore: the cutter has no path inside it.";
        return Err(Refused::new("cutter_diameter", reason));
    }
    let path_diameter = bore_diameter - cutter_diameter;
    let feed_factor = path_diameter / bore_diameter;
    let pitch = given.number("pitch")?;
    let circle = PI * path_diameter;
    Ok(Answer::new()
        .with("feed_factor", feed_factor)
        .with("centre_feed", given.number("wall_feed")? * feed_factor)
        .with("ramp_angle", pitch.atan2(circle).to_degrees())
        .with("path_per_turn", circle.hypot(pitch)))
}

#[cfg(test)]
mod tests {
    use std::f64::consts::PI;

    use serde_json::json;

    use crate::calc::check::{holds, refuses, with};

    // Worked case helical_feed of the project's own set of cases.
    #[test]
    fn the_centre_goes_slower_than_the_wall() {
        let inputs = json!({"bore_diameter": 10, "cutter_diameter": 6, "wall_feed": 180, "pitch": 0.4});
        let expected = json!({"feed_factor": 0.4, "centre_feed": 72.0, "ramp_angle": 1.823_165_720_814_138_7,
            "path_per_turn": 12.572_735_200_322_551});
        holds("helical-feed", &inputs, &expected);
    }

    // Geometry of one angular rate: 400 mm/min at a 20 mm wall is 160 at the centre of a 12 mm cutter. By hand: flat
    // circles have no ramp, and a pitch as long as the circle ramps at 45 degrees.
    #[test]
    fn circles_are_a_helix_without_pitch() {
        let inputs = json!({"bore_diameter": 20, "cutter_diameter": 12, "wall_feed": 400, "pitch": 0});
        let expected = json!({"centre_feed": 160.0, "ramp_angle": 0.0, "path_per_turn": 8.0 * PI});
        holds("helical-feed", &inputs, &expected);
        let steep = with(&inputs, "pitch", json!(8.0 * PI));
        holds("helical-feed", &steep, &json!({"ramp_angle": 45.0, "path_per_turn": 8.0 * PI * 2.0_f64.sqrt()}));
    }

    #[test]
    fn a_cutter_that_fills_the_bore_is_refused() {
        let inputs = json!({"bore_diameter": 7.62, "cutter_diameter": "0.3 in", "wall_feed": 180, "pitch": 0.4});
        refuses("helical-feed", &inputs, "cutter_diameter");
        refuses("helical-feed", &with(&inputs, "cutter_diameter", json!(8)), "cutter_diameter");
        refuses("helical-feed", &with(&inputs, "pitch", json!(-0.4)), "pitch");
        refuses("helical-feed", &with(&inputs, "wall_feed", json!(0)), "wall_feed");
        let huge = with(&with(&inputs, "bore_diameter", json!(1e200)), "pitch", json!(1e200));
        holds("helical-feed", &huge, &json!({"path_per_turn": 1e200 * PI.hypot(1.0)}));
    }
}
