//! What is the mean of angles that may lie on both sides of zero?

use crate::calc::degrees;
use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "circular-mean",
    version: 1,
    topic: "rotary",
    question: "What is the mean of angles that may lie on both sides of zero?",
    formula: "mean_angle = atan2(sum sin, sum cos) mod 360; spread = sqrt(sum d^2/(n-1)) with d = angle - \
         mean_angle brought into -180..180",
    inputs: &[Input::quantities("angles", "deg", "angles read").least_items(1)],
    outputs: &[
        Output::quantity("mean_angle", "deg", "mean round the circle, 0 to 360").round_the_circle(),
        Output::quantity("plain_mean", "deg", "ordinary mean of the numbers as entered, shown as a warning"),
        Output::quantity("spread", "deg", "standard deviation about the circular mean").null_when("only one angle"),
    ],
    refusals: &[Refusal::of("angles", "empty list, or angles that cancel (length of the mean vector below 1e-9)")],
    usual_mistake: "the ordinary mean of 359 and 1 is 180",
    validity: "angles that do not spread over the whole circle",
    source: "directional statistics",
    example: r#"{"angles": [359.998, 0.004, 359.999, 0.005]}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let angles = given.numbers("angles")?;
    let (sines, cosines) = angles
        .iter()
        .map(|angle| degrees::sine_and_cosine(*angle))
        .fold((0.0, 0.0), |(sines, cosines), (sine, cosine)| (sines + sine, cosines + cosine));
    #[expect(clippy::cast_precision_loss, reason = "no list has 2^53 entries")]
    let count = angles.len() as f64;
    if f64::hypot(sines, cosines) / count < SHORTEST_MEAN_VECTOR {
        let reason = "angles lie all round the circle and cancel: they have no mean.";
        return Err(Refused::new("angles", reason));
    }
    let mean_angle = degrees::into_full_turn(sines.atan2(cosines).to_degrees());
    let squares: f64 = angles.iter().map(|angle| degrees::into_half_turns(angle - mean_angle).powi(2)).sum();
    Ok(Answer::new()
        .with("mean_angle", mean_angle)
        .with("plain_mean", angles.iter().map(|angle| angle / count).sum::<f64>())
        .with("spread", (angles.len() > 1).then(|| (squares / (count - 1.0)).sqrt())))
}

/// A mean vector shorter than this has no direction.
const SHORTEST_MEAN_VECTOR: f64 = 1e-9;

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, refuses};

    // Worked case circular_mean_of_A of the project's own set of cases.
    #[test]
    fn readings_on_both_sides_of_zero_average_to_near_zero() {
        let inputs = json!({"angles": [359.998, 0.004, 359.999, 0.005]});
        let expected = json!({"mean_angle": 0.001_499_999_999_991_757_7, "plain_mean": 180.0015,
            "spread": 0.003_511_884_584_266_301_4});
        holds("circular-mean", &inputs, &expected);
    }

    // By hand.
    #[test]
    fn one_angle_has_no_spread() {
        let expected = json!({"mean_angle": 350.0, "plain_mean": -10.0, "spread": null});
        holds("circular-mean", &json!({"angles": [-10]}), &expected);
    }

    #[test]
    fn angles_that_cancel_are_refused() {
        for angles in [json!([]), json!([0, 180]), json!([10, 130, 250]), json!([0, 90, 180, 270])] {
            refuses("circular-mean", &json!({"angles": angles}), "angles");
        }
    }
}
