//! How deep must the tip go to drill through a wall?

use super::drill_point;
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

fn solve(given: &Given) -> Result<Answer, Refused> {
    let point_length = drill_point::length(given.number("drill_diameter")?, given.number("point_angle")?);
    Ok(Answer::new()
        .with("point_length", point_length)
        .with("depth", given.number("wall_thickness")? + point_length + given.number("breakout")?))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, near, refuses, with};

    // Worked case through_depth of the project's own set of cases.
    #[test]
    fn the_tip_goes_beyond_the_wall_by_its_own_length() {
        let inputs = json!({"wall_thickness": 6, "drill_diameter": 3, "point_angle": 140, "breakout": 0.5});
        let expected = json!({"point_length": 0.545_955_351_399_303_7, "depth": 7.045_955_351_399_304});
        holds("through-hole-depth", &inputs, &expected);
        let flat = with(&inputs, "point_angle", json!(180));
        holds("through-hole-depth", &flat, &json!({"point_length": 0.0, "depth": 6.5}));
    }

    // Textbook of modern manufacturing: a 12.7 mm drill of 118 degrees has a point of 3.82 mm (from memory). The half
    // angle belongs into the formula: with the tangent itself a printed page gets 0.832 diameters, which is wrong.
    #[test]
    fn the_point_is_that_of_the_textbook() {
        let inputs = json!({"wall_thickness": 60, "drill_diameter": 12.7, "point_angle": "118 deg", "breakout": 0});
        near("through-hole-depth", &inputs, "point_length", 3.82, 0.005);
        near("through-hole-depth", &inputs, "depth", 63.82, 0.005);
    }

    #[test]
    fn values_outside_their_limits_are_refused() {
        let inputs = json!({"wall_thickness": 6, "drill_diameter": 3, "point_angle": 140, "breakout": 0});
        refuses("through-hole-depth", &with(&inputs, "point_angle", json!(181)), "point_angle");
        refuses("through-hole-depth", &with(&inputs, "point_angle", json!(0)), "point_angle");
        refuses("through-hole-depth", &with(&inputs, "breakout", json!(-0.1)), "breakout");
        refuses("through-hole-depth", &with(&inputs, "wall_thickness", json!(0)), "wall_thickness");
        refuses("through-hole-depth", &with(&inputs, "point_angle", json!(1e-320)), "inputs");
    }
}
