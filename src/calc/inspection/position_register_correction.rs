//! Which new register value brings a feature back to its nominal position?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "position-register-correction",
    version: 1,
    topic: "inspection",
    question: "Which new register value brings a feature back to its nominal position?",
    formula: "register_change = nominal_position - measured_position; new_register = register_value + register_change",
    inputs: &[
        Input::quantity("measured_position", "mm", "measured position of the feature"),
        Input::quantity("nominal_position", "mm", "drawing position"),
        Input::quantity("register_value", "mm", "register value now"),
    ],
    outputs: &[
        Output::quantity("register_change", "mm", "change"),
        Output::quantity("new_register", "mm", "value to write"),
    ],
    refusals: &[],
    usual_mistake: "a feature too far in plus needs a SMALLER register: adding the error doubles it",
    validity: "one cause, no wear",
    source: "definition",
    example: r#"{"measured_position": 55.018, "nominal_position": 55, "register_value": -212.405}"#,
    solve,
};
