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

fn solve(given: &Given) -> Result<Answer, Refused> {
    let half_point = (given.number("point_angle")? / 2.0).to_radians();
    let radius = given.number("drill_diameter")? / 2.0;
    // cos over sin: at 180 degrees the point is flat and has no length.
    let point = (radius * half_point.cos() / half_point.sin()).max(0.0);
    Ok(Answer::new()
        .with("point_length", point)
        .with("depth", given.number("wall_thickness")? + point + given.number("breakout")?))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, near, with};

    // The project's own worked case; a printed handbook is wrong where it takes the full angle.
    #[test]
    fn the_point_must_come_out_as_well() {
        let inputs = json!({"wall_thickness": 6, "drill_diameter": 3, "point_angle": 140, "breakout": 0.5});
        holds(
            "through-hole-depth",
            &inputs,
            &json!({"point_length": 0.545_955_351_399_303_7, "depth": 7.045_955_351_399_304}),
        );
        near("through-hole-depth", &with(&inputs, "point_angle", json!(180)), "depth", 6.5, 1e-12);
    }
}
