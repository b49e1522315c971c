//! Between which sizes must a bore lie for a measured pin?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "bore-window-for-pin",
    version: 1,
    topic: "press-fit",
    question: "Between which sizes must a bore lie for a measured pin?",
    formula: "largest_bore = pin_diameter - least_interference; smallest_bore = pin_diameter - \
         greatest_interference; target_bore = middle",
    inputs: &[
        Input::quantity("pin_diameter", "mm", "measured pin").above(0.0),
        Input::quantity("least_interference", "mm", "least interference wanted").at_least(0.0),
        Input::quantity("greatest_interference", "mm", "greatest interference allowed").above(0.0),
    ],
    outputs: &[
        Output::quantity("largest_bore", "mm", "largest bore"),
        Output::quantity("smallest_bore", "mm", "smallest bore"),
        Output::quantity("target_bore", "mm", "middle of the window"),
    ],
    refusals: &[Refusal::of("greatest_interference", "not greater than least_interference, or as large as the pin")],
    usual_mistake: "the LARGEST bore gives the LEAST interference",
    validity: "pin and bore at one temperature",
    source: "subtraction",
    example: r#"{"pin_diameter": 8.0195, "least_interference": 0.004, "greatest_interference": 0.009}"#,
    solve,
};
