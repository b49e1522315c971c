//! How do the tangential errors of a first article split into a Y register error, an index error and an off-centre
//! error?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};
use crate::calc::{degrees, least_squares};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "first-article-split",
    version: 1,
    topic: "inspection",
    question: "How do the tangential errors of a first article split into a Y register error, an index error and an \
         off-centre error?",
    formula: "least squares on error_i = -y_register_error + r_i*angle_error + off_centre_y cos(azimuth_i) + \
         off_centre_z sin(azimuth_i), angle_error in radians",
    inputs: &[
        Input::quantities("azimuths", "deg", "azimuth of each feature on the part, right-hand about +X from +Z")
            .least_items(4),
        Input::quantities("radii", "mm", "radius of each feature").above(0.0).least_items(4).same_length_as("azimuths"),
        Input::quantities("tangential_errors", "mm", "measured error across, plus in the direction of growing azimuth")
            .least_items(4)
            .same_length_as("azimuths"),
    ],
    outputs: &[
        Output::quantity("y_register_error", "mm", "error of the Y register"),
        Output::quantity("angle_error", "deg", "error of the rotary zero"),
        Output::quantity("off_centre_y", "mm", "off-centre left in Y"),
        Output::quantity("off_centre_z", "mm", "off-centre left in Z"),
        Output::quantity("largest_residual", "mm", "largest absolute residual"),
    ],
    refusals: &[
        Refusal::of("azimuths", "fewer than four features, or fewer than three different azimuths modulo 360"),
        Refusal::of(
            "radii",
            "another number of entries, or the radii cannot be told from the other columns (one radius only)",
        ),
        Refusal::of("tangential_errors", "another number of entries than azimuths"),
    ],
    usual_mistake: "with one radius only, a Y error and an index error cannot be told apart: refuse and ask for a \
         second radius",
    validity: "small errors",
    source: "linear least squares",
    example: r#"{
            "azimuths": [0, 90, 180, 270, 45], "radii": [24, 24, 24, 24, 40],
            "tangential_errors": [0.012, 0.004, -0.003, 0.005, 0.014]
        }"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let azimuths = given.numbers("azimuths")?;
    let errors = given.numbers("tangential_errors")?;
    let round = degrees::different_angles(azimuths, 3) >= 3;
    let turns: Vec<(f64, f64)> = azimuths.iter().map(|azimuth| degrees::sine_and_cosine(*azimuth)).collect();
    let around: Vec<[f64; 3]> = turns.iter().map(|(sine, cosine)| [-1.0, *cosine, *sine]).collect();
    if !round || least_squares::fit(&around, errors).is_err() {
        let reason = "azimuths must hold at least three clearly different angles: measure features further round.";
        return Err(Refused::new("azimuths", reason));
    }
    let rows: Vec<[f64; 4]> = turns
        .iter()
        .zip(given.numbers("radii")?)
        .map(|((sine, cosine), radius)| [-1.0, *radius, *cosine, *sine])
        .collect();
    let fit = least_squares::fit(&rows, errors).map_err(|_alike| {
        let reason = "radii cannot part a Y error from an index error: measure features at a second radius as well, or \
             take the step of a bore drilled from both sides.";
        Refused::new("radii", reason)
    })?;
    let [y_register_error, angle_error, off_centre_y, off_centre_z] = fit.coefficients;
    Ok(Answer::new()
        .with("y_register_error", y_register_error)
        .with("angle_error", angle_error.to_degrees())
        .with("off_centre_y", off_centre_y)
        .with("off_centre_z", off_centre_z)
        .with("largest_residual", fit.largest_residual()))
}

#[cfg(test)]
mod tests {
    use serde_json::{Value, json};

    use crate::calc::check::{answer, holds, near, refuses, with};

    // Made by hand at quarter turns, radii 20 mm (azimuths 0 and 180) and 30 mm (90 and 270), from a Y register error
    // of 5 um, an index error of 0.0002 rad, off-centres of 3 um in Y and -4 um in Z:
    // -5 + 20 x 0.2 + 3 = 2 um, -5 + 6 - 4 = -3 um, -5 + 4 - 3 = -4 um, -5 + 6 + 4 = 5 um.
    fn four_features() -> Value {
        json!({"azimuths": [0, 90, 180, 270], "radii": [20, 30, 20, 30],
            "tangential_errors": [0.002, -0.003, -0.004, 0.005]})
    }

    #[test]
    fn errors_made_by_hand_come_back() {
        let expected = json!({"y_register_error": 0.005, "angle_error": 0.0002_f64.to_degrees(), "off_centre_y": 0.003,
            "off_centre_z": -0.004, "largest_residual": 0.0});
        holds("first-article-split", &four_features(), &expected);
    }

    // Property: the order of the features does not matter, nor whole turns of an azimuth, and one radius twice as large
    // carries the index error twice as far.
    #[test]
    fn order_and_whole_turns_do_not_matter() {
        let first = answer("first-article-split", &four_features());
        let inputs = json!({"azimuths": [630, 0, -270, 180], "radii": [30, 20, 30, 20],
            "tangential_errors": [0.005, 0.002, -0.003, -0.004]});
        for key in ["y_register_error", "angle_error", "off_centre_y", "off_centre_z"] {
            near("first-article-split", &inputs, key, first[key]["value"].as_f64().unwrap(), 1e-14);
        }
        let twice = with(
            &with(&four_features(), "radii", json!([40, 60, 40, 60])),
            "tangential_errors",
            json!([0.006, 0.003, 0.0, 0.011]),
        );
        near("first-article-split", &twice, "angle_error", 0.0002_f64.to_degrees(), 1e-14);
    }

    // Algebra: at quarter turns a pattern that changes sign from feature to feature is perpendicular to all four causes.
    #[test]
    fn what_does_not_fit_stays_as_a_residual() {
        let inputs = json!({"azimuths": [0, 90, 180, 270, 0, 90, 180, 270], "radii": [20, 20, 20, 20, 30, 30, 30, 30],
            "tangential_errors": [0.001, -0.001, 0.001, -0.001, 0.001, -0.001, 0.001, -0.001]});
        holds(
            "first-article-split",
            &inputs,
            &json!({"y_register_error": 0.0, "angle_error": 0.0,
            "off_centre_y": 0.0, "off_centre_z": 0.0, "largest_residual": 0.001}),
        );
    }

    #[test]
    fn one_radius_is_refused_and_so_are_too_few_azimuths() {
        let inputs = four_features();
        refuses("first-article-split", &with(&inputs, "radii", json!([20, 20, 20, 20])), "radii");
        refuses("first-article-split", &with(&inputs, "radii", json!([20, 20, 20, 20.000_000_001])), "radii");
        refuses("first-article-split", &with(&inputs, "radii", json!([20, 30, 20])), "radii");
        refuses("first-article-split", &with(&inputs, "radii", json!([20, 30, 20, 0])), "radii");
        refuses("first-article-split", &with(&inputs, "azimuths", json!([0, 180, 360, 180])), "azimuths");
        refuses("first-article-split", &with(&inputs, "azimuths", json!([0, 1e-5, 2e-5, 3e-5])), "azimuths");
        let three = json!({"azimuths": [0, 90, 180], "radii": [20, 30, 20], "tangential_errors": [0, 0, 0]});
        refuses("first-article-split", &three, "azimuths");
        refuses("first-article-split", &with(&inputs, "tangential_errors", json!([1, 2, 3])), "tangential_errors");
    }

    // Radii that only follow the azimuths (r = 20 + 5 cos) hide the index error in the off-centre.
    #[test]
    fn radii_that_follow_the_azimuths_are_refused() {
        let inputs = with(&four_features(), "radii", json!([25, 20, 15, 20]));
        refuses("first-article-split", &inputs, "radii");
    }

    #[test]
    fn extreme_radii_stay_numbers() {
        let inputs = with(&four_features(), "radii", json!([1e-200, 1e200, 5, 1e-9]));
        answer("first-article-split", &inputs);
    }
}
