//! Which centre feed and ramp belong to a wall feed when a bore is milled in a helix?

use std::f64::consts::PI;

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
    let (bore, cutter) = (given.number("bore_diameter")?, given.number("cutter_diameter")?);
    if cutter >= bore {
        return Err(Refused::new("cutter_diameter", "The cutter fills the bore: it cannot circle in it."));
    }
    let factor = (bore - cutter) / bore;
    let (circle, pitch) = (PI * (bore - cutter), given.number("pitch")?);
    Ok(Answer::new()
        .with("feed_factor", factor)
        .with("centre_feed", given.number("wall_feed")? * factor)
        .with("ramp_angle", pitch.atan2(circle).to_degrees())
        .with("path_per_turn", circle.hypot(pitch)))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, refuses, with};

    // The project's own worked case.
    #[test]
    fn the_centre_goes_slower_than_the_wall() {
        let inputs = json!({"bore_diameter": 10, "cutter_diameter": 6, "wall_feed": 180, "pitch": 0.4});
        let expected = json!({"feed_factor": 0.4, "centre_feed": 72.0, "ramp_angle": 1.823_165_720_814_139, "path_per_turn": 12.572_735_200_322_55});
        holds("helical-feed", &inputs, &expected);
        refuses("helical-feed", &with(&inputs, "cutter_diameter", json!(10)), "cutter_diameter");
    }
}
