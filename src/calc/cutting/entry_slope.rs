//! How steep is the surface where an offset hole starts, and how much does it fall across the drill?

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
