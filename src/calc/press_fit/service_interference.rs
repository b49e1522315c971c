//! What is left of an interference at service temperature?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "service-interference",
    version: 1,
    topic: "press-fit",
    question: "What is left of an interference at service temperature?",
    formula: "interference_in_service = interference_at_20 + fit_diameter (pin_expansion - \
         hub_expansion)(service_temperature - 20)",
    inputs: &[
        Input::quantity("interference_at_20", "mm", "interference on diameter at 20 degC, minus = clearance"),
        Input::quantity("fit_diameter", "mm", "common diameter").above(0.0),
        Input::quantity("pin_expansion", "um/(m K)", "expansion coefficient of the pin").at_least(0.0).at_most(1000.0),
        Input::quantity("hub_expansion", "um/(m K)", "expansion coefficient of the hub").at_least(0.0).at_most(1000.0),
        Input::quantity("service_temperature", "degC", "temperature in service").at_least(-273.15).at_most(1000.0),
    ],
    outputs: &[Output::quantity("interference_in_service", "mm", "interference then, minus = loose")],
    refusals: &[],
    usual_mistake: "a hub that grows more than the pin loosens when warm",
    validity: "even temperature",
    source: "thermal expansion",
    example: r#"{
            "interference_at_20": 0.01, "fit_diameter": 8, "pin_expansion": 11.5, "hub_expansion": 16,
            "service_temperature": 80
        }"#,
    solve,
};
