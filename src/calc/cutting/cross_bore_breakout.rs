//! Over what length does a drill cut only part of its circle where it breaks into a cross bore?

use crate::calc::limits;
use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "cross-bore-breakout",
    version: 1,
    topic: "cutting",
    question: "Over what length does a drill cut only part of its circle where it breaks into a cross bore?",
    formula: "interrupted_length = R - sqrt(R^2 - r^2); R = cross_bore_diameter/2, r = hole_diameter/2",
    inputs: &[
        Input::quantity("hole_diameter", "mm", "hole being drilled").above(0.0),
        Input::quantity("cross_bore_diameter", "mm", "bore it breaks into").above(0.0),
    ],
    outputs: &[Output::quantity("interrupted_length", "mm", "length of interrupted cut")],
    refusals: &[Refusal::of("hole_diameter", "greater than the cross bore")],
    usual_mistake: "letting go of the feed at the breakout",
    validity: "hole square to the cross bore and through its centreline",
    source: "circle",
    example: r#"{"hole_diameter": 3, "cross_bore_diameter": 8}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let (hole, cross) = (given.number("hole_diameter")? / 2.0, given.number("cross_bore_diameter")? / 2.0);
    if !limits::within(hole, cross) {
        return Err(Refused::new("hole_diameter", "The hole is wider than the bore it breaks into."));
    }
    // The same without the difference of two nearly equal numbers: r² / (R + sqrt(R² - r²)).
    let straight = ((cross - hole) * (cross + hole)).max(0.0).sqrt();
    Ok(Answer::new().with("interrupted_length", hole * hole / (cross + straight)))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, refuses};

    // Circle: 3-4-5 triangle.
    #[test]
    fn the_cut_is_interrupted_over_the_sagitta() {
        holds(
            "cross-bore-breakout",
            &json!({"hole_diameter": 6, "cross_bore_diameter": 10}),
            &json!({"interrupted_length": 1.0}),
        );
        holds(
            "cross-bore-breakout",
            &json!({"hole_diameter": 8, "cross_bore_diameter": 8}),
            &json!({"interrupted_length": 4.0}),
        );
        refuses("cross-bore-breakout", &json!({"hole_diameter": 8.1, "cross_bore_diameter": 8}), "hole_diameter");
    }
}
