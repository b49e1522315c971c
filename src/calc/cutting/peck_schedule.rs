//! In which steps shall a hole be pecked, and is it deep enough to need pecking?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "peck-schedule",
    version: 1,
    topic: "cutting",
    question: "In which steps shall a hole be pecked, and is it deep enough to need pecking?",
    formula: "q1 = first_peck; next = max(peck_ratio*last, least_peck); the last one is trimmed to the depth; what \
         is left counts only when more than 1e-6 mm; depth_ratio = depth/drill_diameter: up to 3 continuous, over 3 \
         up to 8 peck, over 8 special",
    inputs: &[
        Input::quantity("depth", "mm", "depth of the full diameter").above(0.0),
        Input::quantity("drill_diameter", "mm", "drill diameter").above(0.0),
        Input::quantity("first_peck", "mm", "first peck").above(0.0),
        Input::quantity("peck_ratio", "1", "each peck over the one before").above(0.0).at_most(1.0),
        Input::quantity("least_peck", "mm", "smallest peck").above(0.0),
    ],
    outputs: &[
        Output::quantity("depth_ratio", "1", "depth over diameter"),
        Output::word("drilling_way", &["continuous", "peck", "special"], "how to drill by that ratio"),
        Output::quantities("peck_depths", "mm", "depth after each peck"),
        Output::quantities("peck_increments", "mm", "each peck"),
        Output::count("peck_count", "number of pecks"),
    ],
    refusals: &[Refusal::of("least_peck", "greater than first_peck, or so small that more than 1000 pecks are needed")],
    usual_mistake: "too many small pecks: every re-entry in stainless is a rub",
    validity: "shop rule, not a standard",
    source: "shop rule",
    example: r#"{
            "depth": 24.0, "drill_diameter": 3.0, "first_peck": 6.0, "peck_ratio": 0.7, "least_peck": 2.0
        }"#,
    solve,
};
