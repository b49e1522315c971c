//! How well does a plane through touched places know its height and its slopes?

use crate::calc::least_squares;
use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "plane-fit-uncertainty",
    version: 1,
    topic: "metrology",
    question: "How well does a plane through touched places know its height and its slopes?",
    formula: "covariance = reading_uncertainty^2 (A'A)^-1 with the rows (1, x, y) in A; the uncertainties are the roots of \
         its diagonal",
    inputs: &[
        Input::points("places", 2, "mm", "touched places [x, y]").least_items(3),
        Input::quantity("reading_uncertainty", "mm", "standard uncertainty of each touched height").at_least(0.0),
    ],
    outputs: &[
        Output::quantity("height_uncertainty", "mm", "standard uncertainty of the plane's height at x = y = 0"),
        Output::quantity("slope_x_uncertainty", "mm/m", "standard uncertainty of the slope along x"),
        Output::quantity("slope_y_uncertainty", "mm/m", "standard uncertainty of the slope along y"),
    ],
    refusals: &[Refusal::of("places", "fewer than three, or all on one straight line")],
    usual_mistake: "touching close together: half the base doubles the uncertainty of the slope",
    validity: "all heights equally uncertain and independent of each other",
    source: "linear least squares, law of propagation of uncertainty (JCGM 100)",
    example: r#"{"places": [[35, 35], [-35, 35], [-35, -35], [35, -35]], "reading_uncertainty": 0.001}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    const PER_METRE: f64 = 1000.0;
    let places = given.points::<2>("places")?;
    let rows: Vec<[f64; 3]> = places.iter().map(|[x, y]| [1.0, *x, *y]).collect();
    let fit = least_squares::fit_with_constant(&rows, &vec![0.0; rows.len()]).map_err(|_alike| {
        Refused::new("places", "places must not lie on one straight line, or no plane can be told from another.")
    })?;
    let reading = given.number("reading_uncertainty")?;
    let [height, along_x, along_y] = fit.variance_factors.map(|factor| reading * factor.sqrt());
    Ok(Answer::new()
        .with("height_uncertainty", height)
        .with("slope_x_uncertainty", along_x * PER_METRE)
        .with("slope_y_uncertainty", along_y * PER_METRE))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, refuses};

    // Algebra: four corners of a rectangle about the origin give u/2 for the height and u/(2 a) for a slope, a the half width.
    #[test]
    fn four_corners_know_height_and_slopes() {
        let inputs = json!({"places": [[35, 20], [-35, 20], [-35, -20], [35, -20]], "reading_uncertainty": 0.0014});
        let expected = json!({"height_uncertainty": 0.0007, "slope_x_uncertainty": 0.02, "slope_y_uncertainty": 0.035});
        holds("plane-fit-uncertainty", &inputs, &expected);
        let row = json!({"places": [[0, 0], [1, 1], [3, 3]], "reading_uncertainty": 0.001});
        refuses("plane-fit-uncertainty", &row, "places");
    }
}
