//! How deep must the tip go to drill through a wall?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "through-hole-depth",
    version: 1,
    topic: "cutting",
    question: "How deep must the tip go to drill through a wall?",
    formula: "point_length = drill_diameter/2/tan(point_angle/2); depth = wall_thickness + point_length + breakout",
    inputs: &[
        Input::quantity("wall_thickness", "mm", "wall along the hole").above(0.0),
        Input::quantity("drill_diameter", "mm", "drill diameter").above(0.0),
        Input::quantity("point_angle", "deg", "full point angle").above(0.0).at_most(180.0),
        Input::quantity("breakout", "mm", "extra beyond the wall").at_least(0.0),
    ],
    outputs: &[
        Output::quantity("point_length", "mm", "length of the drill point"),
        Output::quantity("depth", "mm", "depth of the tip below the surface"),
    ],
    refusals: &[],
    usual_mistake: "using the full point angle in place of half of it",
    validity: "flat square wall",
    source: "cone",
    example: r#"{"wall_thickness": 6.0, "drill_diameter": 3.0, "point_angle": 140.0, "breakout": 0.5}"#,
    solve,
};
