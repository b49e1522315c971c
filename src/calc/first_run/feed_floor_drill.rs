//! How far may the feed dial be turned down before a drill only rubs?

use super::feed_floor;
use crate::calc::degrees;
use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "feed-floor-drill",
    version: 1,
    topic: "first-run",
    question: "How far may the feed dial be turned down before a drill only rubs?",
    formula: "chip_thickness = feed_per_rev/2 sin(point_angle/2); minimum_chip = minimum_chip_ratio*edge_radius; \
         feed_floor = 100 chip_margin minimum_chip/chip_thickness; programmed_feed_rubs = feed_floor > 100",
    inputs: &[
        Input::quantity("feed_per_rev", "mm/rev", "programmed feed of a two-lip drill").above(0.0),
        Input::quantity("point_angle", "deg", "full point angle").above(0.0).at_most(180.0),
        Input::quantity("edge_radius", "um", "radius of the cutting edge").above(0.0),
        Input::quantity("minimum_chip_ratio", "1", "smallest chip that cuts, as a share of the edge radius").above(0.0),
        Input::quantity("chip_margin", "1", "safety margin on the minimum chip").at_least(1.0).or(2.0),
    ],
    outputs: &[
        Output::quantity("chip_thickness", "mm", "chip thickness per lip"),
        Output::quantity("minimum_chip", "mm", "smallest chip that still cuts"),
        Output::quantity("feed_floor", "%", "lowest feed setting"),
        Output::flag("programmed_feed_rubs", "true when even 100 % is below the floor: change the feed, not the dial"),
    ],
    refusals: &[],
    usual_mistake: "slowing down 'to be safe' work-hardens stainless",
    validity: "two lips; the ratio is a handbook-type figure",
    source: "chip geometry",
    example: r#"{
            "feed_per_rev": 0.06, "point_angle": 140.0, "edge_radius": 20.0, "minimum_chip_ratio": 0.4,
            "chip_margin": 2.0
        }"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let (half_angle_sine, _) = degrees::sine_and_cosine(given.number("point_angle")? / 2.0);
    let chip_thickness = given.number("feed_per_rev")? / 2.0 * half_angle_sine;
    feed_floor::add(Answer::new().with("chip_thickness", chip_thickness), given, chip_thickness)
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, refuses, with};

    // Worked case min_override_drill of the project's own set of cases.
    #[test]
    fn a_small_drill_may_not_be_slowed_by_half() {
        let inputs = json!({"feed_per_rev": 0.06, "point_angle": 140, "edge_radius": 20, "minimum_chip_ratio": 0.4});
        let expected = json!({"chip_thickness": 0.028_190_778_623_577_25, "minimum_chip": 0.008,
            "feed_floor": 56.756_147_865_381_99, "programmed_feed_rubs": false});
        holds("feed-floor-drill", &inputs, &expected);
    }

    // By hand: a flat drill has chips of half the feed; twice 0.3*10 um against 6 um is exactly on the margin.
    #[test]
    fn a_floor_of_exactly_100_does_not_rub_and_one_above_does() {
        let inputs = json!({"feed_per_rev": 0.012, "point_angle": 180, "edge_radius": 10, "minimum_chip_ratio": 0.3});
        let expected = json!({"chip_thickness": 0.006, "minimum_chip": 0.003, "feed_floor": 100.0,
            "programmed_feed_rubs": false});
        holds("feed-floor-drill", &inputs, &expected);
        let finer = with(&inputs, "feed_per_rev", json!(0.0119));
        holds("feed-floor-drill", &finer, &json!({"programmed_feed_rubs": true}));
        let no_margin = with(&finer, "chip_margin", json!(1));
        holds("feed-floor-drill", &no_margin, &json!({"programmed_feed_rubs": false}));
    }

    #[test]
    fn values_outside_their_limits_are_refused() {
        let inputs = json!({"feed_per_rev": 0.06, "point_angle": 140, "edge_radius": 20, "minimum_chip_ratio": 0.4});
        refuses("feed-floor-drill", &with(&inputs, "point_angle", json!(180.1)), "point_angle");
        refuses("feed-floor-drill", &with(&inputs, "point_angle", json!(0)), "point_angle");
        refuses("feed-floor-drill", &with(&inputs, "chip_margin", json!(0.99)), "chip_margin");
        refuses("feed-floor-drill", &with(&inputs, "edge_radius", json!(0)), "edge_radius");
        refuses("feed-floor-drill", &with(&inputs, "feed_per_rev", json!("0.06 mm")), "feed_per_rev");
        refuses("feed-floor-drill", &with(&inputs, "feed_per_rev", json!(5e-324)), "inputs");
    }
}
