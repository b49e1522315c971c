//! How far does a cutter wrap into a bore wall, and which feed gives the same chip as on a straight wall?

use crate::calc::cutting::tooth_engagement;
use crate::calc::limits;
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
    let bore_before = given.number("bore_before")?;
    let bore_after = given.number("bore_after")?;
    let cutter_diameter = given.number("cutter_diameter")?;
    check_pass(bore_before, bore_after, cutter_diameter)?;
    let path_diameter = bore_after - cutter_diameter;
    let radial_stock = (bore_after - bore_before) / 2.0;
    let straight_share = radial_stock / cutter_diameter;
    // The cosine law as (1 - cos)/2 = stock/cutter times mean bore/path: a concave wall wraps round the cutter.
    let mean_bore_over_path = f64::midpoint(bore_before, bore_after) / path_diameter;
    let bore_share = straight_share * mean_bore_over_path;
    let feed_factor = path_diameter / bore_after;
    let feed_per_tooth = given.number("feed_per_tooth")?;
    let chip_straight = feed_per_tooth * tooth_engagement::largest_chip(straight_share);
    let chip_no_correction = feed_per_tooth * tooth_engagement::largest_chip(bore_share);
    Ok(Answer::new()
        .with("radial_stock", radial_stock)
        .with("effective_engagement", radial_stock * mean_bore_over_path)
        .with("engagement_angle", tooth_engagement::angle(bore_share).to_degrees())
        .with("straight_wall_angle", tooth_engagement::angle(straight_share).to_degrees())
        .with("feed_factor", feed_factor)
        .with("chip_straight", chip_straight)
        .with("chip_full_correction", chip_no_correction * feed_factor)
        .with("chip_no_correction", chip_no_correction)
        .with("equal_chip_factor", chip_straight / chip_no_correction)
        .with("root_factor", feed_factor.sqrt()))
}

/// Refuses a pass that takes nothing, one that is too deep for the cutter, and a cutter that does not fit in.
fn check_pass(bore_before: f64, bore_after: f64, cutter_diameter: f64) -> Result<(), Refused> {
    if limits::difference_within(bore_after - bore_before, 0.0, bore_after) {
        let reason = "bore_after must be greater than bore_before: this pass takes nothing.";
        return Err(Refused::new("bore_after", reason));
    }
    if !limits::difference_within((bore_after - bore_before) / 2.0, cutter_diameter, bore_after) {
        let reason = "bore_after leaves more stock per side than the cutter is wide: take it in more passes.";
        return Err(Refused::new("bore_after", reason));
    }
    if limits::within(bore_before, cutter_diameter) {
        let reason = "cutter_diameter must be smaller than bore_before: the cutter does not fit in.";
        return Err(Refused::new("cutter_diameter", reason));
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, near, refuses, with};

    // The formulas as they stand, worked with 40 digits by an arbitrary-precision program.
    #[test]
    fn a_concave_wall_wraps_round_the_cutter() {
        let inputs = json!({"bore_before": 7.8, "bore_after": 8, "cutter_diameter": 6, "feed_per_tooth": 0.02});
        let expected = json!({"radial_stock": 0.1, "effective_engagement": 0.395,
            "engagement_angle": 29.734_464_057_983_867, "straight_wall_angle": 14.835_111_581_975_733,
            "feed_factor": 0.25, "chip_straight": 0.005_120_763_831_912_406,
            "chip_full_correction": 0.002_479_905_352_136_56, "chip_no_correction": 0.009_919_621_408_546_24,
            "equal_chip_factor": 0.516_225_732_919_667_3, "root_factor": 0.5});
        holds("bore-engagement", &inputs, &expected);
        // The derivation prints these two for a feed of 0.03 mm.
        let faster = with(&inputs, "feed_per_tooth", json!(0.03));
        near("bore-engagement", &faster, "chip_full_correction", 0.0037, 0.000_05);
        near("bore-engagement", &faster, "chip_straight", 0.0077, 0.000_05);
    }

    // By hand: path radius 3, cutter radius 4 and old wall radius 5 are the triangle 3-4-5.
    #[test]
    fn a_heavy_pass_engages_a_quarter_turn() {
        let inputs = json!({"bore_before": 10, "bore_after": 14, "cutter_diameter": 8, "feed_per_tooth": 0.05});
        let expected = json!({"radial_stock": 2.0, "effective_engagement": 4.0, "engagement_angle": 90.0,
            "straight_wall_angle": 60.0, "feed_factor": 3.0 / 7.0, "chip_straight": 0.05 * 0.75_f64.sqrt(),
            "chip_full_correction": 0.15 / 7.0, "chip_no_correction": 0.05, "equal_chip_factor": 0.75_f64.sqrt(),
            "root_factor": (3.0_f64 / 7.0).sqrt()});
        holds("bore-engagement", &inputs, &expected);
    }

    // By hand: stock as wide as the cutter engages half a turn on both walls.
    #[test]
    fn the_cutter_may_take_its_own_width_and_no_more() {
        let inputs = json!({"bore_before": 10, "bore_after": 20, "cutter_diameter": 5, "feed_per_tooth": 0.05});
        let expected = json!({"engagement_angle": 180.0, "straight_wall_angle": 180.0, "chip_no_correction": 0.05,
            "equal_chip_factor": 1.0});
        holds("bore-engagement", &inputs, &expected);
        refuses("bore-engagement", &with(&inputs, "bore_after", json!(20.001)), "bore_after");
        refuses("bore-engagement", &with(&inputs, "bore_after", json!(10)), "bore_after");
        refuses("bore-engagement", &with(&inputs, "bore_after", json!(9)), "bore_after");
        refuses("bore-engagement", &with(&inputs, "cutter_diameter", json!(10)), "cutter_diameter");
        refuses("bore-engagement", &with(&inputs, "cutter_diameter", json!(12)), "cutter_diameter");
        refuses("bore-engagement", &with(&inputs, "feed_per_tooth", json!(0)), "feed_per_tooth");
    }

    // Algebra: in a huge bore the wall is straight; and a very thin pass keeps its digits.
    #[test]
    fn extreme_passes_stay_exact() {
        let inputs = json!({"bore_before": 1e15, "bore_after": 1_000_000_000_000_002.0_f64, "cutter_diameter": 4,
            "feed_per_tooth": 1});
        let expected = json!({"radial_stock": 1.0, "engagement_angle": 60.0, "straight_wall_angle": 60.0,
            "feed_factor": 1.0, "equal_chip_factor": 1.0});
        holds("bore-engagement", &inputs, &expected);
        let thin = json!({"bore_before": 16, "bore_after": 16.000_000_001, "cutter_diameter": 8, "feed_per_tooth": 1});
        near("bore-engagement", &thin, "equal_chip_factor", 0.5_f64.sqrt(), 1e-9);
    }
}
