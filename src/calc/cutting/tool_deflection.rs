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
    let flute_length = given.number("flute_length")?;
    let flute_diameter = given.number("flute_diameter")?;
    let shank_length = given.number("shank_length")?;
    let shank = match given.optional_number("shank_diameter")? {
        Some(shank_diameter) => {
            let (flute, shank) = (flute_length / shank_diameter, shank_length / shank_diameter);
            // (L1 + L2)^3 - L1^3 over d^4, without the difference.
            shank * (3.0 * flute * flute + 3.0 * flute * shank + shank * shank) / shank_diameter
        }
        None if shank_length > 0.0 => {
            let reason = "shank_diameter is missing: it is needed because shank_length is not 0.";
            return Err(Refused::new("shank_diameter", reason));
        }
        None => 0.0,
    };
    let flute = (flute_length / flute_diameter).powi(3) / flute_diameter;
    let force_over_modulus = given.number("side_force")? / given.number("elastic_modulus")?;
    Ok(Answer::new().with("deflection", 64.0 / (3.0 * PI) * force_over_modulus * (flute + shank)))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, near, refuses, with};

    // Handbook beam table, cantilever with an end load: F L^3/(3 E I) for 100 N, 30 mm, 10 mm and 600 GPa.
    #[test]
    fn an_even_tool_is_the_cantilever_of_the_beam_table() {
        let inputs = json!({"side_force": 100, "flute_length": 30, "flute_diameter": 10, "elastic_modulus": "600 GPa"});
        near("tool-deflection", &inputs, "deflection", 0.003_055_774_907, 1e-12);
        let longer = with(&inputs, "flute_length", json!(60));
        near("tool-deflection", &longer, "deflection", 8.0 * 0.003_055_774_907, 1e-11);
        let thicker = with(&inputs, "flute_diameter", json!(20));
        near("tool-deflection", &thicker, "deflection", 0.003_055_774_907 / 16.0, 1e-13);
    }

    // The same beam in two parts of one diameter must bend like the beam in one; a stiff shank leaves the flutes alone.
    #[test]
    fn parts_add_up_to_the_whole() {
        let inputs = json!({"side_force": 100, "flute_length": 18, "flute_diameter": 10, "shank_length": 12,
            "shank_diameter": 10, "elastic_modulus": 600_000});
        near("tool-deflection", &inputs, "deflection", 0.003_055_774_907, 1e-12);
        let stiff = with(&with(&inputs, "shank_diameter", json!(1e6)), "flute_length", json!(30));
        near("tool-deflection", &stiff, "deflection", 0.003_055_774_907, 1e-12);
        let without = with(&with(&inputs, "shank_length", json!(0)), "flute_length", json!(30));
        near("tool-deflection", &without, "deflection", 0.003_055_774_907, 1e-12);
    }

    // By hand, moment-area: 64 F/(3 pi E) (20^3/4.8^4 + (30^3 - 20^3)/6^4).
    #[test]
    fn a_stepped_tool_bends_in_both_parts() {
        let inputs = json!({"side_force": 40, "flute_length": 20, "flute_diameter": 4.8, "shank_length": 10,
            "shank_diameter": 6, "elastic_modulus": "600 GPa"});
        let flutes = 8000.0 / 530.8416;
        let shank = 19_000.0 / 1296.0;
        let deflection = 64.0 * 40.0 / (3.0 * std::f64::consts::PI * 600_000.0) * (flutes + shank);
        holds("tool-deflection", &inputs, &json!({"deflection": deflection}));
    }

    #[test]
    fn a_shank_needs_its_diameter() {
        let inputs = json!({"side_force": 40, "flute_length": 20, "flute_diameter": 5, "shank_length": 10,
            "elastic_modulus": 600_000});
        refuses("tool-deflection", &inputs, "shank_diameter");
        refuses("tool-deflection", &with(&inputs, "shank_diameter", json!(0)), "shank_diameter");
        refuses("tool-deflection", &with(&inputs, "shank_length", json!(-1)), "shank_length");
        refuses("tool-deflection", &with(&inputs, "elastic_modulus", json!("600 N")), "elastic_modulus");
        let thread = with(&with(&inputs, "shank_length", json!(0)), "flute_diameter", json!(1e-300));
        refuses("tool-deflection", &thread, "inputs");
    }
}
