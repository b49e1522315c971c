//! How steep is the surface where an offset hole starts, and how much does it fall across the drill?

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
    let (offset, radius) = (given.number("lateral_offset")?.abs(), given.number("surface_radius")?);
    let half = given.number("drill_diameter")? / 2.0;
    if !limits::within(offset + half, radius) {
        return Err(Refused::new(
            "lateral_offset",
            "The drill's outer edge lies beyond the surface: nothing is there to drill.",
        ));
    }
    let outer = ((offset + half) / radius).min(1.0);
    Ok(Answer::new()
        .with("slope_at_centre", (offset / radius).asin().to_degrees())
        .with("slope_at_outer_edge", outer.asin().to_degrees())
        .with("entry_height", height(radius, offset))
        .with("drop_across", height(radius, offset - half) - height(radius, offset + half)))
}

/// Returns the height of a round surface over the centreline at a distance from the middle.
fn height(radius: f64, across: f64) -> f64 {
    ((radius - across) * (radius + across)).max(0.0).sqrt()
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, refuses};

    // Circle: 3-4-5 triangle.
    #[test]
    fn a_hole_off_the_middle_starts_on_a_slope() {
        let inputs = json!({"lateral_offset": -3, "surface_radius": 5, "drill_diameter": 1});
        holds("entry-slope", &inputs, &json!({"entry_height": 4.0, "slope_at_centre": 36.869_897_645_844_02}));
        let middle = json!({"lateral_offset": 0, "surface_radius": 24, "drill_diameter": 3});
        holds("entry-slope", &middle, &json!({"slope_at_centre": 0.0, "entry_height": 24.0, "drop_across": 0.0}));
    }

    #[test]
    fn a_drill_beyond_the_surface_is_refused() {
        refuses(
            "entry-slope",
            &json!({"lateral_offset": 4.6, "surface_radius": 5, "drill_diameter": 1}),
            "lateral_offset",
        );
        let edge = json!({"lateral_offset": 4.5, "surface_radius": 5, "drill_diameter": 1});
        holds("entry-slope", &edge, &json!({"slope_at_outer_edge": 90.0}));
    }
}
