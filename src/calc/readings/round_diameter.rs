//! What diameter do touches round a bore or boss give, and which slip of the tip radius explains a wrong one?

use crate::calc::limits;
use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "round-diameter",
    version: 1,
    topic: "metrology",
    question: "What diameter do touches round a bore or boss give, and which slip of the tip radius explains a wrong one?",
    formula: "diameter = fitted_diameter + 2 tip_radius in a bore, - 2 tip_radius on a boss; diameter_error = diameter - \
         known_diameter, its sign turned in a bore for what follows; likely_mistake: within match_within of 0 -> as-known, \
         else the nearest within match_within of -tip_radius -> diameter-for-radius, -2 tip_radius -> radius-sign, \
         +2 tip_radius -> half-radius; else unexplained",
    inputs: &[
        Input::quantity("fitted_diameter", "mm", "diameter of the circle through the spindle positions").above(0.0),
        Input::quantity("tip_radius", "mm", "radius of the tip as it was entered").above(0.0),
        Input::word("touched", &["bore", "boss"], "from inside a bore or from outside a boss"),
        Input::quantity("known_diameter", "mm", "diameter measured beforehand").above(0.0),
        Input::quantity("match_within", "mm", "how close is close").above(0.0),
    ],
    outputs: &[
        Output::quantity("diameter", "mm", "diameter by the touches"),
        Output::quantity("diameter_error", "mm", "that minus the known diameter"),
        Output::word(
            "likely_mistake",
            &["as-known", "diameter-for-radius", "radius-sign", "half-radius", "unexplained"],
            "what explains the error, as in measured-width",
        ),
    ],
    refusals: &[],
    usual_mistake: "a wrong radius leaves the centre right, so only the diameter betrays it",
    validity: "spherical or round tip, touches all round",
    source: "common practice",
    example: r#"{"fitted_diameter": 14.003, "tip_radius": 3, "touched": "bore", "known_diameter": 20, "match_within": 0.01}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let (radius, within) = (given.number("tip_radius")?, given.number("match_within")?);
    let side = if given.word("touched")? == "bore" { 1.0 } else { -1.0 };
    let (fitted, known) = (given.number("fitted_diameter")?, given.number("known_diameter")?);
    let diameter = fitted + side * 2.0 * radius;
    let error = diameter - known;
    let largest = limits::largest(&[fitted, radius, known]);
    let seen = -side * error;
    let mistakes = [
        ("as-known", 0.0),
        ("diameter-for-radius", -radius),
        ("radius-sign", -2.0 * radius),
        ("half-radius", 2.0 * radius),
    ];
    let likely = mistakes.into_iter().map(|(mistake, leaves)| (mistake, (seen - leaves).abs()));
    let likely = likely.filter(|(_, apart)| limits::difference_within(*apart, within, largest));
    let likely = likely.min_by(|(_, apart), (_, other)| apart.total_cmp(other)).map_or("unexplained", |(name, _)| name);
    Ok(Answer::new().with("diameter", diameter).with("diameter_error", error).with("likely_mistake", likely))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, refuses, with};

    // Geometry: a tip of true radius 3 runs round a bore of 20 on a circle of 14, and round a boss of 20 on one of 26.
    #[test]
    fn each_slip_of_the_radius_is_named() {
        for (touched, fitted, plain) in [("bore", 14.0, 20.0), ("boss", 26.0, 20.0)] {
            for (fitted, entered, mistake) in [
                (fitted, 3.0, "as-known"),
                (fitted, 6.0, "diameter-for-radius"),
                (plain, 3.0, "radius-sign"),
                (fitted, 1.5, "half-radius"),
                (fitted + 1.0, 3.0, "unexplained"),
            ] {
                let inputs = json!({"fitted_diameter": fitted, "tip_radius": entered, "touched": touched,
                    "known_diameter": 20, "match_within": 0.05});
                holds("round-diameter", &inputs, &json!({"likely_mistake": mistake}));
            }
        }
        let inputs = json!({"fitted_diameter": 14, "tip_radius": 3, "touched": "bore", "known_diameter": 19.99,
            "match_within": 0.005});
        holds("round-diameter", &inputs, &json!({"diameter": 20.0, "diameter_error": 0.01}));
        refuses("round-diameter", &with(&inputs, "tip_radius", json!(0)), "tip_radius");
    }
}
