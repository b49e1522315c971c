//! Which pressure, stress, growth and pressing force does an interference give?

use std::f64::consts::PI;

use super::joint::Joint;
use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "press-fit-pressure",
    version: 1,
    topic: "press-fit",
    question: "Which pressure, stress, growth and pressing force does an interference give?",
    formula: "effective = interference - 0.8 (bore_roughness+pin_roughness); p = effective/(D \
         [((Do^2+D^2)/(Do^2-D^2)+nu_h)/E_h + ((D^2+Di^2)/(D^2-Di^2)-nu_p)/E_p]); hoop = p (Do^2+D^2)/(Do^2-D^2); \
         von_mises = sqrt(hoop^2+hoop p+p^2); force = friction p pi D L; hub_growth = 2 p D^2 Do/(E_h (Do^2-D^2)); \
         pin_bore_closing = 2 p D^2 Di/(E_p (D^2-Di^2))",
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
        Input::quantity("interference", "mm", "measured interference ON DIAMETER").above(0.0),
        Input::quantity("bore_roughness", "um", "Rz of the bore").at_least(0.0).or(0.0),
        Input::quantity("pin_roughness", "um", "Rz of the pin").at_least(0.0).or(0.0),
        Input::quantity("engaged_length", "mm", "length in contact").above(0.0),
        Input::quantity("friction_low", "1", "lowest friction to expect").above(0.0).at_most(1.0).or(0.08),
        Input::quantity("friction_high", "1", "highest friction to expect").above(0.0).at_most(1.0).or(0.2),
    ],
    outputs: &[
        Output::quantity("effective_interference", "mm", "interference left after the roughness is pressed flat"),
        Output::quantity("pressure", "MPa", "pressure in the joint"),
        Output::quantity("hub_hoop_stress", "MPa", "hoop stress at the bore of the hub"),
        Output::quantity("hub_von_mises_stress", "MPa", "equivalent stress there"),
        Output::quantity("least_force", "N", "axial force at friction_low and full length"),
        Output::quantity("greatest_force", "N", "axial force at friction_high and full length"),
        Output::quantity("hub_growth", "mm", "growth of the hub outside diameter"),
        Output::quantity("pin_bore_closing", "mm", "closing of the pin bore on diameter, 0 for a solid pin"),
    ],
    refusals: &[
        Refusal::of("hub_outside_diameter", "not greater than fit_diameter"),
        Refusal::of("pin_inside_diameter", "not less than fit_diameter"),
        Refusal::of("interference", "nothing left after the roughness loss"),
        Refusal::of("friction_high", "less than friction_low"),
    ],
    usual_mistake: "the interference is on DIAMETER; taken as radial it doubles the pressure; largest bore means \
         least interference",
    validity: "elastic, plane stress, plain rings, long against the diameter",
    source: "Lame thick cylinders; handbook roughness rule",
    example: r#"{
            "fit_diameter": 8, "hub_outside_diameter": 20, "pin_inside_diameter": 0, "hub_modulus": 193000.0,
            "hub_poisson": 0.29, "pin_modulus": 205000.0, "pin_poisson": 0.3, "interference": 0.01,
            "engaged_length": 10, "friction_low": 0.12, "friction_high": 0.12
        }"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let joint = Joint::given(given)?;
    let effective = effective_interference(given)?;
    let (friction_low, friction_high) = (given.number("friction_low")?, given.number("friction_high")?);
    if friction_high < friction_low {
        return Err(Refused::new("friction_high", "friction_high must not be less than friction_low."));
    }
    let pressure = effective / joint.interference_per_pressure;
    let squeeze = pressure * PI * joint.fit_diameter * given.number("engaged_length")?;
    Ok(Answer::new()
        .with("effective_interference", effective)
        .with("pressure", pressure)
        .with("hub_hoop_stress", pressure * joint.hoop_ratio)
        .with("hub_von_mises_stress", pressure * joint.von_mises_ratio())
        .with("least_force", friction_low * squeeze)
        .with("greatest_force", friction_high * squeeze)
        .with("hub_growth", joint.hub_growth(pressure))
        .with("pin_bore_closing", joint.pin_bore_closing(pressure)))
}

/// Takes the roughness that is pressed flat off the interference; a rest within the noise of the arithmetic is none.
fn effective_interference(given: &Given) -> Result<f64, Refused> {
    const SHARE_PRESSED_FLAT: f64 = 0.8;
    const MICROMETRES: f64 = 1000.0;
    const NOISE: f64 = 1e-12;
    let interference = given.number("interference")?;
    let roughness = given.number("bore_roughness")? + given.number("pin_roughness")?;
    let effective = interference - SHARE_PRESSED_FLAT * roughness / MICROMETRES;
    if effective <= NOISE * interference {
        let reason = "interference is used up when the roughness is pressed flat: nothing is left to hold.";
        return Err(Refused::new("interference", reason));
    }
    Ok(effective)
}

#[cfg(test)]
mod tests {
    use serde_json::{Value, json};

    use crate::calc::check::{holds, near, refuses, with};

    fn solid_pin() -> Value {
        json!({"fit_diameter": 8, "hub_outside_diameter": 20, "hub_modulus": 193_000, "hub_poisson": 0.29,
            "pin_modulus": 205_000, "pin_poisson": 0.3, "interference": 0.01, "engaged_length": 10,
            "friction_low": 0.12, "friction_high": 0.12})
    }

    // Worked case lame_solid_pin of the project's own set of cases.
    #[test]
    fn a_solid_pin_in_a_ring() {
        let expected = json!({"effective_interference": 0.01, "pressure": 103.541_804_786_377_63,
            "hub_hoop_stress": 142.986_301_847_854_8, "hub_von_mises_stress": 214.408_599_658_695_7,
            "least_force": 3_122.747_263_260_599_5, "greatest_force": 3_122.747_263_260_599_5,
            "hub_growth": 0.004_087_512_648_857_741, "pin_bore_closing": 0.0});
        holds("press-fit-pressure", &solid_pin(), &expected);
    }

    // Budynas and Nisbett, Shigley's Mechanical Engineering Design, 8th edition, problem 5-35: a hollow shaft, both of
    // one steel, where Poisson's ratio falls out. The printed stresses carry the pressure rounded to 19.41.
    #[test]
    fn a_hollow_shaft_agrees_with_the_textbook() {
        let inputs = json!({"fit_diameter": 50, "hub_outside_diameter": 75, "pin_inside_diameter": 25,
            "hub_modulus": 207_000, "hub_poisson": 0.292, "pin_modulus": 207_000, "pin_poisson": 0.292,
            "interference": 0.02, "engaged_length": 1});
        near("press-fit-pressure", &inputs, "pressure", 19.41, 0.005);
        near("press-fit-pressure", &inputs, "pressure", 19.406_25, 1e-9);
        near("press-fit-pressure", &inputs, "hub_hoop_stress", 50.47, 0.02);
        near("press-fit-pressure", &inputs, "hub_von_mises_stress", 62.48, 0.03);
    }

    // The same book, chapter 5: solid shaft, inches and psi, radial interference 0.0005 in at radius 1 in.
    #[test]
    fn a_solid_shaft_in_inches_agrees_with_the_textbook() {
        let inputs = json!({"fit_diameter": "2 in", "hub_outside_diameter": "3 in", "hub_modulus": "30000 ksi",
            "hub_poisson": 0.292, "pin_modulus": "30000 ksi", "pin_poisson": 0.292, "interference": "0.001 in",
            "engaged_length": "1 in"});
        let psi = 0.006_894_757_293_168_361;
        near("press-fit-pressure", &inputs, "pressure", 4167.0 * psi, psi);
        near("press-fit-pressure", &inputs, "hub_hoop_stress", 10_830.0 * psi, 5.0 * psi);
        near("press-fit-pressure", &inputs, "hub_von_mises_stress", 13_410.0 * psi, 10.0 * psi);
    }

    // Computed from the formula: steel in steel (33.600 and 105 MPa, 19 792 N), steel in aluminium (43.1045 MPa). A
    // published answer to the first one brings in (1 - nu^2) and is wrong: for one material and a solid shaft
    // Poisson's ratio must fall out.
    #[test]
    fn pressures_in_steel_and_aluminium() {
        let steel = json!({"fit_diameter": 60, "hub_outside_diameter": 100, "hub_modulus": 210_000,
            "hub_poisson": 0.292, "pin_modulus": 210_000, "pin_poisson": 0.292, "interference": 0.03,
            "engaged_length": 60});
        holds("press-fit-pressure", &steel, &json!({"pressure": 33.6}));
        let other = with(&with(&steel, "hub_poisson", json!(0.1)), "pin_poisson", json!(0.1));
        holds("press-fit-pressure", &other, &json!({"pressure": 33.6}));
        let small = json!({"fit_diameter": 25, "hub_outside_diameter": 50, "hub_modulus": 200_000,
            "hub_poisson": 0.3, "pin_modulus": 200_000, "pin_poisson": 0.3, "interference": 0.035,
            "engaged_length": 20, "friction_low": 0.12});
        holds("press-fit-pressure", &small, &json!({"pressure": 105.0}));
        near("press-fit-pressure", &small, "least_force", 19_792.033_72, 1e-5);
        let aluminium = with(&with(&small, "hub_modulus", json!(68_900)), "hub_poisson", json!(0.33));
        near("press-fit-pressure", &aluminium, "pressure", 43.104_514_07, 1e-8);
    }

    // Geometry of strain: the bore of the hub opens by D p (c + nu)/E and the outside of the pin closes by the rest, so
    // both must add up to the interference; a thin bush closes inside by nearly as much as outside.
    #[test]
    fn the_two_walls_share_the_interference() {
        let bush = with(&with(&solid_pin(), "pin_inside_diameter", json!(7.9)), "hub_outside_diameter", json!(8.1));
        let answer = crate::calc::check::answer("press-fit-pressure", &bush);
        let given_up =
            answer["hub_growth"]["value"].as_f64().unwrap() + answer["pin_bore_closing"]["value"].as_f64().unwrap();
        assert!((given_up - 0.01).abs() < 0.0002, "{given_up}");
    }

    // From memory (DIN 7190): 0.8 (Rz + Rz) of the interference is pressed flat.
    #[test]
    fn roughness_uses_interference_up() {
        let rough = with(&with(&solid_pin(), "bore_roughness", json!(4)), "pin_roughness", json!("0.001 mm"));
        holds("press-fit-pressure", &rough, &json!({"effective_interference": 0.006}));
        let rougher = with(&rough, "interference", json!(0.004));
        refuses("press-fit-pressure", &rougher, "interference");
        refuses("press-fit-pressure", &with(&rougher, "interference", json!(0.003)), "interference");
    }

    #[test]
    fn impossible_rings_and_frictions_are_refused() {
        for (key, value) in [
            ("hub_outside_diameter", json!(8)),
            ("pin_inside_diameter", json!(8)),
            ("friction_high", json!(0.11)),
            ("hub_poisson", json!(0.5)),
            ("interference", json!(0)),
            ("hub_modulus", json!("193 mm")),
            ("engaged_length", json!(null)),
        ] {
            refuses("press-fit-pressure", &with(&solid_pin(), key, value), key);
        }
        let mut left_out = with(&solid_pin(), "friction_low", json!(0.3));
        left_out.as_object_mut().unwrap().remove("friction_high");
        refuses("press-fit-pressure", &left_out, "friction_high");
    }

    #[test]
    fn extreme_rings_stay_numbers() {
        let thin = with(
            &with(&solid_pin(), "hub_outside_diameter", json!(8.000_000_000_000_002)),
            "pin_inside_diameter",
            json!(7.999_999_999_999_999),
        );
        near("press-fit-pressure", &thin, "pressure", 0.0, 1e-6);
        let huge = with(&with(&solid_pin(), "hub_outside_diameter", json!(1e25)), "pin_inside_diameter", json!(1e-25));
        near("press-fit-pressure", &huge, "hub_hoop_stress", 0.01 / 8.0 / (1.29 / 193_000.0 + 0.7 / 205_000.0), 1e-9);
        refuses("press-fit-pressure", &with(&huge, "interference", json!(1e308)), "inputs");
    }
}
