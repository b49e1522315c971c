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
