//! How far does a side force bend a tool with a flute part and a shank part?

use std::f64::consts::PI;

use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "tool-deflection",
    version: 1,
    topic: "cutting",
    question: "How far does a side force bend a tool with a flute part and a shank part?",
    formula: "I = pi d^4/64; deflection = F/(3E) [L1^3/I1 + ((L1+L2)^3 - L1^3)/I2]; L1, I1 flutes at the tip, L2, \
         I2 shank",
    inputs: &[
        Input::quantity("side_force", "N", "side force at the tip").above(0.0),
        Input::quantity("flute_length", "mm", "length of the fluted part outside the holder").above(0.0),
        Input::quantity("flute_diameter", "mm", "EFFECTIVE diameter of the fluted part (about 0.8 of nominal)")
            .above(0.0),
        Input::quantity("shank_length", "mm", "length of shank outside the holder").at_least(0.0).or(0.0),
        Input::quantity("shank_diameter", "mm", "shank diameter; needed when shank_length is not 0")
            .above(0.0)
            .may_be_left_out(),
        Input::quantity("elastic_modulus", "MPa", "elastic modulus of the tool").above(0.0),
    ],
    outputs: &[Output::quantity("deflection", "mm", "movement of the tip")],
    refusals: &[Refusal::of("shank_diameter", "missing although shank_length is not 0")],
    usual_mistake: "twice the length bends eight times as far",
    validity: "slender cantilever, rigid holder",
    source: "moment-area of a stepped cantilever",
    example: r#"{
            "side_force": 40, "flute_length": 20, "flute_diameter": 4.8, "shank_length": 10, "shank_diameter": 6,
            "elastic_modulus": "600 GPa"
        }"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let flutes = given.number("flute_length")?;
    let shank = given.number("shank_length")?;
    let stiffness = 3.0 * given.number("elastic_modulus")?;
    let mut bend = flutes.powi(3) / second_moment(given.number("flute_diameter")?);
    if shank > 0.0 {
        let Some(diameter) = given.optional_number("shank_diameter")? else {
            return Err(Refused::new("shank_diameter", "The shank has a length but no diameter."));
        };
        // (L1 + L2)³ - L1³ without the difference of two cubes.
        let whole = shank * (3.0 * flutes * flutes + 3.0 * flutes * shank + shank * shank);
        bend += whole / second_moment(diameter);
    }
    Ok(Answer::new().with("deflection", given.number("side_force")? / stiffness * bend))
}

/// Returns the second moment of area of a round bar, mm⁴.
fn second_moment(diameter: f64) -> f64 {
    PI * diameter.powi(4) / 64.0
}

#[cfg(test)]
mod tests {
    use std::f64::consts::PI;

    use serde_json::json;

    use crate::calc::check::{answer, near, refuses, with};

    // Cantilever, strength of materials: twice the length bends eight times as far.
    #[test]
    fn twice_as_long_bends_eight_times_as_far() {
        let inputs = json!({"side_force": 10, "flute_length": 20, "flute_diameter": 4, "elastic_modulus": 600_000});
        near("tool-deflection", &inputs, "deflection", 10.0 * 8000.0 / (3.0 * 600_000.0 * PI * 256.0 / 64.0), 1e-15);
        let short = answer("tool-deflection", &inputs)["deflection"]["value"].as_f64().unwrap();
        near("tool-deflection", &with(&inputs, "flute_length", json!(40)), "deflection", 8.0 * short, 1e-12);
    }

    // A shank as thick as the flutes is one long bar.
    #[test]
    fn a_stepped_bar_of_one_thickness_is_one_bar() {
        let inputs = json!({"side_force": 10, "flute_length": 20, "flute_diameter": 4, "elastic_modulus": 600_000});
        let long = answer("tool-deflection", &with(&inputs, "flute_length", json!(50)))["deflection"]["value"]
            .as_f64()
            .unwrap();
        let stepped = with(&with(&inputs, "shank_length", json!(30)), "shank_diameter", json!(4));
        near("tool-deflection", &stepped, "deflection", long, 1e-12);
        refuses("tool-deflection", &with(&inputs, "shank_length", json!(30)), "shank_diameter");
    }
}
