//! How deep must a spot drill go for a full ring of a given diameter, on a flat or on a cylinder?

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
    let half = given.number("spot_diameter")? / 2.0;
    let drop = match given.optional_number("surface_radius")? {
        None => 0.0,
        Some(radius) if limits::within(half, radius) => radius - ((radius - half) * (radius + half)).max(0.0).sqrt(),
        Some(_) => return Err(Refused::new("spot_diameter", "The spot is wider than the cylinder it stands on.")),
    };
    let half_angle = (given.number("spot_angle")? / 2.0).to_radians();
    Ok(Answer::new()
        .with("surface_drop", drop)
        .with("depth", half / half_angle.tan() + drop + given.number("texture_depth")?))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, refuses, with};

    // The project's own worked case.
    #[test]
    fn a_spot_on_a_cylinder_goes_deeper() {
        let inputs = json!({"spot_diameter": 3.4, "spot_angle": 142, "surface_radius": 24, "texture_depth": 0.05});
        holds("spot-depth", &inputs, &json!({"surface_drop": 0.060_284_045_127_018, "depth": 0.695_640_987_719_449}));
        holds(
            "spot-depth",
            &json!({"spot_diameter": 2, "spot_angle": 90}),
            &json!({"surface_drop": 0.0, "depth": 1.0}),
        );
        refuses("spot-depth", &with(&inputs, "surface_radius", json!(1.6)), "spot_diameter");
    }
}
