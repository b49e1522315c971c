//! How far does a cutter wrap into a bore wall, and which feed gives the same chip as on a straight wall?

use std::f64::consts::FRAC_PI_2;

use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "bore-engagement",
    version: 1,
    topic: "bore",
    question: "How far does a cutter wrap into a bore wall, and which feed gives the same chip as on a straight wall?",
    formula: "a = (bore_after-cutter)/2, r = cutter/2, R0 = bore_before/2: engagement_angle = \
         acos((R0^2-a^2-r^2)/(2 a r)); straight_wall_angle = acos(1-2 radial_stock/cutter); effective_engagement = \
         (bore_after^2-bore_before^2)/(4 (bore_after-cutter)); feed_factor k = (bore_after-cutter)/bore_after; chip \
         = feed_per_tooth sin(min(angle, 90 deg)), on the straight wall, in the bore with the feed not reduced, and \
         with it times k; equal_chip_factor = straight over not reduced; root_factor = sqrt(k)",
    inputs: &[
        Input::quantity("bore_before", "mm", "bore before the pass").above(0.0),
        Input::quantity("bore_after", "mm", "bore after the pass").above(0.0),
        Input::quantity("cutter_diameter", "mm", "cutter").above(0.0),
        Input::quantity("feed_per_tooth", "mm", "feed per tooth on a straight wall").above(0.0),
    ],
    outputs: &[
        Output::quantity("radial_stock", "mm", "stock per side"),
        Output::quantity("effective_engagement", "mm", "width of a straight cut with the same chip area"),
        Output::quantity("engagement_angle", "deg", "angle over which a tooth cuts in the bore"),
        Output::quantity("straight_wall_angle", "deg", "same on a straight wall"),
        Output::quantity("feed_factor", "1", "factor that keeps the WALL feed"),
        Output::quantity("chip_straight", "mm", "largest chip on a straight wall"),
        Output::quantity("chip_full_correction", "mm", "largest chip in the bore with the feed times feed_factor"),
        Output::quantity("chip_no_correction", "mm", "largest chip in the bore with the feed as it is"),
        Output::quantity("equal_chip_factor", "1", "factor that keeps the CHIP"),
        Output::quantity("root_factor", "1", "square root of feed_factor, the rule of thumb for it"),
    ],
    refusals: &[
        Refusal::of(
            "bore_after",
            "not greater than bore_before, or so much greater that the cutter cannot take it in one pass \
             (bore_before/2 less than (bore_after-cutter)/2 - cutter/2)",
        ),
        Refusal::of("cutter_diameter", "as large as bore_before or larger"),
    ],
    usual_mistake: "keeping the wall feed THINS the chip: in work-hardening stainless check it against the smallest \
         chip",
    validity: "thin pass, full circles",
    source: "cosine law and area balance",
    example: r#"{"bore_before": 7.8, "bore_after": 8, "cutter_diameter": 6, "feed_per_tooth": 0.02}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let (before, after) = (given.number("bore_before")?, given.number("bore_after")?);
    let (cutter, feed) = (given.number("cutter_diameter")?, given.number("feed_per_tooth")?);
    if cutter >= before {
        return Err(Refused::new("cutter_diameter", "The cutter does not go into the bore as it is."));
    }
    let (path, radius, wall) = ((after - cutter) / 2.0, cutter / 2.0, before / 2.0);
    if after <= before || wall < path - radius {
        return Err(Refused::new(
            "bore_after",
            "The bore does not grow, or grows by more than the cutter takes in one pass.",
        ));
    }
    let stock = (after - before) / 2.0;
    let angle = between(((wall - radius) * (wall + radius) - path * path) / (2.0 * path * radius)).acos();
    let straight_angle = between(1.0 - 2.0 * stock / cutter).acos();
    let factor = (after - cutter) / after;
    let chip = |angle: f64| feed * angle.min(FRAC_PI_2).sin();
    Ok(Answer::new()
        .with("radial_stock", stock)
        .with("effective_engagement", (after - before) * (after + before) / (4.0 * (after - cutter)))
        .with("engagement_angle", angle.to_degrees())
        .with("straight_wall_angle", straight_angle.to_degrees())
        .with("feed_factor", factor)
        .with("chip_straight", chip(straight_angle))
        .with("chip_full_correction", factor * chip(angle))
        .with("chip_no_correction", chip(angle))
        .with("equal_chip_factor", chip(straight_angle) / chip(angle))
        .with("root_factor", factor.sqrt()))
}

fn between(cosine: f64) -> f64 {
    cosine.clamp(-1.0, 1.0)
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, near, refuses, with};

    // The project's own derivation D24: 7.8 to 8.0 with a 6 mm cutter, k = 0.25, root 0.5, straight chip 0.0077 of 0.03.
    #[test]
    fn a_concave_wall_wraps_round_the_cutter() {
        let inputs = json!({"bore_before": 7.8, "bore_after": 8, "cutter_diameter": 6, "feed_per_tooth": 0.03});
        holds("bore-engagement", &inputs, &json!({"feed_factor": 0.25, "root_factor": 0.5, "radial_stock": 0.1}));
        near("bore-engagement", &inputs, "chip_straight", 0.0077, 0.000_05);
        near("bore-engagement", &inputs, "chip_full_correction", 0.0037, 0.000_05);
        refuses("bore-engagement", &with(&inputs, "bore_after", json!(7.8)), "bore_after");
        refuses("bore-engagement", &with(&inputs, "cutter_diameter", json!(7.8)), "cutter_diameter");
        refuses("bore-engagement", &with(&inputs, "bore_after", json!(30)), "bore_after");
    }
}
