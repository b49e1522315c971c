//! How well must the pads be trammed so that the feature stays in its position zone with 95 % when the pick-ups
//! already use part of it?

use std::f64::consts::FRAC_PI_2;

use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "tram-tolerance",
    version: 1,
    topic: "tram",
    question: "How well must the pads be trammed so that the feature stays in its position zone with 95 % when the \
         pick-ups already use part of it?",
    formula: "budget_uncertainty = position_zone/2/radius_factor; tram_uncertainty = sqrt(budget_uncertainty^2 - \
         sum u^2); angle_uncertainty = tram_uncertainty/feature_radius in radians; angle_half_width = \
         sqrt(3)*angle_uncertainty; pad_difference_limit = pad_span tan(angle_half_width)",
    inputs: &[
        Input::quantity("position_zone", "mm", "DIAMETER of the position zone").above(0.0),
        Input::quantity("feature_radius", "mm", "radius of the feature from the rotary centreline").above(0.0),
        Input::quantities("other_uncertainties", "mm", "standard uncertainties of everything else across the feature")
            .at_least(0.0),
        Input::quantity("pad_span", "mm", "distance between the pads").above(0.0),
        Input::quantity(
            "radius_factor",
            "1",
            "radius that holds 95 % of an equal two-way normal spread, in standard deviations; left out: sqrt(-2 ln \
             0.05)",
        )
        .above(0.0)
        .may_be_left_out(),
    ],
    outputs: &[
        Output::quantity("budget_uncertainty", "mm", "standard uncertainty allowed per direction"),
        Output::quantity("tram_uncertainty", "mm", "share left for the tram"),
        Output::quantity("angle_uncertainty", "deg", "same as an angle"),
        Output::quantity("angle_half_width", "deg", "half width of the bounded angle"),
        Output::quantity("pad_difference_limit", "mm", "largest pad difference that passes"),
    ],
    refusals: &[
        Refusal::of("other_uncertainties", "they use up the whole budget: no tram tolerance exists"),
        Refusal::of("position_zone", "so wide for the radius that angle_half_width would reach 90 deg"),
    ],
    usual_mistake: "the zone is a diameter: half of it is the radius, and a 95 % radius takes 2.45 standard \
         deviations, not 2",
    validity: "independent normal parts, equal in both directions",
    source: "JCGM 100 combination; 95 % radius of a circular normal",
    example: r#"{
            "position_zone": 0.05, "feature_radius": 24.0, "other_uncertainties": [0.0035, 0.003, 0.0025, 0.002],
            "pad_span": 70.0
        }"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let radius_factor = given.optional_number("radius_factor")?.unwrap_or_else(|| (-2.0 * 0.05_f64.ln()).sqrt());
    let budget_uncertainty = given.number("position_zone")? / 2.0 / radius_factor;
    let used: f64 =
        given.numbers("other_uncertainties")?.iter().map(|other| (other / budget_uncertainty).powi(2)).sum();
    if used >= 1.0 {
        let reason =
            "other_uncertainties use up the whole zone: no tram is good enough, so improve the pick-ups first.";
        return Err(Refused::new("other_uncertainties", reason));
    }
    let tram_uncertainty = budget_uncertainty * (1.0 - used).sqrt();
    let angle_uncertainty = tram_uncertainty / given.number("feature_radius")?;
    let angle_half_width = 3.0_f64.sqrt() * angle_uncertainty;
    if angle_half_width >= FRAC_PI_2 {
        let reason = "position_zone is so wide for this radius that every tram would pass: look at both numbers.";
        return Err(Refused::new("position_zone", reason));
    }
    Ok(Answer::new()
        .with("budget_uncertainty", budget_uncertainty)
        .with("tram_uncertainty", tram_uncertainty)
        .with("angle_uncertainty", angle_uncertainty.to_degrees())
        .with("angle_half_width", angle_half_width.to_degrees())
        .with("pad_difference_limit", given.number("pad_span")? * angle_half_width.tan()))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, near, refuses, with};

    // Worked case tram_tolerance_from_budget of the project's own set of cases.
    #[test]
    fn the_pick_ups_leave_a_share_for_the_tram() {
        let inputs = json!({"position_zone": 0.05, "feature_radius": 24.0,
            "other_uncertainties": [0.0035, 0.003, 0.0025, 0.002], "pad_span": 70.0});
        let expected = json!({"budget_uncertainty": 0.010_213_474_566_340_874,
            "tram_uncertainty": 0.008_533_174_246_275_057, "angle_uncertainty": 0.020_371_452_923_387_004,
            "angle_half_width": 0.035_284_391_487_303_83, "pad_difference_limit": 0.043_108_021_870_630_175});
        holds("tram-tolerance", &inputs, &expected);
    }

    // Statistics: the radius that holds 95 % of a two-way normal spread is sqrt(-2 ln 0.05) = 2.447747 deviations.
    #[test]
    fn the_factor_is_that_of_a_circle_and_not_two() {
        let inputs = json!({"position_zone": 2.0, "feature_radius": 24.0, "other_uncertainties": [], "pad_span": 70.0});
        near("tram-tolerance", &inputs, "budget_uncertainty", 1.0 / 2.447_747, 5e-8);
        let by_two = with(&inputs, "radius_factor", json!(2));
        holds("tram-tolerance", &by_two, &json!({"budget_uncertainty": 0.5, "tram_uncertainty": 0.5}));
    }

    #[test]
    fn a_used_up_zone_and_an_endless_one_are_refused() {
        let inputs = json!({"position_zone": 0.04, "feature_radius": 24.0, "other_uncertainties": [0.006, 0.008],
            "pad_span": 70.0, "radius_factor": 2});
        refuses("tram-tolerance", &inputs, "other_uncertainties");
        refuses("tram-tolerance", &with(&inputs, "other_uncertainties", json!([-0.001])), "other_uncertainties");
        refuses("tram-tolerance", &with(&inputs, "other_uncertainties", json!(0.001)), "other_uncertainties");
        refuses("tram-tolerance", &with(&inputs, "position_zone", json!(100)), "position_zone");
        refuses("tram-tolerance", &with(&inputs, "radius_factor", json!("2 mm")), "radius_factor");
    }
}
