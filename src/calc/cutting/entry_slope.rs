//! How steep is the surface where an offset hole starts, and how much does it fall across the drill?

use super::round_surface;
use crate::calc::limits;
use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "entry-slope",
    version: 1,
    topic: "cutting",
    question: "How steep is the surface where an offset hole starts, and how much does it fall across the drill?",
    formula: "y = |lateral_offset|, R = surface_radius, d = drill_diameter: slope_at_centre = asin(y/R); \
         slope_at_outer_edge = asin((y+d/2)/R); entry_height = sqrt(R^2-y^2); drop_across = sqrt(R^2-(y-d/2)^2) - \
         sqrt(R^2-(y+d/2)^2)",
    inputs: &[
        Input::quantity("lateral_offset", "mm", "offset of the hole from the centreline, either sign"),
        Input::quantity("surface_radius", "mm", "radius of the surface").above(0.0),
        Input::quantity("drill_diameter", "mm", "drill diameter").above(0.0),
    ],
    outputs: &[
        Output::quantity("slope_at_centre", "deg", "slope at the hole centre"),
        Output::quantity("slope_at_outer_edge", "deg", "slope at the outer edge of the drill"),
        Output::quantity("entry_height", "mm", "height of the surface at the hole centre above the centreline"),
        Output::quantity("drop_across", "mm", "fall across the drill"),
    ],
    refusals: &[Refusal::of(
        "lateral_offset",
        "outer edge of the drill beyond the surface (|lateral_offset| + d/2 greater than surface_radius)",
    )],
    usual_mistake: "the drill walks downhill: spot-face with an end mill first",
    validity: "round surface about the rotary centreline",
    source: "circle",
    example: r#"{"lateral_offset": 3.25, "surface_radius": 24, "drill_diameter": 3}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let offset = given.number("lateral_offset")?.abs();
    let radius = given.number("surface_radius")?;
    let half_drill = given.number("drill_diameter")? / 2.0;
    let outer_edge = offset + half_drill;
    if !limits::within(outer_edge, radius) {
        let reason = "lateral_offset carries the outer edge of the drill beyond the surface: bring the hole closer to \
             the centreline.";
        return Err(Refused::new("lateral_offset", reason));
    }
    let inner_height = round_surface::height(radius, (offset - half_drill).abs());
    let outer_height = round_surface::height(radius, outer_edge);
    Ok(Answer::new()
        .with("slope_at_centre", round_surface::slope(radius, offset))
        .with("slope_at_outer_edge", round_surface::slope(radius, outer_edge))
        .with("entry_height", round_surface::height(radius, offset))
        .with("drop_across", drop_across(offset, half_drill, inner_height, outer_height)))
}

/// Returns how far the surface falls from the inner to the outer edge of the drill.
fn drop_across(offset: f64, half_drill: f64, inner_height: f64, outer_height: f64) -> f64 {
    if outer_height > 0.0 {
        // The difference of the squared heights, 4 offset half_drill, over their sum: on a large radius the heights
        // are so nearly the same that their own difference has few digits left.
        let mean_height = inner_height / 2.0 + outer_height / 2.0;
        2.0 * offset * (half_drill / mean_height)
    } else {
        inner_height
    }
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, near, refuses, with};

    // Case entry_slope_offset_hole of the project's own set, worked with 40 digits by an arbitrary-precision program.
    #[test]
    fn an_offset_hole_starts_on_a_slope() {
        let inputs = json!({"lateral_offset": -3.25, "surface_radius": 24, "drill_diameter": 3});
        let expected = json!({"slope_at_centre": 7.782_714_385_390_949, "slope_at_outer_edge": 11.415_157_742_730_491,
            "entry_height": 23.778_929_748_834_366, "drop_across": 0.410_860_494_372_668_3});
        holds("entry-slope", &inputs, &expected);
        holds("entry-slope", &with(&inputs, "lateral_offset", json!(3.25)), &expected);
    }

    // Schoolbook triangles 3-4-5 and 0-5-5: centre at 4 of 5, inner edge at 3, outer edge on the flank.
    #[test]
    fn a_drill_may_reach_the_flank_and_no_further() {
        let inputs = json!({"lateral_offset": 4, "surface_radius": 5, "drill_diameter": 2});
        let expected = json!({"slope_at_outer_edge": 90.0, "entry_height": 3.0, "drop_across": 4.0});
        holds("entry-slope", &inputs, &expected);
        near("entry-slope", &inputs, "slope_at_centre", 53.1301, 0.000_05);
        refuses("entry-slope", &with(&inputs, "lateral_offset", json!(4.000_001)), "lateral_offset");
        refuses("entry-slope", &with(&inputs, "lateral_offset", json!(-4.000_001)), "lateral_offset");
        refuses("entry-slope", &with(&inputs, "surface_radius", json!(0)), "surface_radius");
    }

    #[test]
    fn a_hole_on_the_centreline_has_no_drop() {
        let inputs = json!({"lateral_offset": 0, "surface_radius": 5, "drill_diameter": 10});
        let expected = json!({"slope_at_centre": 0.0, "entry_height": 5.0, "drop_across": 0.0});
        holds("entry-slope", &inputs, &expected);
        let huge = json!({"lateral_offset": 1e300, "surface_radius": 1.7e308, "drill_diameter": 1e300});
        near("entry-slope", &huge, "slope_at_centre", 0.0, 1e-6);
    }

    // Worked with 60 digits by an arbitrary-precision program: on so large a radius both heights are nearly the same.
    #[test]
    fn the_drop_on_a_large_radius_keeps_its_digits() {
        let inputs = json!({"lateral_offset": -33.75, "surface_radius": 100_000, "drill_diameter": 2});
        holds("entry-slope", &inputs, &json!({"drop_across": 0.000_675_000_038_477_112_7}));
        let larger = json!({"lateral_offset": 6000, "surface_radius": 1e9, "drill_diameter": 0.5});
        holds("entry-slope", &larger, &json!({"drop_across": 3.000_000_000_054e-6}));
        let huge = json!({"lateral_offset": 1e300, "surface_radius": 1.7e308, "drill_diameter": 1e300});
        near("entry-slope", &huge, "drop_across", 5.882_352_941_176_471e291, 1e282);
    }
}
