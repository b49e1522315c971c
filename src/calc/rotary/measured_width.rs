//! How wide is the fixture by its two touches, and which slip explains it when that is wrong?

use crate::calc::limits;
use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "measured-width",
    version: 1,
    topic: "rotary",
    question: "How wide is the fixture by its two side touches, and which slip of the tip radius explains a wrong \
         width?",
    formula: "width = back_reading - front_reading - 2 tip_radius; width_error = width - known_width; likely_mistake: \
         width_error within match_within of 0 -> as-known, else the nearest within match_within of -tip_radius -> \
         diameter-for-radius, -2 tip_radius -> radius-sign, +2 tip_radius -> half-radius; else unexplained",
    inputs: &[
        Input::quantity("front_reading", "mm", "spindle position at the touch on the front (-Y) face"),
        Input::quantity("back_reading", "mm", "spindle position at the touch on the back (+Y) face"),
        Input::quantity("tip_radius", "mm", "radius of the tip as it was entered").above(0.0),
        Input::quantity("known_width", "mm", "width of the fixture, measured beforehand").above(0.0),
        Input::quantity("match_within", "mm", "how close is close").above(0.0),
    ],
    outputs: &[
        Output::quantity("width", "mm", "width by the two touches"),
        Output::quantity("width_error", "mm", "that minus the known width"),
        Output::word(
            "likely_mistake",
            &["as-known", "diameter-for-radius", "radius-sign", "half-radius", "unexplained"],
            "what explains the error: none, the tip's diameter entered for its radius, the radius already taken off the \
             readings, or half the radius entered",
        ),
    ],
    refusals: &[],
    usual_mistake: "a wrong radius leaves the midpoint right, so only the width betrays it",
    validity: "tip outside both faces, touched at one height",
    source: "common practice",
    example: r#"{
            "front_reading": -235.374, "back_reading": -139.372, "tip_radius": 3.0, "known_width": 90.001,
            "match_within": 0.01
        }"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let tip_radius = given.number("tip_radius")?;
    let (back, front, known) =
        (given.number("back_reading")?, given.number("front_reading")?, given.number("known_width")?);
    let width = back - front - 2.0 * tip_radius;
    let width_error = width - known;
    let match_within = given.number("match_within")? + limits::noise_of(limits::largest(&[back, front, known]));
    let mistake = likely_mistake(width_error, tip_radius, match_within);
    Ok(Answer::new().with("width", width).with("width_error", width_error).with("likely_mistake", mistake))
}

fn likely_mistake(width_error: f64, tip_radius: f64, match_within: f64) -> &'static str {
    if limits::within(width_error.abs(), match_within) {
        return "as-known";
    }
    [("diameter-for-radius", -tip_radius), ("radius-sign", -2.0 * tip_radius), ("half-radius", 2.0 * tip_radius)]
        .into_iter()
        .map(|(mistake, leaves)| (mistake, (width_error - leaves).abs()))
        .filter(|(_, apart)| limits::within(*apart, match_within))
        .min_by(|(_, apart), (_, other)| apart.total_cmp(other))
        .map_or("unexplained", |(mistake, _)| mistake)
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, near, refuses, with};

    // The project's worked job of a flow-sensor body: faces at -235.374 and -139.372 with a 3 mm tip are 90.002 apart.
    #[test]
    fn the_radius_is_taken_off_twice() {
        let inputs = json!({"front_reading": -235.374, "back_reading": -139.372, "tip_radius": 3,
            "known_width": 90.001, "match_within": 0.01});
        holds("measured-width", &inputs, &json!({"width": 90.002, "likely_mistake": "as-known"}));
        near("measured-width", &inputs, "width_error", 0.001, 1e-11);
        refuses("measured-width", &with(&inputs, "tip_radius", json!(0)), "tip_radius");
    }

    // Geometry: a tip of true radius 4 on faces 50 apart reads 58 between the touches, or 50 with the radius taken off.
    #[test]
    fn each_slip_of_the_radius_is_named() {
        for (between, entered, mistake) in [
            (58.0, 4.0, "as-known"),
            (58.0, 8.0, "diameter-for-radius"),
            (50.0, 4.0, "radius-sign"),
            (58.0, 2.0, "half-radius"),
            (55.0, 4.0, "unexplained"),
        ] {
            let inputs = json!({"front_reading": -1000, "back_reading": -1000.0 + between, "tip_radius": entered,
                "known_width": 50, "match_within": 0.05});
            holds("measured-width", &inputs, &json!({"likely_mistake": mistake}));
        }
    }
}
