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
