//! How deep must a spot drill go for a full ring of a given diameter, on a flat or on a cylinder?

use super::{drill_point, round_surface};
use crate::calc::limits;
use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "spot-depth",
    version: 1,
    topic: "cutting",
    question: "How deep must a spot drill go for a full ring of a given diameter, on a flat or on a cylinder?",
    formula: "cone = spot_diameter/2/tan(spot_angle/2); surface_drop = R - sqrt(R^2 - spot_diameter^2/4) on a \
         cylinder of radius R, 0 on a flat; depth = cone + surface_drop + texture_depth",
    inputs: &[
        Input::quantity("spot_diameter", "mm", "diameter of the spot").above(0.0),
        Input::quantity("spot_angle", "deg", "full angle of the spot drill").above(0.0).below(180.0),
        Input::quantity("surface_radius", "mm", "radius of the cylinder; left out: flat").above(0.0).may_be_left_out(),
        Input::quantity("texture_depth", "mm", "depth of skin or texture to cut through").at_least(0.0).or(0.0),
    ],
    outputs: &[
        Output::quantity("surface_drop", "mm", "drop of the surface at the edge of the spot"),
        Output::quantity("depth", "mm", "depth of the tip below the highest point"),
    ],
    refusals: &[Refusal::of("spot_diameter", "wider than the cylinder (half of it greater than surface_radius)")],
    usual_mistake: "a full ring on a round surface needs the drop as well",
    validity: "spot on the highest line of the cylinder",
    source: "cone and circle",
    example: r#"{"spot_diameter": 3.4, "spot_angle": 142.0, "surface_radius": 24.0, "texture_depth": 0.05}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let spot_diameter = given.number("spot_diameter")?;
    let spot_radius = spot_diameter / 2.0;
    let surface_drop = match given.optional_number("surface_radius")? {
        None => 0.0,
        Some(radius) if limits::within(spot_radius, radius) => round_surface::fall(radius, spot_radius),
        Some(_) => {
            let reason = "spot_diameter is wider than the cylinder: no full ring fits on it.";
            return Err(Refused::new("spot_diameter", reason));
        }
    };
    let cone = drill_point::length(spot_diameter, given.number("spot_angle")?);
    Ok(Answer::new()
        .with("surface_drop", surface_drop)
        .with("depth", cone + surface_drop + given.number("texture_depth")?))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, near, refuses, with};

    // Worked case spot_depth_on_cylinder of the project's own set of cases.
    #[test]
    fn a_full_ring_on_a_cylinder_needs_the_drop_too() {
        let inputs = json!({"spot_diameter": 3.4, "spot_angle": 142, "surface_radius": 24, "texture_depth": 0.05});
        let expected = json!({"surface_drop": 0.060_284_045_127_018_25, "depth": 0.695_640_987_719_449_4});
        holds("spot-depth", &inputs, &expected);
    }

    // Geometry: a spot of 90 degrees is twice as wide as deep, one of 120 degrees twice root 3.
    #[test]
    fn a_spot_on_a_flat_is_a_cone() {
        let inputs = json!({"spot_diameter": 3, "spot_angle": 90});
        holds("spot-depth", &inputs, &json!({"surface_drop": 0.0, "depth": 1.5}));
        let blunt = json!({"spot_diameter": 5.196_152_423, "spot_angle": 120, "surface_radius": null});
        near("spot-depth", &blunt, "depth", 1.5, 1e-9);
    }

    // By hand: a ring as wide as the cylinder drops by the radius, and one on a huge cylinder by a^2/(2 r).
    #[test]
    fn a_ring_may_be_as_wide_as_the_cylinder_and_no_wider() {
        let inputs = json!({"spot_diameter": 10, "spot_angle": 90, "surface_radius": 5});
        holds("spot-depth", &inputs, &json!({"surface_drop": 5.0, "depth": 10.0}));
        refuses("spot-depth", &with(&inputs, "surface_radius", json!(4.999)), "spot_diameter");
        let huge = with(&inputs, "surface_radius", json!(1e12));
        near("spot-depth", &huge, "surface_drop", 1.25e-11, 1e-20);
        refuses("spot-depth", &with(&inputs, "spot_angle", json!(180)), "spot_angle");
        refuses("spot-depth", &with(&inputs, "surface_radius", json!(0)), "surface_radius");
        refuses("spot-depth", &with(&inputs, "texture_depth", json!(-0.01)), "texture_depth");
    }
}
