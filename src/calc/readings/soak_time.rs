//! How long must a part lie before its temperature difference has shrunk to a given value?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "soak-time",
    version: 1,
    topic: "metrology",
    question: "How long must a part lie before its temperature difference has shrunk to a given value?",
    formula: "time_constant = mass*specific_heat/(heat_transfer*surface_area); soak_time = time_constant \
         ln(difference_at_start/difference_at_end)",
    inputs: &[
        Input::quantity("mass", "kg", "mass of the part").above(0.0),
        Input::quantity("specific_heat", "J/(kg K)", "specific heat").above(0.0),
        Input::quantity("heat_transfer", "W/(m2 K)", "heat transfer coefficient to air or plate").above(0.0),
        Input::quantity("surface_area", "m2", "surface").above(0.0),
        Input::quantity("difference_at_start", "K", "temperature difference at the start").above(0.0),
        Input::quantity("difference_at_end", "K", "difference that is allowed").above(0.0),
    ],
    outputs: &[
        Output::quantity("time_constant", "min", "time constant"),
        Output::quantity("soak_time", "min", "time to wait"),
    ],
    refusals: &[Refusal::of("difference_at_end", "greater than difference_at_start")],
    usual_mistake: "hours, not minutes, for a thick part in still air",
    validity: "small part with even temperature inside (lumped)",
    source: "lumped cooling",
    example: r#"{
            "mass": 0.6, "specific_heat": 500, "heat_transfer": 10, "surface_area": "120 cm2",
            "difference_at_start": 8, "difference_at_end": 0.5
        }"#,
    solve,
};
