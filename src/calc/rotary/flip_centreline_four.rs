//! Where is the centreline, how far off centre is the fixture both ways, and do four flip readings close?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "flip-centreline-four",
    version: 1,
    topic: "rotary",
    question: "Where is the centreline, how far off centre is the fixture both ways, and do four flip readings close?",
    formula: "centreline_y = mean of four; off_centre_y = (m0-m180)/2; off_centre_z = s*(m270-m90)/2 with s=+1 \
         right-hand, -1 left-hand; closure = (m0+m180)-(m90+m270)",
    inputs: &[
        Input::quantity("midpoint_at_0", "mm", "middle of front and back at index 0"),
        Input::quantity("midpoint_at_90", "mm", "at index 90"),
        Input::quantity("midpoint_at_180", "mm", "at index 180"),
        Input::quantity("midpoint_at_270", "mm", "at index 270"),
        Input::work_turns(),
    ],
    outputs: &[
        Output::quantity("centreline_y", "mm", "machine Y of the rotary centreline"),
        Output::quantity("off_centre_y", "mm", "fixture off-centre in Y at index 0"),
        Output::quantity("off_centre_z", "mm", "fixture off-centre in Z at index 0"),
        Output::quantity("closure", "mm", "must be zero within the uncertainty"),
    ],
    refusals: &[],
    usual_mistake: "the sign of off_centre_z changes with the turning sense",
    validity: "as flip-centreline",
    source: "reversal method",
    example: r#"{
            "midpoint_at_0": -187.4462, "midpoint_at_90": -187.4524, "midpoint_at_180": -187.4812,
            "midpoint_at_270": -187.4746, "work_turns": "left-hand"
        }"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let (at_0, at_90) = (given.number("midpoint_at_0")?, given.number("midpoint_at_90")?);
    let (at_180, at_270) = (given.number("midpoint_at_180")?, given.number("midpoint_at_270")?);
    let (upright, sideways) = (f64::midpoint(at_0, at_180), f64::midpoint(at_90, at_270));
    Ok(Answer::new()
        .with("centreline_y", f64::midpoint(upright, sideways))
        .with("off_centre_y", f64::midpoint(at_0, -at_180))
        .with("off_centre_z", given.work_turns()? * f64::midpoint(at_270, -at_90))
        .with("closure", 2.0 * (upright - sideways)))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{answer, holds, with};

    // Geometry: midpoints made from a known centreline and off-centre by off-centre-shift give them back and close.
    #[test]
    fn four_flips_give_back_what_made_them() {
        for turns in ["right-hand", "left-hand"] {
            let made = answer(
                "off-centre-shift",
                &json!({"off_centre_y": 0.018, "off_centre_z": -0.011,
                "work_turns": turns, "index_angles": [0, 90, 180, 270]}),
            );
            let shift = |place: usize| -187.463 + made["shifts_y"][place]["value"].as_f64().unwrap();
            let inputs = json!({"midpoint_at_0": shift(0), "midpoint_at_90": shift(1), "midpoint_at_180": shift(2),
                "midpoint_at_270": shift(3), "work_turns": turns});
            let expected =
                json!({"centreline_y": -187.463, "off_centre_y": 0.018, "off_centre_z": -0.011, "closure": 0.0});
            holds("flip-centreline-four", &inputs, &expected);
            let slipped = with(&inputs, "midpoint_at_90", json!(shift(1) + 0.01));
            holds("flip-centreline-four", &slipped, &json!({"closure": -0.01}));
        }
    }
}
