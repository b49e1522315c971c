//! What becomes of the fixture's off-centre when the rotary zero is taken again on a part that sits clocked in the
//! fixture?

use crate::calc::degrees;
use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "off-centre-after-reclocking",
    version: 1,
    topic: "rotary",
    question: "What becomes of the fixture's off-centre when the rotary zero is taken again on a part that sits \
         clocked in the fixture?",
    formula: "new = R_x(-clocking_angle) * (off_centre_y, off_centre_z); moved = 2 sqrt(y^2+z^2) \
         sin(|clocking_angle|/2)",
    inputs: &[
        Input::quantity("off_centre_y", "mm", "off-centre before, plus towards +Y at index 0"),
        Input::quantity("off_centre_z", "mm", "same towards +Z"),
        Input::quantity("clocking_angle", "deg", "right-hand turn of the new part in the fixture about +X")
            .at_least(-180.0)
            .at_most(180.0),
    ],
    outputs: &[
        Output::quantity("new_off_centre_y", "mm", "off-centre with the new zero"),
        Output::quantity("new_off_centre_z", "mm", "same in Z"),
        Output::quantity("moved", "mm", "length of the change"),
    ],
    refusals: &[],
    usual_mistake: "harmless for a centred fixture, several microns per tenth of a degree for one that stands \
         millimetres off centre",
    validity: "rigid bodies, one rotary axis",
    source: "plane rotation",
    example: r#"{"off_centre_y": 3.75, "off_centre_z": 0, "clocking_angle": 0.08}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let (y, z) = (given.number("off_centre_y")?, given.number("off_centre_z")?);
    let clocking_angle = given.number("clocking_angle")?;
    let (sine, cosine) = degrees::sine_and_cosine(clocking_angle);
    let (half_sine, _) = degrees::sine_and_cosine(clocking_angle.abs() / 2.0);
    Ok(Answer::new()
        .with("new_off_centre_y", y * cosine + z * sine)
        .with("new_off_centre_z", z * cosine - y * sine)
        .with("moved", 2.0 * y.hypot(z) * half_sine))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, near, refuses};

    // Worked by hand in the derivation of the formula: 3.75 mm off centre and 0.08 degrees move it by 0.0052 mm.
    #[test]
    fn a_fixture_far_off_centre_moves_by_microns() {
        let inputs = json!({"off_centre_y": 3.75, "off_centre_z": 0, "clocking_angle": 0.08});
        near("off-centre-after-reclocking", &inputs, "moved", 0.0052, 0.000_05);
    }

    // Geometry: taking the zero again after a quarter turn puts what lay at +Z on +Y.
    #[test]
    fn a_quarter_turn_swaps_the_axes() {
        let inputs = json!({"off_centre_y": 0, "off_centre_z": 1, "clocking_angle": 90});
        let expected = json!({"new_off_centre_y": 1.0, "new_off_centre_z": 0.0, "moved": 2.0_f64.sqrt()});
        holds("off-centre-after-reclocking", &inputs, &expected);
        let too_far = json!({"off_centre_y": 0, "off_centre_z": 1, "clocking_angle": 180.5});
        refuses("off-centre-after-reclocking", &too_far, "clocking_angle");
    }
}
