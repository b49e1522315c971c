//! What gap should the split of a thin clamping ring show on a part, and which part diameter does a measured gap
//! mean?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "ring-gap",
    version: 1,
    topic: "fit",
    question: "What gap should the split of a thin clamping ring show on a part, and which part diameter does a \
         measured gap mean?",
    formula: "gap = free_gap - pi (ring_bore - part_diameter); gap_change_per_hundredth = pi*0.01 mm; \
         diameter_from_gap = ring_bore - (free_gap - measured_gap)/pi",
    inputs: &[
        Input::quantity("free_gap", "mm", "gap when the bore of the ring is ring_bore").above(0.0),
        Input::quantity("ring_bore", "mm", "bore of the free ring").above(0.0),
        Input::quantity("part_diameter", "mm", "diameter of the part").above(0.0),
        Input::quantity("measured_gap", "mm", "gap felt with the ring closed on the part")
            .at_least(0.0)
            .may_be_left_out(),
    ],
    outputs: &[
        Output::quantity("gap", "mm", "expected gap"),
        Output::quantity("gap_change_per_hundredth", "mm", "change of the gap for 0.01 mm on the diameter"),
        Output::quantity("diameter_from_gap", "mm", "diameter that the measured gap means")
            .null_when("measured_gap is left out"),
    ],
    refusals: &[Refusal::of("part_diameter", "so small that the ring closes (gap of zero or less) before it grips")],
    usual_mistake: "the gap shows a diameter error magnified pi times",
    validity: "thin ring that stays round",
    source: "circumference",
    example: r#"{"free_gap": 1.5, "ring_bore": 48.03, "part_diameter": 47.994}"#,
    solve,
};
