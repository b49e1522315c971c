//! How does a relief hole on the corner bisector cut into the walls so that a sharp corner can seat?

use std::f64::consts::{FRAC_1_SQRT_2, SQRT_2};

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "corner-relief-hole",
    version: 1,
    topic: "fit",
    question: "How does a relief hole on the corner bisector cut into the walls so that a sharp corner can seat?",
    formula: "centre_offset = r/sqrt(2) from each wall; wall_lost = sqrt(2) r; overcut = r(1 - 1/sqrt(2)); r = \
         relief_diameter/2",
    inputs: &[Input::quantity("relief_diameter", "mm", "diameter of the relief hole").above(0.0)],
    outputs: &[
        Output::quantity("centre_offset", "mm", "hole centre inside each wall"),
        Output::quantity("wall_lost", "mm", "length of each wall lost from the corner"),
        Output::quantity("overcut", "mm", "depth of the hole beyond each wall"),
    ],
    refusals: &[],
    usual_mistake: "centring the hole on the corner itself: it eats more wall than needed",
    validity: "square corner, hole through the corner point",
    source: "circle geometry",
    example: r#"{"relief_diameter": 3}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let radius = given.number("relief_diameter")? / 2.0;
    Ok(Answer::new()
        .with("centre_offset", radius * FRAC_1_SQRT_2)
        .with("wall_lost", radius * SQRT_2)
        .with("overcut", radius * (1.0 - FRAC_1_SQRT_2)))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{answer, refuses};

    // Geometry: the hole passes through the corner, and through each wall where the wall ends.
    #[test]
    fn the_hole_passes_through_the_corner() {
        let answer = answer("corner-relief-hole", &json!({"relief_diameter": 3}));
        let at = |key: &str| answer[key]["value"].as_f64().unwrap();
        let offset = at("centre_offset");
        assert!((offset.hypot(offset) - 1.5).abs() < 1e-12);
        assert!(((at("wall_lost") - offset).hypot(offset) - 1.5).abs() < 1e-12);
        assert!((offset + at("overcut") - 1.5).abs() < 1e-12);
        refuses("corner-relief-hole", &json!({"relief_diameter": 0}), "relief_diameter");
    }
}
