//! How much gap to each wall does a jaw corner need in plan to clear the fillet in a slot corner?

use std::f64::consts::FRAC_1_SQRT_2;

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "corner-plan-gap",
    version: 1,
    topic: "fit",
    question: "How much gap to each wall does a jaw corner need in plan to clear the fillet in a slot corner?",
    formula: "gap_each_side = max(0, (fillet_radius - jaw_corner_radius)(1 - 1/sqrt(2)))",
    inputs: &[
        Input::quantity("fillet_radius", "mm", "fillet radius in plan").at_least(0.0),
        Input::quantity("jaw_corner_radius", "mm", "corner radius of the jaw in plan, 0 = sharp").at_least(0.0),
    ],
    outputs: &[Output::quantity("gap_each_side", "mm", "smallest equal gap to both walls")],
    refusals: &[],
    usual_mistake: "comparing the two radii only, without the corner factor",
    validity: "equal gap to both walls, square corner",
    source: "circle geometry",
    example: r#"{"fillet_radius": 1.5, "jaw_corner_radius": 0.5}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let difference = given.number("fillet_radius")? - given.number("jaw_corner_radius")?;
    Ok(Answer::new().with("gap_each_side", (difference * (1.0 - FRAC_1_SQRT_2)).max(0.0)))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, refuses};

    // Geometry: on the bisector the two arcs touch when the gap is (1 - cos 45) of the difference of the radii.
    #[test]
    fn only_a_smaller_jaw_radius_needs_a_gap() {
        let sharp = json!({"fillet_radius": 1.5, "jaw_corner_radius": 0});
        holds("corner-plan-gap", &sharp, &json!({"gap_each_side": 1.5 * (1.0 - 45.0_f64.to_radians().cos())}));
        holds(
            "corner-plan-gap",
            &json!({"fillet_radius": 1.5, "jaw_corner_radius": 2}),
            &json!({"gap_each_side": 0.0}),
        );
        refuses("corner-plan-gap", &json!({"fillet_radius": -1.5, "jaw_corner_radius": 2}), "fillet_radius");
    }
}
