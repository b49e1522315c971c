//! Which pressure, stress, growth and pressing force does an interference give?

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
