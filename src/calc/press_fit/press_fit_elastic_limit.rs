//! What is the largest interference that leaves the hub elastic?

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
