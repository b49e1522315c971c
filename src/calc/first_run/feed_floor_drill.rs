//! How far may the feed dial be turned down before a drill only rubs?

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
    let half_point = (given.number("point_angle")? / 2.0).to_radians();
    let chip = given.number("feed_per_rev")? / 2.0 * half_point.sin();
    let minimum = given.number("minimum_chip_ratio")? * given.number("edge_radius")? / 1000.0;
    let floor = 100.0 * given.number("chip_margin")? * minimum / chip;
    Ok(Answer::new()
        .with("chip_thickness", chip)
        .with("minimum_chip", minimum)
        .with("feed_floor", floor)
        .with("programmed_feed_rubs", floor > 100.0 + 1e-10))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, with};

    // The project's own worked case; the ratio of the least chip is a handbook-type figure.
    #[test]
    fn a_three_millimetre_drill_must_not_go_under_57_percent() {
        let inputs = json!({"feed_per_rev": 0.06, "point_angle": 140, "edge_radius": 20, "minimum_chip_ratio": 0.4, "chip_margin": 2});
        let expected = json!({"chip_thickness": 0.028_190_778_623_577_25, "minimum_chip": 0.008, "feed_floor": 56.756_147_865_381_99,
            "programmed_feed_rubs": false});
        holds("feed-floor-drill", &inputs, &expected);
        holds("feed-floor-drill", &with(&inputs, "feed_per_rev", json!(0.02)), &json!({"programmed_feed_rubs": true}));
    }
}
