//! Which index angle brings an outward normal of the part up to the spindle, and what tilt is left over?

use crate::calc::degrees;
use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "index-for-normal",
    version: 1,
    topic: "rotary",
    question: "Which index angle brings an outward normal of the part up to the spindle, and what tilt is left over?",
    formula: "turn = atan2(n_y, n_z); index_angle = s*turn mod 360 (s=+1 right-hand, -1 left-hand); tilt_left = \
         asin(n_x/|n|)",
    inputs: &[
        Input::vector("outward_normal", 3, "1", "outward normal [x, y, z] of the feature at index 0, any length"),
        Input::work_turns(),
    ],
    outputs: &[
        Output::quantity("turn_about_x", "deg", "right-hand turn of the work about +X").round_the_circle(),
        Output::quantity("index_angle", "deg", "commanded rotary angle, 0 to 360").round_the_circle(),
        Output::quantity(
            "tilt_left",
            "deg",
            "angle left over, positive when the normal leans to +X; not zero means one rotary axis cannot face it",
        ),
    ],
    refusals: &[Refusal::of(
        "outward_normal",
        "zero vector, or a normal exactly along the rotary axis (y and z both zero)",
    )],
    usual_mistake: "atan in place of atan2 puts half the holes on the opposite side",
    validity: "rigid bodies, one rotary axis",
    source: "vector algebra",
    example: r#"{"outward_normal": [0.0, -0.953716950748, 0.300705799504], "work_turns": "left-hand"}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let [x, y, z] = given.vector("outward_normal")?;
    let across = y.hypot(z);
    if across <= 0.0 {
        let reason = "outward_normal lies along the rotary axis or is zero: no index angle can bring it up.";
        return Err(Refused::new("outward_normal", reason));
    }
    let turn = y.atan2(z).to_degrees();
    Ok(Answer::new()
        .with("turn_about_x", turn)
        .with("index_angle", degrees::into_full_turn(given.work_turns()? * turn))
        .with("tilt_left", x.atan2(across).to_degrees()))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, refuses};

    // Worked case index_for_normal_iso841 of the project's own set of cases.
    #[test]
    fn a_normal_behind_and_below_is_brought_up() {
        let inputs = json!({"outward_normal": [0.0, -0.953_716_950_748, 0.300_705_799_504], "work_turns": "left-hand"});
        let expected = json!({"turn_about_x": -72.500_000_000_011_03, "index_angle": 72.500_000_000_011_01,
            "tilt_left": 0.0});
        holds("index-for-normal", &inputs, &expected);
    }

    // Geometry: +Y comes up by a right-hand quarter turn; a normal that leans 45 degrees to +X keeps 45 degrees.
    #[test]
    fn a_sideways_normal_needs_a_quarter_turn() {
        let inputs = json!({"outward_normal": [5, 5, 0], "work_turns": "right-hand"});
        holds("index-for-normal", &inputs, &json!({"turn_about_x": 90.0, "index_angle": 90.0, "tilt_left": 45.0}));
        let inputs = json!({"outward_normal": [-5e-300, 0, -5e-300], "work_turns": "left-hand"});
        holds("index-for-normal", &inputs, &json!({"index_angle": 180.0, "tilt_left": -45.0}));
    }

    #[test]
    fn normals_that_no_turn_brings_up_are_refused() {
        for normal in [json!([0, 0, 0]), json!([1, 0, 0])] {
            let inputs = json!({"outward_normal": normal, "work_turns": "left-hand"});
            refuses("index-for-normal", &inputs, "outward_normal");
        }
    }
}
