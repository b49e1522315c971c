//! What eccentricity and at which angle is hidden in readings taken round a turn?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};
use crate::calc::{degrees, least_squares};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "first-harmonic",
    version: 1,
    topic: "metrology",
    question: "What eccentricity and at which angle is hidden in readings taken round a turn?",
    formula: "least squares on reading = mean + cosine_part cos(angle) + sine_part sin(angle); amplitude = \
         sqrt(cosine_part^2+sine_part^2); high_point_angle = atan2(sine_part, cosine_part) mod 360; run_out = 2 \
         amplitude; residual_deviation = sqrt(sum r^2/(n-3))",
    inputs: &[
        Input::quantities("angles", "deg", "angles, at least three different ones (modulo 360)").least_items(3),
        Input::quantities("readings", "mm", "reading at each angle").least_items(3).same_length_as("angles"),
    ],
    outputs: &[
        Output::quantity("mean", "mm", "constant part"),
        Output::quantity("cosine_part", "mm", "part that goes with the cosine"),
        Output::quantity("sine_part", "mm", "part that goes with the sine"),
        Output::quantity("amplitude", "mm", "eccentricity"),
        Output::quantity("high_point_angle", "deg", "angle of the high point")
            .null_when("amplitude below 1e-12 mm")
            .round_the_circle(),
        Output::quantity("run_out", "mm", "2 times amplitude"),
        Output::quantity("residual_deviation", "mm", "standard deviation of the residuals")
            .null_when("exactly three readings"),
    ],
    refusals: &[
        Refusal::of("angles", "fewer than three, or fewer than three different angles modulo 360"),
        Refusal::of("readings", "another number of entries than angles"),
    ],
    usual_mistake: "half of highest minus lowest is not the eccentricity when there is noise or lobing",
    validity: "one wave per turn",
    source: "linear least squares",
    example: r#"{"angles": [0, 90, 180, 270], "readings": [0.012, 0.003, -0.011, -0.002]}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    const NOTHING: f64 = 1e-12;
    let angles = given.numbers("angles")?;
    let too_few = || {
        Refused::new("angles", "angles must hold at least three clearly different ones to find a wave round the turn.")
    };
    if degrees::different_angles(angles, 3) < 3 {
        return Err(too_few());
    }
    let rows: Vec<[f64; 3]> =
        angles.iter().map(|angle| degrees::sine_and_cosine(*angle)).map(|(sine, cosine)| [1.0, cosine, sine]).collect();
    let fit = least_squares::fit(&rows, given.numbers("readings")?).map_err(|_alike| too_few())?;
    let [mean, cosine_part, sine_part] = fit.coefficients;
    let amplitude = cosine_part.hypot(sine_part);
    let high_point = degrees::into_full_turn(sine_part.atan2(cosine_part).to_degrees());
    Ok(Answer::new()
        .with("mean", mean)
        .with("cosine_part", cosine_part)
        .with("sine_part", sine_part)
        .with("amplitude", amplitude)
        .with("high_point_angle", (amplitude >= NOTHING).then_some(high_point))
        .with("run_out", 2.0 * amplitude)
        .with("residual_deviation", fit.residual_deviation()))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use serde_json::json;

    use crate::calc::check::{answer, holds, refuses, round_a_turn, with};

    // Least-squares circle formula of the ISO 12181 kind, a = 2/n sum x: 0.012 at 35 degrees on an offset of 0.004.
    #[test]
    fn four_readings_find_the_eccentricity() {
        let inputs = round_a_turn(4, |angle| 0.004 + 0.012 * (angle - 35.0_f64.to_radians()).cos());
        let expected = json!({"mean": 0.004, "amplitude": 0.012, "high_point_angle": 35.0, "run_out": 0.024});
        holds("first-harmonic", &inputs, &expected);
    }

    // The same formula: lobes of order 2 to n - 2 do not touch the first wave when the angles divide the turn evenly.
    #[test]
    fn lobes_do_not_bias_the_eccentricity() {
        let inputs = round_a_turn(12, |angle| {
            0.004 + 0.012 * (angle - 35.0_f64.to_radians()).cos() + 0.003 * (2.0 * angle).cos()
                - 0.002 * (3.0 * angle).sin()
        });
        let deviation = (12.0 / 2.0 * (0.003_f64.powi(2) + 0.002_f64.powi(2)) / 9.0).sqrt();
        let expected = json!({"amplitude": 0.012, "high_point_angle": 35.0, "residual_deviation": deviation});
        holds("first-harmonic", &inputs, &expected);
    }

    // Geometry: a point 25 mm from the centre of a disc that runs out by 1 mm; the first wave of the distances is the
    // run-out to their own order, and the mean is short by e^2/4R.
    #[test]
    fn an_eccentric_disc_is_a_limacon() {
        let (radius, eccentric) = (25.0_f64, 1.0_f64);
        let inputs = round_a_turn(8, |angle| {
            eccentric * angle.cos() + (radius.powi(2) - (eccentric * angle.sin()).powi(2)).sqrt()
        });
        let found = answer("first-harmonic", &inputs);
        let number = |key: &str| found[key]["value"].as_f64().unwrap();
        assert!((number("amplitude") - eccentric).abs() < 1e-12);
        assert!((number("mean") - 24.989_996_997_998).abs() < 1e-11, "{}", number("mean"));
    }

    #[test]
    fn a_flat_turn_has_no_high_point() {
        let inputs = json!({"angles": [0, 120, 240], "readings": [0.5, 0.5, 0.5]});
        let expected = json!({"mean": 0.5, "amplitude": 0.0, "high_point_angle": null, "residual_deviation": null});
        holds("first-harmonic", &inputs, &expected);
        refuses("first-harmonic", &with(&inputs, "angles", json!([0, 120, 480])), "angles");
        refuses("first-harmonic", &with(&inputs, "angles", json!([0, 120])), "angles");
        refuses("first-harmonic", &with(&inputs, "readings", json!([0, 1, 2, 3])), "readings");
    }

    proptest! {
        // Geometry: starting the turn elsewhere turns the high point along and leaves the run-out.
        #[test]
        fn the_start_of_the_turn_does_not_matter(
            start in -720.0..720.0_f64,
            readings in prop::collection::vec(-1.0..1.0_f64, 7),
        ) {
            let angles = |first: f64| (0..7).map(|place| first + 50.0 * f64::from(place)).collect::<Vec<f64>>();
            let at_zero = answer("first-harmonic", &json!({"angles": angles(0.0), "readings": readings}));
            let turned = answer("first-harmonic", &json!({"angles": angles(start), "readings": readings}));
            let both = |key: &str| (at_zero[key]["value"].as_f64().unwrap(), turned[key]["value"].as_f64().unwrap());
            let (amplitude, turned_amplitude) = both("amplitude");
            prop_assert!((amplitude - turned_amplitude).abs() < 1e-12);
            let (high_point, turned_high_point) = both("high_point_angle");
            let apart = (turned_high_point - high_point - start).to_radians();
            prop_assert!(amplitude * apart.sin().abs() < 1e-11 && (amplitude < 1e-6 || apart.cos() > 0.0));
        }
    }
}
