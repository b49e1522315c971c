//! How far out of round is a part, and which way does the oval lie, by readings taken round a turn?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};
use crate::calc::{degrees, least_squares};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "second-harmonic",
    version: 1,
    topic: "metrology",
    question: "How far out of round is a part, and which way does the oval lie, by readings taken round a turn?",
    formula: "least squares on reading = mean + a1 cos(angle) + b1 sin(angle) + a2 cos(2 angle) + b2 sin(2 angle); \
         eccentricity = sqrt(a1^2 + b1^2); high_point_angle = atan2(b1, a1) mod 360; oval = 2 sqrt(a2^2 + b2^2); \
         long_axis_angle = atan2(b2, a2)/2 mod 180; residual_deviation = sqrt(sum r^2/(n - 5)); shift_* = minus the \
         eccentricity along rotary zero and across it",
    inputs: &[
        Input::quantities("angles", "deg", "angles, at least five different ones (modulo 360)").least_items(5),
        Input::quantities("readings", "mm", "reading at each angle, plus = higher")
            .least_items(5)
            .same_length_as("angles"),
    ],
    outputs: &[
        Output::quantity("eccentricity", "mm", "how far the part sits off the axis"),
        Output::quantity("high_point_angle", "deg", "angle that stands at the indicator when the high spot does")
            .null_when("eccentricity below 1e-12 mm")
            .round_the_circle(),
        Output::quantity("run_out", "mm", "2 times the eccentricity: high to low from being off the axis"),
        Output::quantity("oval", "mm", "high to low from the squeezed shape: larger less smaller radius"),
        Output::quantity(
            "long_axis_angle",
            "deg",
            "angle at which the longer diameter stands at the indicator, 0 to 180",
        )
        .null_when("oval below 1e-12 mm"),
        Output::quantity("shift", "mm", "how far to shift the part away from the high spot"),
        Output::quantity("residual_deviation", "mm", "standard deviation of what neither explains")
            .null_when("exactly five readings"),
    ],
    refusals: &[
        Refusal::of("angles", "fewer than five, or fewer than five different angles modulo 360"),
        Refusal::of("readings", "another number of entries than angles"),
    ],
    usual_mistake: "shifting a part that is squeezed: the oval stays, however it is shifted",
    validity: "eccentricity and oval small against the radius; the indicator points at the axis",
    source: "linear least squares; roundness as in ISO 12181",
    example: r#"{
            "angles": [0, 45, 90, 135, 180, 225, 270, 315],
            "readings": [0.016, 0.011, 0.003, -0.006, -0.008, -0.012, -0.009, 0.003]
        }"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    const NOTHING: f64 = 1e-12;
    let angles = given.numbers("angles")?;
    let too_few = || {
        Refused::new("angles", "angles must hold at least five clearly different ones to tell an oval from a shift.")
    };
    if degrees::different_angles(angles, 5) < 5 {
        return Err(too_few());
    }
    let rows: Vec<[f64; 5]> = angles
        .iter()
        .map(|angle| {
            let (sine, cosine) = degrees::sine_and_cosine(*angle);
            let (double_sine, double_cosine) = degrees::sine_and_cosine(2.0 * (angle % 360.0));
            [1.0, cosine, sine, double_cosine, double_sine]
        })
        .collect();
    let fit = least_squares::fit(&rows, given.numbers("readings")?).map_err(|_alike| too_few())?;
    let [_, a1, b1, a2, b2] = fit.coefficients;
    let (eccentricity, half_oval) = (a1.hypot(b1), a2.hypot(b2));
    let high = degrees::into_full_turn(b1.atan2(a1).to_degrees());
    let long = degrees::into_full_turn(b2.atan2(a2).to_degrees()) / 2.0;
    Ok(Answer::new()
        .with("eccentricity", eccentricity)
        .with("high_point_angle", (eccentricity >= NOTHING).then_some(high))
        .with("run_out", 2.0 * eccentricity)
        .with("oval", 2.0 * half_oval)
        .with("long_axis_angle", (half_oval >= NOTHING).then_some(long))
        .with("shift", eccentricity)
        .with("residual_deviation", fit.residual_deviation()))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, refuses, round_a_turn, with};

    // Fourier series, by hand: 0.012 off towards 35 degrees, and 0.004 half an oval whose long axis stands at 110.
    #[test]
    fn the_shift_and_the_oval_are_told_apart() {
        for count in [5, 8, 12] {
            let inputs = round_a_turn(count, |angle| {
                0.3 + 0.012 * (angle - 35.0_f64.to_radians()).cos()
                    + 0.004 * (2.0 * (angle - 110.0_f64.to_radians())).cos()
            });
            let expected = json!({"eccentricity": 0.012, "high_point_angle": 35.0, "run_out": 0.024, "oval": 0.008,
                "long_axis_angle": 110.0, "shift": 0.012});
            holds("second-harmonic", &inputs, &expected);
        }
    }

    // Orthogonality of sines: a third wave on eight places is left over and touches neither.
    #[test]
    fn what_is_neither_is_left_over() {
        let inputs = round_a_turn(8, |angle| 0.01 * angle.cos() + 0.002 * (3.0 * angle).cos());
        let deviation = (8.0 / 2.0 * 0.002_f64.powi(2) / 3.0).sqrt();
        holds("second-harmonic", &inputs, &json!({"eccentricity": 0.01, "residual_deviation": deviation}));
    }

    #[test]
    fn four_places_cannot_tell_them_apart() {
        let inputs = round_a_turn(5, f64::cos);
        holds("second-harmonic", &inputs, &json!({"residual_deviation": null}));
        refuses("second-harmonic", &with(&inputs, "angles", json!([0, 90, 180, 270, 360])), "angles");
        refuses("second-harmonic", &with(&inputs, "readings", json!([0, 1, 2, 3])), "readings");
    }
}
