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

fn solve(given: &Given) -> Result<Answer, Refused> {
    const PER_KELVIN: f64 = 1e-6;
    const REFERENCE_TEMPERATURE: f64 = 20.0;
    let difference = given.number("pin_expansion")? - given.number("hub_expansion")?;
    let warming = given.number("service_temperature")? - REFERENCE_TEMPERATURE;
    let gained = given.number("fit_diameter")? * difference * PER_KELVIN * warming;
    Ok(Answer::new().with("interference_in_service", given.number("interference_at_20")? + gained))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, refuses, with};

    // By hand: 8 mm x (11.5 - 16) um/(m K) x 60 K = -2.16 um.
    #[test]
    fn a_hub_that_grows_more_loosens() {
        let inputs = json!({"interference_at_20": 0.01, "fit_diameter": 8, "pin_expansion": 11.5, "hub_expansion": 16,
            "service_temperature": 80});
        holds("service-interference", &inputs, &json!({"interference_in_service": 0.00784}));
        let room = with(&inputs, "service_temperature", json!("68 degF"));
        holds("service-interference", &room, &json!({"interference_in_service": 0.01}));
    }

    // Difference of two materials (ISO 1 reference temperature): aluminium 23.6 in steel 11.5 um/(m K), 100 mm, 5 K more:
    // 6.05 um tighter.
    #[test]
    fn an_aluminium_plug_in_steel_tightens() {
        let inputs = json!({"interference_at_20": -0.001, "fit_diameter": 100, "pin_expansion": 23.6,
            "hub_expansion": 11.5, "service_temperature": 25});
        holds("service-interference", &inputs, &json!({"interference_in_service": 0.00505}));
    }

    #[test]
    fn impossible_temperatures_and_materials_are_refused() {
        let inputs = json!({"interference_at_20": 0.01, "fit_diameter": 8, "pin_expansion": 11.5, "hub_expansion": 16,
            "service_temperature": 80});
        refuses("service-interference", &with(&inputs, "service_temperature", json!(-273.16)), "service_temperature");
        refuses("service-interference", &with(&inputs, "service_temperature", json!("5 K")), "service_temperature");
        refuses("service-interference", &with(&inputs, "pin_expansion", json!(-1)), "pin_expansion");
        refuses("service-interference", &with(&inputs, "fit_diameter", json!(0)), "fit_diameter");
        let huge = with(&with(&inputs, "fit_diameter", json!(1e308)), "interference_at_20", json!(-1.797e308));
        refuses("service-interference", &with(&huge, "hub_expansion", json!(1000)), "inputs");
    }
}
