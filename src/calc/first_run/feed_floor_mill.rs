//! How thick is the chip of a light side cut, and how far may the feed dial be turned down?

use std::f64::consts::FRAC_PI_2;

use crate::calc::limits;
use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "feed-floor-mill",
    version: 1,
    topic: "first-run",
    question: "How thick is the chip of a light side cut, and how far may the feed dial be turned down?",
    formula: "engagement_angle = acos(1 - 2 radial_engagement/cutter_diameter); largest_chip = feed_per_tooth \
         sin(min(engagement_angle, 90 deg)); mean_chip = feed_per_tooth (2 \
         radial_engagement/cutter_diameter)/engagement_angle in radians; minimum_chip = \
         minimum_chip_ratio*edge_radius; feed_floor = 100 chip_margin minimum_chip/largest_chip; \
         programmed_feed_rubs = feed_floor > 100",
    inputs: &[
        Input::quantity("cutter_diameter", "mm", "diameter of the cutter").above(0.0),
        Input::quantity("radial_engagement", "mm", "width of cut").above(0.0),
        Input::quantity("feed_per_tooth", "mm", "feed per tooth").above(0.0),
        Input::quantity("edge_radius", "um", "radius of the cutting edge").above(0.0),
        Input::quantity("minimum_chip_ratio", "1", "smallest chip that cuts, as a share of the edge radius").above(0.0),
        Input::quantity("chip_margin", "1", "safety margin on the minimum chip").at_least(1.0).or(2.0),
    ],
    outputs: &[
        Output::quantity("engagement_angle", "deg", "angle over which a tooth cuts"),
        Output::quantity("largest_chip", "mm", "largest chip thickness"),
        Output::quantity("mean_chip", "mm", "mean chip thickness"),
        Output::quantity("minimum_chip", "mm", "smallest chip that still cuts"),
        Output::quantity("feed_floor", "%", "lowest feed setting"),
        Output::flag("programmed_feed_rubs", "true when even 100 % is below the floor"),
    ],
    refusals: &[Refusal::of("radial_engagement", "greater than the cutter diameter")],
    usual_mistake: "the feed per tooth is not the chip: in a light cut the chip is much thinner",
    validity: "straight wall",
    source: "chip geometry",
    example: r#"{
            "cutter_diameter": 6, "radial_engagement": 0.1, "feed_per_tooth": 0.03, "edge_radius": 10,
            "minimum_chip_ratio": 0.3
        }"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let (diameter, engagement) = (given.number("cutter_diameter")?, given.number("radial_engagement")?);
    if !limits::within(engagement, diameter) {
        return Err(Refused::new("radial_engagement", "The cutter cannot engage more than its own diameter."));
    }
    let share = (2.0 * engagement / diameter).min(2.0);
    let angle = (1.0 - share).acos();
    let feed = given.number("feed_per_tooth")?;
    let largest = feed * angle.min(FRAC_PI_2).sin();
    let minimum = given.number("minimum_chip_ratio")? * given.number("edge_radius")? / 1000.0;
    let floor = 100.0 * given.number("chip_margin")? * minimum / largest;
    Ok(Answer::new()
        .with("engagement_angle", angle.to_degrees())
        .with("largest_chip", largest)
        .with("mean_chip", feed * share / angle)
        .with("minimum_chip", minimum)
        .with("feed_floor", floor)
        .with("programmed_feed_rubs", floor > 100.0 + 1e-10))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, near, refuses, with};

    // Chip geometry: at half the diameter the chip is as thick as the feed; below it is thinner (chip thinning).
    #[test]
    fn a_narrow_cut_makes_a_thin_chip() {
        let inputs = json!({"cutter_diameter": 6, "radial_engagement": 3, "feed_per_tooth": 0.02, "edge_radius": 10, "minimum_chip_ratio": 0.3});
        holds("feed-floor-mill", &inputs, &json!({"engagement_angle": 90.0, "largest_chip": 0.02, "feed_floor": 30.0}));
        let narrow = with(&inputs, "radial_engagement", json!(0.3));
        near("feed-floor-mill", &narrow, "largest_chip", 0.008_717_797_887, 1e-12);
        refuses("feed-floor-mill", &with(&inputs, "radial_engagement", json!(6.1)), "radial_engagement");
    }
}
