//! Over what length does a drill cut only part of its circle where it breaks into a cross bore?

use super::round_surface;
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
    let hole_radius = given.number("hole_diameter")? / 2.0;
    let cross_bore_radius = given.number("cross_bore_diameter")? / 2.0;
    if !limits::within(hole_radius, cross_bore_radius) {
        let reason = "hole_diameter must not be greater than the cross bore: this hole cuts right through it.";
        return Err(Refused::new("hole_diameter", reason));
    }
    Ok(Answer::new().with("interrupted_length", round_surface::fall(cross_bore_radius, hole_radius)))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, refuses};

    // 4 - sqrt(13.75) with 40 digits from an arbitrary-precision program; and the schoolbook triangle 3-4-5.
    #[test]
    fn the_cut_is_interrupted_over_the_arch_of_the_bore() {
        let inputs = json!({"hole_diameter": 3, "cross_bore_diameter": 8});
        holds("cross-bore-breakout", &inputs, &json!({"interrupted_length": 0.291_900_756_452_168_54}));
        let inputs = json!({"hole_diameter": 6, "cross_bore_diameter": 10});
        holds("cross-bore-breakout", &inputs, &json!({"interrupted_length": 1.0}));
    }

    #[test]
    fn a_hole_may_be_as_wide_as_the_bore_and_no_wider() {
        let inputs = json!({"hole_diameter": 7.62, "cross_bore_diameter": "0.3 in"});
        holds("cross-bore-breakout", &inputs, &json!({"interrupted_length": 3.81}));
        let inputs = json!({"hole_diameter": 8.001, "cross_bore_diameter": 8});
        refuses("cross-bore-breakout", &inputs, "hole_diameter");
        let inputs = json!({"hole_diameter": 1, "cross_bore_diameter": -8});
        refuses("cross-bore-breakout", &inputs, "cross_bore_diameter");
    }
}
