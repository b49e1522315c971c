//! How much did the surface really move when a lever indicator stands at an angle to it?

use crate::calc::degrees;
use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "lever-indicator-cosine",
    version: 1,
    topic: "metrology",
    question: "How much did the surface really move when a lever indicator stands at an angle to it?",
    formula: "true_movement = reading cos(lever_angle); over_reading = 100 (1/cos(lever_angle) - 1)",
    inputs: &[
        Input::quantity("reading", "mm", "movement shown"),
        Input::quantity("lever_angle", "deg", "angle between the lever and the surface").at_least(0.0).below(90.0),
    ],
    outputs: &[
        Output::quantity("true_movement", "mm", "real movement"),
        Output::quantity("over_reading", "%", "by how much the indicator reads high"),
    ],
    refusals: &[],
    usual_mistake: "dividing by the cosine in place of multiplying",
    validity: "small movement of a plain lever",
    source: "small motion of a lever",
    example: r#"{"reading": 0.1, "lever_angle": 30.0}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let lever_angle = given.number("lever_angle")?;
    let (_, cosine) = degrees::sine_and_cosine(lever_angle);
    let (sine_of_half, _) = degrees::sine_and_cosine(lever_angle / 2.0);
    // 1/cos - 1 without the loss of digits at small angles.
    let over_reading = 2.0 * sine_of_half.powi(2) / cosine;
    Ok(Answer::new()
        .with("true_movement", given.number("reading")? * cosine)
        .with("over_reading", 100.0 * over_reading))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, near, refuses};

    // Published compensation table for lever indicators: factor at each angle to two places, and its three examples of
    // a reading of 0.200 mm.
    #[test]
    fn the_published_factors() {
        for (angle, factor) in [(10, 0.98), (20, 0.94), (30, 0.87), (40, 0.77), (50, 0.64), (60, 0.50)] {
            let inputs = json!({"reading": 1, "lever_angle": angle});
            near("lever-indicator-cosine", &inputs, "true_movement", factor, 0.0051);
        }
        for (angle, movement) in [(10, 0.196), (20, 0.188), (30, 0.174)] {
            let inputs = json!({"reading": 0.2, "lever_angle": angle});
            near("lever-indicator-cosine", &inputs, "true_movement", movement, 0.0011);
        }
    }

    // Algebra: at 60 degrees the reading is twice the movement; series a^2/2 for a small angle.
    #[test]
    fn the_lever_reads_high() {
        let inputs = json!({"reading": -0.5, "lever_angle": 60});
        holds("lever-indicator-cosine", &inputs, &json!({"true_movement": -0.25, "over_reading": 100.0}));
        let small = json!({"reading": 1, "lever_angle": "1e-6 rad"});
        holds("lever-indicator-cosine", &small, &json!({"over_reading": 5e-11}));
        for angle in [-1, 90] {
            refuses("lever-indicator-cosine", &json!({"reading": 1, "lever_angle": angle}), "lever_angle");
        }
    }
}
