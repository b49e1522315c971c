//! How far does a cutter wrap into a bore wall, and which feed gives the same chip as on a straight wall?

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
