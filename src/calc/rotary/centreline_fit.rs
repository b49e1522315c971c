//! Which centreline and off-centre fit midpoints read at any number of index angles best?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};
use crate::calc::{degrees, least_squares};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "centreline-fit",
    version: 1,
    topic: "rotary",
    question: "Which centreline and off-centre fit midpoints read at any number of index angles best?",
    formula: "least squares on midpoint = centreline_y + off_centre_y cos(turn) - off_centre_z sin(turn), turn = \
         s*index_angle; residual_deviation = sqrt(sum r^2/(n-3))",
    inputs: &[
        Input::quantities("index_angles", "deg", "commanded rotary angles, at least three different ones (modulo 360)")
            .least_items(3),
        Input::quantities("midpoints", "mm", "middle of front and back at each index")
            .least_items(3)
            .same_length_as("index_angles"),
        Input::work_turns(),
    ],
    outputs: &[
        Output::quantity("centreline_y", "mm", "machine Y of the centreline"),
        Output::quantity("off_centre_y", "mm", "off-centre in Y at index 0"),
        Output::quantity("off_centre_z", "mm", "off-centre in Z at index 0"),
        Output::quantity("residual_deviation", "mm", "standard deviation of the residuals")
            .null_when("exactly three readings"),
        Output::quantity("largest_residual", "mm", "largest absolute residual"),
    ],
    refusals: &[
        Refusal::of("index_angles", "fewer than three readings or fewer than three different angles modulo 360"),
        Refusal::of("midpoints", "another number of entries than index_angles"),
    ],
    usual_mistake: "dividing by n or n-1 in place of n-3",
    validity: "as flip-centreline",
    source: "linear least squares",
    example: r#"{
            "index_angles": [0, 60, 120, 180, 240, 300],
            "midpoints": [-187.4458, -187.4447, -187.4624, -187.4816, -187.4824, -187.4641],
            "work_turns": "left-hand"
        }"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let index_angles = given.numbers("index_angles")?;
    let too_few = || {
        let reason =
            "index_angles must hold at least three clearly different angles to find a centreline and an off-centre.";
        Refused::new("index_angles", reason)
    };
    if degrees::different_angles(index_angles, 3) < 3 {
        return Err(too_few());
    }
    let sense = given.work_turns()?;
    let rows: Vec<[f64; 3]> = index_angles
        .iter()
        .map(|index| degrees::sine_and_cosine(sense * index))
        .map(|(sine, cosine)| [1.0, cosine, -sine])
        .collect();
    let fit = least_squares::fit(&rows, given.numbers("midpoints")?).map_err(|_alike| too_few())?;
    let [centreline_y, off_centre_y, off_centre_z] = fit.coefficients;
    Ok(Answer::new()
        .with("centreline_y", centreline_y)
        .with("off_centre_y", off_centre_y)
        .with("off_centre_z", off_centre_z)
        .with("residual_deviation", fit.residual_deviation())
        .with("largest_residual", fit.largest_residual()))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, refuses, with};

    // Algebra: at four quarter turns the best fit is the closed form of flip-centreline-four, and the residuals are all a
    // quarter of the closure.
    #[test]
    fn at_quarter_turns_it_agrees_with_four_flips() {
        let inputs = json!({"index_angles": [0, 90, 180, 270], "work_turns": "left-hand",
            "midpoints": [-187.4462, -187.4524, -187.4812, -187.4746]});
        let expected = json!({"centreline_y": -187.4636, "off_centre_y": 0.0175, "off_centre_z": 0.0111,
            "residual_deviation": 0.0002, "largest_residual": 0.0001});
        holds("centreline-fit", &inputs, &expected);
    }

    // Algebra: three readings leave nothing over, so their scatter is not known.
    #[test]
    fn three_readings_fit_exactly() {
        let inputs = json!({"index_angles": [0, 120, -120], "work_turns": "right-hand", "midpoints": [1.0, 0.0, 0.5]});
        let expected = json!({"centreline_y": 0.5, "off_centre_y": 0.5, "off_centre_z": 0.5 / 3.0_f64.sqrt(),
            "residual_deviation": null, "largest_residual": 0.0});
        holds("centreline-fit", &inputs, &expected);
    }

    #[test]
    fn angles_that_are_not_three_different_ones_are_refused() {
        let inputs = json!({"index_angles": [0, 180, 360], "work_turns": "left-hand", "midpoints": [0, 1, 2]});
        refuses("centreline-fit", &inputs, "index_angles");
        refuses("centreline-fit", &with(&inputs, "index_angles", json!([0, 180])), "index_angles");
        refuses("centreline-fit", &with(&inputs, "index_angles", json!([0, 1e-5, 2e-5])), "index_angles");
        let unequal = with(&inputs, "index_angles", json!([0, 90, 180, 270]));
        refuses("centreline-fit", &unequal, "midpoints");
        let unequal = with(&with(&inputs, "index_angles", json!([0, 90, 180])), "midpoints", json!([0, 1]));
        refuses("centreline-fit", &unequal, "midpoints");
    }
}
