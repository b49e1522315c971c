//! How do the depth errors of a first article split into a Z register error and an off-centre error?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};
use crate::calc::{degrees, least_squares};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "depth-error-split",
    version: 1,
    topic: "inspection",
    question: "How do the depth errors of a first article split into a Z register error and an off-centre error?",
    formula: "least squares on error_i = -z_register_error - off_centre_y sin(azimuth_i) + off_centre_z \
         cos(azimuth_i)",
    inputs: &[
        Input::quantities("azimuths", "deg", "azimuth of each feature on the part, right-hand about +X from +Z")
            .least_items(3),
        Input::quantities("depth_errors", "mm", "measured depth error, plus = too deep")
            .least_items(3)
            .same_length_as("azimuths"),
    ],
    outputs: &[
        Output::quantity("z_register_error", "mm", "error of the Z register, plus = register too high"),
        Output::quantity("off_centre_y", "mm", "off-centre left in Y"),
        Output::quantity("off_centre_z", "mm", "off-centre left in Z"),
        Output::quantity("largest_residual", "mm", "largest absolute residual"),
    ],
    refusals: &[
        Refusal::of("azimuths", "fewer than three, or fewer than three different azimuths modulo 360"),
        Refusal::of("depth_errors", "another number of entries than azimuths"),
    ],
    usual_mistake: "a register that stands too high drills too shallow: mind the sign",
    validity: "small errors",
    source: "linear least squares",
    example: r#"{"azimuths": [0, 90, 180, 270], "depth_errors": [0.01, 0.004, 0.002, 0.008]}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let azimuths = given.numbers("azimuths")?;
    let too_few = || {
        let reason = "azimuths must hold at least three clearly different angles to part the register from the \
             off-centre.";
        Refused::new("azimuths", reason)
    };
    if degrees::different_angles(azimuths, 3) < 3 {
        return Err(too_few());
    }
    let rows: Vec<[f64; 3]> = azimuths
        .iter()
        .map(|azimuth| degrees::sine_and_cosine(*azimuth))
        .map(|(sine, cosine)| [-1.0, -sine, cosine])
        .collect();
    let fit = least_squares::fit(&rows, given.numbers("depth_errors")?).map_err(|_alike| too_few())?;
    let [z_register_error, off_centre_y, off_centre_z] = fit.coefficients;
    Ok(Answer::new()
        .with("z_register_error", z_register_error)
        .with("off_centre_y", off_centre_y)
        .with("off_centre_z", off_centre_z)
        .with("largest_residual", fit.largest_residual()))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, refuses, with};

    // Algebra by hand: at quarter turns the register is minus the mean, and opposite features part the off-centre. The
    // one pattern left, (1, -1, 1, -1), is a residual of a quarter of its sum.
    #[test]
    fn quarter_turns_are_split_by_hand() {
        let inputs = json!({"azimuths": [0, 90, 180, 270], "depth_errors": [0.011, -0.013, -0.003, 0.009]});
        let expected = json!({"z_register_error": -0.001, "off_centre_y": 0.011, "off_centre_z": 0.007,
            "largest_residual": 0.003});
        holds("depth-error-split", &inputs, &expected);
    }

    // Geometry: a register that stands too high by 20 um drills 20 um too shallow all round.
    #[test]
    fn a_high_register_drills_shallow() {
        let inputs = json!({"azimuths": [10, 130, 250, 370], "depth_errors": [-0.02, -0.02, -0.02, -0.02]});
        let expected = json!({"z_register_error": 0.02, "off_centre_y": 0.0, "off_centre_z": 0.0});
        holds("depth-error-split", &inputs, &expected);
    }

    #[test]
    fn azimuths_that_are_not_three_different_ones_are_refused() {
        let inputs = json!({"azimuths": [0, 180, 360], "depth_errors": [0, 1, 2]});
        refuses("depth-error-split", &inputs, "azimuths");
        refuses("depth-error-split", &with(&inputs, "azimuths", json!([0, 180])), "azimuths");
        refuses("depth-error-split", &with(&inputs, "azimuths", json!([0, 1e-5, 2e-5])), "azimuths");
        refuses("depth-error-split", &with(&inputs, "depth_errors", json!([0, 1])), "depth_errors");
        refuses("depth-error-split", &with(&inputs, "depth_errors", json!([0, 1, "2 deg"])), "depth_errors");
    }

    #[test]
    fn extreme_errors_stay_numbers() {
        let inputs = json!({"azimuths": [1e15, 45, 90, -200], "depth_errors": [1e200, -1e200, 0, 1e-200]});
        crate::calc::check::answer("depth-error-split", &inputs);
    }
}
