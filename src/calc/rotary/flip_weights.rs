//! How much does each middle of a flip weigh in the centreline?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};
use crate::calc::{degrees, least_squares};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "flip-weights",
    version: 1,
    topic: "rotary",
    question: "How much does each middle weigh in the centreline, and how well is the off-centre known by them?",
    formula: "two angles half a turn apart: weights 1/2 and 1/2, off_centre_y_factor = 1/sqrt(2) at the first of them; three \
         or more different angles: least squares on (1, cos turn, -sin turn), turn = s*index_angle; factors = standard \
         uncertainty over that of one middle",
    inputs: &[
        Input::quantities("index_angles", "deg", "commanded rotary angles of the middles").least_items(2),
        Input::work_turns(),
    ],
    outputs: &[
        Output::quantities("weights", "1", "how much the centreline moves with each middle, in the order given"),
        Output::quantity("centreline_factor", "1", "standard uncertainty of the centreline over that of one middle"),
        Output::quantity("off_centre_y_factor", "1", "the same of the off-centre in Y"),
        Output::quantity("off_centre_z_factor", "1", "the same of the off-centre in Z")
            .null_when("two angles half a turn apart: the other off-centre does not show"),
    ],
    refusals: &[Refusal::of(
        "index_angles",
        "two angles that are not half a turn apart (0.01 degree), or fewer than three different ones of more",
    )],
    usual_mistake: "three angles within a quarter turn: the centreline is then far less sure than any middle",
    validity: "middles of equal worth, fixture not moved between them",
    source: "linear least squares; reversal method of the ISO 230-1 kind",
    example: r#"{"index_angles": [0, 90, 180, 270], "work_turns": "left-hand"}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let angles = given.numbers("index_angles")?;
    if let [first, second] = angles {
        return half_a_turn(second - first);
    }
    let too_few = || {
        let reason = "index_angles must hold two angles half a turn apart, or at least three clearly different ones.";
        Refused::new("index_angles", reason)
    };
    if degrees::different_angles(angles, 3) < 3 {
        return Err(too_few());
    }
    let sense = given.work_turns()?;
    let row = |index: &f64| {
        let (sine, cosine) = degrees::sine_and_cosine(sense * index);
        [1.0, cosine, -sine]
    };
    let rows: Vec<[f64; 3]> = angles.iter().map(row).collect();
    let mut weights = Vec::with_capacity(rows.len());
    let mut factors = [0.0; 3];
    for place in 0..rows.len() {
        // The answer to a middle of 1 at one angle and 0 at all others is its weight.
        let only: Vec<f64> = (0..rows.len()).map(|other| if other == place { 1.0 } else { 0.0 }).collect();
        let fit = least_squares::fit(&rows, &only).map_err(|_alike| too_few())?;
        weights.push(fit.coefficients[0]);
        factors = fit.variance_factors;
    }
    let [centreline, off_y, off_z] = factors.map(f64::sqrt);
    Ok(Answer::new()
        .with("weights", weights)
        .with("centreline_factor", centreline)
        .with("off_centre_y_factor", off_y)
        .with("off_centre_z_factor", off_z))
}

fn half_a_turn(apart: f64) -> Result<Answer, Refused> {
    const WITHIN_DEG: f64 = 0.01;
    if (degrees::into_full_turn(apart) - 180.0).abs() > WITHIN_DEG {
        let reason = "two index_angles must be half a turn apart; otherwise take three or more.";
        return Err(Refused::new("index_angles", reason));
    }
    Ok(Answer::new()
        .with("weights", vec![0.5, 0.5])
        .with("centreline_factor", std::f64::consts::FRAC_1_SQRT_2)
        .with("off_centre_y_factor", std::f64::consts::FRAC_1_SQRT_2)
        .with("off_centre_z_factor", None))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{answer, holds, refuses};

    // Algebra: n evenly spaced angles weigh 1/n each; the centreline is known by 1/sqrt(n), the off-centre by sqrt(2/n).
    #[test]
    fn evenly_spaced_angles_weigh_the_same() {
        for count in [3_u32, 4, 6, 12] {
            let share = 1.0 / f64::from(count);
            let angles: Vec<f64> = (0..count).map(|one| 17.0 + 360.0 * f64::from(one) * share).collect();
            let expected = json!({"weights": vec![share; angles.len()], "centreline_factor": share.sqrt(),
                "off_centre_y_factor": (2.0 * share).sqrt(), "off_centre_z_factor": (2.0 * share).sqrt()});
            holds("flip-weights", &json!({"index_angles": angles, "work_turns": "left-hand"}), &expected);
        }
        let half = json!({"index_angles": [37.595, 217.595], "work_turns": "right-hand"});
        let expected = json!({"weights": [0.5, 0.5], "centreline_factor": 0.5_f64.sqrt(), "off_centre_z_factor": null});
        holds("flip-weights", &half, &expected);
    }

    // Linear least squares: the weighted sum of the middles is the centreline of centreline-fit.
    #[test]
    fn the_weighted_sum_is_the_best_fit() {
        let (angles, middles) = ([0.0, 40.0, 110.0, 200.0, 300.0], [1.0, -2.0, 0.5, 3.0, 0.25]);
        let weights = answer("flip-weights", &json!({"index_angles": angles, "work_turns": "right-hand"}));
        let weights = weights["weights"].as_array().unwrap().clone();
        let sum: f64 = weights.iter().zip(middles).map(|(w, middle)| w["value"].as_f64().unwrap() * middle).sum();
        let inputs = json!({"index_angles": angles, "midpoints": middles, "work_turns": "right-hand"});
        holds("centreline-fit", &inputs, &json!({"centreline_y": sum}));
    }

    #[test]
    fn angles_that_cannot_tell_are_refused() {
        for angles in [json!([0, 90]), json!([0, 180, 360]), json!([5]), json!([0, 179.9])] {
            refuses("flip-weights", &json!({"index_angles": angles, "work_turns": "left-hand"}), "index_angles");
        }
    }
}
