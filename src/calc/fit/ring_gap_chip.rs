//! How much does a chip between ring and part open the gap, for a stiff ring and for a flexible band?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "ring-gap-chip",
    version: 1,
    topic: "fit",
    question: "How much does a chip between ring and part open the gap, for a stiff ring and for a flexible band?",
    formula: "gap_stiff = pi*chip_thickness; gap_flexible = 2 (sqrt((R+t)^2 - R^2) - R acos(R/(R+t))), R = \
         part_diameter/2, t = chip_thickness; ratio = gap_stiff/gap_flexible",
    inputs: &[
        Input::quantity("part_diameter", "mm", "diameter of the part").above(0.0),
        Input::quantity("chip_thickness", "mm", "thickness of the chip").above(0.0),
    ],
    outputs: &[
        Output::quantity("gap_stiff", "mm", "gap opens by, ring stays round"),
        Output::quantity("gap_flexible", "mm", "gap opens by, band bends round the chip"),
        Output::quantity("ratio", "1", "stiff over flexible"),
    ],
    refusals: &[],
    usual_mistake: "the feeler may NOT see a chip when the ring bends: never the only chip check",
    validity: "the two limits between which real rings lie",
    source: "circumference; two tangents over a chip",
    example: r#"{"part_diameter": 48, "chip_thickness": 0.1}"#,
    solve,
};
