//! What gap should the split of a thin clamping ring show on a part, and which part diameter does a measured gap
//! mean?

use std::f64::consts::PI;

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

fn solve(given: &Given) -> Result<Answer, Refused> {
    let (free_gap, ring_bore) = (given.number("free_gap")?, given.number("ring_bore")?);
    let gap = free_gap - PI * (ring_bore - given.number("part_diameter")?);
    if gap <= 0.0 {
        let reason = "part_diameter is so small that the ring closes before it grips: check part and ring.";
        return Err(Refused::new("part_diameter", reason));
    }
    let diameter_from_gap =
        given.optional_number("measured_gap")?.map(|measured| ring_bore - (free_gap - measured) / PI);
    Ok(Answer::new()
        .with("gap", gap)
        .with("gap_change_per_hundredth", PI * 0.01)
        .with("diameter_from_gap", diameter_from_gap))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, refuses, with};

    // Worked case ring_gap_vs_diameter of the project's own set of cases; the gap measured means the diameter again.
    #[test]
    fn the_gap_magnifies_the_diameter() {
        let inputs = json!({"free_gap": 1.5, "ring_bore": 48.03, "part_diameter": 47.994});
        let expected = json!({"gap": 1.386_902_664_470_763_2, "gap_change_per_hundredth": 0.031_415_926_535_897_934,
            "diameter_from_gap": null});
        holds("ring-gap", &inputs, &expected);
        let measured = with(&inputs, "measured_gap", json!(1.386_902_664_470_763_2));
        holds("ring-gap", &measured, &json!({"diameter_from_gap": 47.994}));
        refuses("ring-gap", &with(&inputs, "part_diameter", json!(47.5)), "part_diameter");
        refuses("ring-gap", &with(&inputs, "measured_gap", json!(-0.1)), "measured_gap");
    }
}
