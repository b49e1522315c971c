//! How thick is the chip of a light side cut, and how far may the feed dial be turned down?

use super::feed_floor;
use crate::calc::cutting::tooth_engagement;
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
    let cutter_diameter = given.number("cutter_diameter")?;
    let radial_engagement = given.number("radial_engagement")?;
    if !limits::within(radial_engagement, cutter_diameter) {
        let reason = "radial_engagement must not be greater than cutter_diameter: a slot is the widest cut there is.";
        return Err(Refused::new("radial_engagement", reason));
    }
    let feed_per_tooth = given.number("feed_per_tooth")?;
    let cut_share = (radial_engagement / cutter_diameter).min(1.0);
    let engagement_angle = tooth_engagement::angle(cut_share);
    let largest_chip = feed_per_tooth * tooth_engagement::largest_chip(cut_share);
    let answer = Answer::new()
        .with("engagement_angle", engagement_angle.to_degrees())
        .with("largest_chip", largest_chip)
        .with("mean_chip", feed_per_tooth * (2.0 * cut_share / engagement_angle));
    feed_floor::add(answer, given, largest_chip)
}

#[cfg(test)]
mod tests {
    use std::f64::consts::PI;

    use serde_json::json;

    use crate::calc::check::{holds, near, refuses, with};

    // Angle and chips worked with 40 digits by an arbitrary-precision program; 2*3 um against the largest chip.
    #[test]
    fn a_finishing_cut_has_a_quarter_of_the_feed_as_chip() {
        let inputs = json!({"cutter_diameter": 6, "radial_engagement": 0.1, "feed_per_tooth": 0.03, "edge_radius": 10,
            "minimum_chip_ratio": 0.3});
        let expected = json!({"engagement_angle": 14.835_111_581_975_733, "largest_chip": 0.007_681_145_747_868_608,
            "mean_chip": 0.003_862_173_816_251_923, "minimum_chip": 0.003,
            "feed_floor": 0.6 / 0.007_681_145_747_868_608, "programmed_feed_rubs": false});
        holds("feed-floor-mill", &inputs, &expected);
        let rubbing = with(&inputs, "radial_engagement", json!(0.05));
        holds("feed-floor-mill", &rubbing, &json!({"programmed_feed_rubs": true}));
    }

    // Geometry of a straight tooth: mean chips over feed per tooth for three widths of cut.
    #[test]
    fn mean_chips_follow_the_width_of_cut() {
        let inputs = json!({"cutter_diameter": 10, "radial_engagement": 5, "feed_per_tooth": 1, "edge_radius": 10,
            "minimum_chip_ratio": 0.3});
        for (width, mean) in [(2.5, 0.477_464_829_3), (1.0, 0.310_799_775_3), (0.5, 0.221_716_309_1)] {
            near("feed-floor-mill", &with(&inputs, "radial_engagement", json!(width)), "mean_chip", mean, 1e-10);
        }
    }

    // By hand: a slot engages half a turn, its largest chip is the feed and its mean chip 2/pi of it.
    #[test]
    fn a_slot_is_the_widest_cut() {
        let inputs = json!({"cutter_diameter": 6.35, "radial_engagement": "0.25 in", "feed_per_tooth": 0.01,
            "edge_radius": 10, "minimum_chip_ratio": 0.3, "chip_margin": 1});
        let expected = json!({"engagement_angle": 180.0, "largest_chip": 0.01, "mean_chip": 0.02 / PI,
            "feed_floor": 30.0});
        holds("feed-floor-mill", &inputs, &expected);
        refuses("feed-floor-mill", &with(&inputs, "radial_engagement", json!(6.36)), "radial_engagement");
        refuses("feed-floor-mill", &with(&inputs, "radial_engagement", json!(0)), "radial_engagement");
        refuses("feed-floor-mill", &with(&inputs, "chip_margin", json!(0.5)), "chip_margin");
        refuses("feed-floor-mill", &with(&inputs, "radial_engagement", json!(1e-323)), "inputs");
    }

    // Algebra: the chip of a very light cut is 2 sqrt(share) of the feed, its angle 2 sqrt(share), its mean half of it.
    #[test]
    fn a_very_light_cut_loses_no_digits() {
        let inputs = json!({"cutter_diameter": 1, "radial_engagement": 1e-16, "feed_per_tooth": 0.5, "edge_radius": 10,
            "minimum_chip_ratio": 0.3});
        let expected = json!({"engagement_angle": 2e-8_f64.to_degrees(), "largest_chip": 1e-8, "mean_chip": 5e-9});
        holds("feed-floor-mill", &inputs, &expected);
        near("feed-floor-mill", &inputs, "mean_chip", 5e-9, 5e-18);
    }
}
