//! What is the largest interference that leaves the hub elastic?

use super::joint::Joint;
use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "press-fit-elastic-limit",
    version: 1,
    topic: "press-fit",
    question: "What is the largest interference that leaves the hub elastic?",
    formula: "pressure_at_limit = (yield_strength/safety_factor)/sqrt(c^2+c+1), c = (Do^2+D^2)/(Do^2-D^2); \
         largest_interference = pressure_at_limit*D*[(c+nu_h)/E_h + ((D^2+Di^2)/(D^2-Di^2)-nu_p)/E_p]",
    inputs: &[
        Input::quantity("fit_diameter", "mm", "common diameter of pin and bore").above(0.0),
        Input::quantity(
            "hub_outside_diameter",
            "mm",
            "outside diameter of the hub: twice the SHORTEST distance from the bore centre to an edge",
        )
        .above(0.0),
        Input::quantity("pin_inside_diameter", "mm", "bore of a hollow pin or bush, 0 = solid").at_least(0.0).or(0.0),
        Input::quantity("hub_modulus", "MPa", "elastic modulus of the hub").above(0.0),
        Input::quantity("hub_poisson", "1", "Poisson ratio of the hub").at_least(0.0).below(0.5),
        Input::quantity("pin_modulus", "MPa", "elastic modulus of the pin").above(0.0),
        Input::quantity("pin_poisson", "1", "Poisson ratio of the pin").at_least(0.0).below(0.5),
        Input::quantity("yield_strength", "MPa", "0.2 % proof stress of the hub").above(0.0),
        Input::quantity("safety_factor", "1", "safety factor on it").at_least(1.0).or(1.0),
    ],
    outputs: &[
        Output::quantity("largest_interference", "mm", "largest effective interference on diameter"),
        Output::quantity("pressure_at_limit", "MPa", "pressure there"),
    ],
    refusals: &[
        Refusal::of("hub_outside_diameter", "not greater than fit_diameter"),
        Refusal::of("pin_inside_diameter", "not less than fit_diameter"),
    ],
    usual_mistake: "comparing the hoop stress alone with the yield strength: the radial pressure adds to it",
    validity: "elastic, plane stress; hub only",
    source: "Lame and von Mises",
    example: r#"{
            "fit_diameter": 8, "hub_outside_diameter": 20, "hub_modulus": 193000, "hub_poisson": 0.29,
            "pin_modulus": 205000, "pin_poisson": 0.3, "yield_strength": 250, "safety_factor": 1.2
        }"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let joint = Joint::given(given)?;
    let allowed_stress = given.number("yield_strength")? / given.number("safety_factor")?;
    let pressure_at_limit = allowed_stress / joint.von_mises_ratio();
    Ok(Answer::new()
        .with("largest_interference", pressure_at_limit * joint.interference_per_pressure)
        .with("pressure_at_limit", pressure_at_limit))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{answer, holds, near, refuses, with};

    // Budynas and Nisbett, Shigley's Mechanical Engineering Design, 8th edition, problem 5-35 backwards: 0.02 mm on 50
    // mm gives 62.48 MPa after von Mises, so a hub that yields there takes 0.02 mm.
    #[test]
    fn the_textbook_ring_comes_back() {
        let inputs = json!({"fit_diameter": 50, "hub_outside_diameter": 75, "pin_inside_diameter": 25,
            "hub_modulus": 207_000, "hub_poisson": 0.292, "pin_modulus": 207_000, "pin_poisson": 0.292,
            "yield_strength": 62.462_807_37});
        near("press-fit-elastic-limit", &inputs, "largest_interference", 0.02, 1e-10);
        near("press-fit-elastic-limit", &inputs, "pressure_at_limit", 19.406_25, 1e-8);
        let safer = with(&inputs, "safety_factor", json!(2));
        near("press-fit-elastic-limit", &safer, "largest_interference", 0.01, 1e-10);
    }

    // Lamé and von Mises: an endlessly thick hub has c = 1 and yields at a pressure of R/sqrt 3.
    #[test]
    fn a_thick_hub_yields_at_the_shear_limit() {
        let inputs = json!({"fit_diameter": 8, "hub_outside_diameter": 1e200, "hub_modulus": 200_000,
            "hub_poisson": 0.3, "pin_modulus": 200_000, "pin_poisson": 0.3, "yield_strength": 300});
        let pressure = 300.0 / 3.0_f64.sqrt();
        holds(
            "press-fit-elastic-limit",
            &inputs,
            &json!({"pressure_at_limit": pressure,
            "largest_interference": pressure * 8.0 * 2.0 / 200_000.0}),
        );
    }

    // Closed loop: the pressure of the largest interference stresses the hub just to its strength.
    #[test]
    fn it_is_the_inverse_of_the_pressure() {
        let limit = json!({"fit_diameter": 8, "hub_outside_diameter": 20, "hub_modulus": 193_000, "hub_poisson": 0.29,
            "pin_modulus": 205_000, "pin_poisson": 0.3, "pin_inside_diameter": 3, "yield_strength": 250,
            "safety_factor": 1.2});
        let mut joint = limit.clone();
        let largest = answer("press-fit-elastic-limit", &limit)["largest_interference"]["value"].clone();
        joint.as_object_mut().unwrap().retain(|key, _| key != "yield_strength" && key != "safety_factor");
        joint["interference"] = largest;
        joint["engaged_length"] = json!(10);
        holds("press-fit-pressure", &joint, &json!({"hub_von_mises_stress": 250.0 / 1.2}));
    }

    #[test]
    fn impossible_rings_are_refused() {
        let inputs = json!({"fit_diameter": 8, "hub_outside_diameter": 7, "hub_modulus": 193_000, "hub_poisson": 0.29,
            "pin_modulus": 205_000, "pin_poisson": 0.3, "yield_strength": 250});
        refuses("press-fit-elastic-limit", &inputs, "hub_outside_diameter");
        let inputs = with(&inputs, "hub_outside_diameter", json!(20));
        refuses("press-fit-elastic-limit", &with(&inputs, "pin_inside_diameter", json!(9)), "pin_inside_diameter");
        refuses("press-fit-elastic-limit", &with(&inputs, "safety_factor", json!(0.9)), "safety_factor");
        refuses("press-fit-elastic-limit", &with(&inputs, "yield_strength", json!(0)), "yield_strength");
    }
}
