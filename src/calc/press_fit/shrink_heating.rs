//! How much warmer than the pin must the hub be to slip on?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "shrink-heating",
    version: 1,
    topic: "press-fit",
    question: "How much warmer than the pin must the hub be to slip on?",
    formula: "temperature_rise = (interference + assembly_play)/(hub_expansion*fit_diameter)",
    inputs: &[
        Input::quantity("interference", "mm", "interference on diameter").above(0.0),
        Input::quantity("assembly_play", "mm", "play wanted for assembly").at_least(0.0),
        Input::quantity("fit_diameter", "mm", "common diameter").above(0.0),
        Input::quantity("hub_expansion", "um/(m K)", "expansion coefficient of the hub").above(0.0).at_most(1000.0),
    ],
    outputs: &[Output::quantity("temperature_rise", "K", "difference of temperature needed")],
    refusals: &[],
    usual_mistake: "forgetting the play: at zero play it grips half way in",
    validity: "even heating; check the temper of the material",
    source: "thermal expansion",
    example: r#"{"interference": 0.015, "assembly_play": 0.01, "fit_diameter": 8, "hub_expansion": 16}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    const PER_KELVIN: f64 = 1e-6;
    let growth = given.number("interference")? + given.number("assembly_play")?;
    let growth_per_kelvin = given.number("hub_expansion")? * PER_KELVIN * given.number("fit_diameter")?;
    Ok(Answer::new().with("temperature_rise", growth / growth_per_kelvin))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, refuses, with};

    // By hand: 25 um of growth on 8 mm at 16 um/(m K), 0.128 um for each degree, needs 195.3125 K; without play 117.1875.
    #[test]
    fn play_costs_heat() {
        let inputs = json!({"interference": 0.015, "assembly_play": 0.01, "fit_diameter": 8, "hub_expansion": 16});
        holds("shrink-heating", &inputs, &json!({"temperature_rise": 195.3125}));
        let tight = with(&inputs, "assembly_play", json!(0));
        holds("shrink-heating", &tight, &json!({"temperature_rise": 117.1875}));
    }

    // Thin steel tyre on a wheel of 2 m, 55 K at 11.7 um/(m K) (a published mechanics exercise): the shrinkage is alpha
    // dT D = 1.287 mm.
    #[test]
    fn a_tyre_on_a_wheel() {
        let inputs = json!({"interference": 1.287, "assembly_play": 0, "fit_diameter": "2 m", "hub_expansion": 11.7});
        holds("shrink-heating", &inputs, &json!({"temperature_rise": 55.0}));
    }

    #[test]
    fn what_cannot_be_heated_is_refused() {
        let inputs = json!({"interference": 0.015, "assembly_play": 0.01, "fit_diameter": 8, "hub_expansion": 16});
        refuses("shrink-heating", &with(&inputs, "hub_expansion", json!(0)), "hub_expansion");
        refuses("shrink-heating", &with(&inputs, "hub_expansion", json!(1001)), "hub_expansion");
        refuses("shrink-heating", &with(&inputs, "assembly_play", json!(-0.001)), "assembly_play");
        refuses("shrink-heating", &with(&inputs, "interference", json!(0)), "interference");
        let tiny = with(&with(&inputs, "fit_diameter", json!(5e-324)), "interference", json!(1e300));
        refuses("shrink-heating", &tiny, "inputs");
    }
}
