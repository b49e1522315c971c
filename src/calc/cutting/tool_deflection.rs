//! How far does a side force bend a tool with a flute part and a shank part?

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
