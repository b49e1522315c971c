//! Which plane fits touched heights best, how far is it tilted and does the seat rock?

use crate::calc::least_squares;
use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "plane-fit",
    version: 1,
    topic: "metrology",
    question: "Which plane fits touched heights best, how far is it tilted and does the seat rock?",
    formula: "least squares on h = height_at_origin + slope_x x + slope_y y; tilt_angle = \
         atan(sqrt(slope_x^2+slope_y^2)); residual_deviation = sqrt(sum r^2/(n-3)); twist = (h1-h2+h3-h4)/4 for \
         four points in order round the seat",
    inputs: &[Input::points(
        "points",
        3,
        "mm",
        "touched points [x, y, height]; four corners in order round the seat for the twist",
    )
    .least_items(3)],
    outputs: &[
        Output::quantity("height_at_origin", "mm", "height of the plane at x = y = 0"),
        Output::quantity("slope_x", "mm/m", "slope along x"),
        Output::quantity("slope_y", "mm/m", "slope along y"),
        Output::quantity("tilt_angle", "deg", "steepest tilt"),
        Output::quantity("residual_deviation", "mm", "standard deviation of the residuals")
            .null_when("exactly three points"),
        Output::quantity("largest_residual", "mm", "largest absolute residual"),
        Output::quantity("twist", "mm", "rock of the seat").null_when("not exactly four points"),
    ],
    refusals: &[Refusal::of("points", "fewer than three, or all x, y on one straight line")],
    usual_mistake: "tilt says wedge (chip under one edge), twist says rock (burr or bent plate): do not mix them up",
    validity: "small tilt, heights measured along z",
    source: "linear least squares",
    example: r#"{"points": [[35, 35, 0.004], [-35, 35, -0.002], [-35, -35, 0.001], [35, -35, 0.009]]}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    const PER_METRE: f64 = 1000.0;
    let points = given.points::<3>("points")?;
    let rows: Vec<[f64; 3]> = points.iter().map(|[x, y, _]| [1.0, *x, *y]).collect();
    let heights: Vec<f64> = points.iter().map(|[_, _, height]| *height).collect();
    let fit = least_squares::fit_with_constant(&rows, &heights).map_err(|_alike| {
        Refused::new("points", "points must not lie on one straight line, or no plane can be told from another.")
    })?;
    let [height_at_origin, slope_x, slope_y] = fit.coefficients;
    Ok(Answer::new()
        .with("height_at_origin", height_at_origin)
        .with("slope_x", slope_x * PER_METRE)
        .with("slope_y", slope_y * PER_METRE)
        .with("tilt_angle", slope_x.hypot(slope_y).atan().to_degrees())
        .with("residual_deviation", fit.residual_deviation())
        .with("largest_residual", fit.largest_residual())
        .with("twist", twist(&heights)))
}

fn twist(heights: &[f64]) -> Option<f64> {
    match heights {
        [first, second, third, fourth] => Some((first - second + third - fourth) / 4.0),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use serde_json::json;

    use crate::calc::check::{answer, holds, refuses};

    // Worked case seating_plane_four_corners of the project's own set of cases.
    #[test]
    fn four_corners_of_a_seat() {
        let inputs = json!({"points": [[35, 35, 0.004], [-35, 35, -0.002], [-35, -35, 0.001], [35, -35, 0.009]]});
        let expected = json!({"height_at_origin": 0.003, "slope_x": 0.1, "slope_y": -0.4 / 7.0,
            "tilt_angle": 0.006_599_047_718_308_441, "residual_deviation": 0.001, "largest_residual": 0.0005,
            "twist": -0.0005});
        holds("plane-fit", &inputs, &expected);
    }

    // Geometry: three points define a plane; 3 and 4 mm/m are 5 along the steepest line.
    #[test]
    fn three_points_define_a_plane() {
        let inputs = json!({"points": [[0, 0, 1], [1000, 0, 4], [0, 1000, 5]]});
        let expected = json!({"height_at_origin": 1.0, "slope_x": 3.0, "slope_y": 4.0,
            "tilt_angle": 0.005_f64.atan().to_degrees(), "residual_deviation": null, "twist": null});
        holds("plane-fit", &inputs, &expected);
    }

    #[test]
    fn points_in_a_row_are_refused() {
        for points in [
            json!([[0, 0, 1], [1, 1, 2], [3, 3, 5]]),
            json!([[5, 0, 1], [5, 1, 2], [5, 7, 5], [5, 9, 1]]),
            json!([[0, 0, 1], [1, 1, 2]]),
            json!([[0, 0, 1], [1, 1, 2], [1, 0]]),
        ] {
            refuses("plane-fit", &json!({"points": points}), "points");
        }
    }

    proptest! {
        // Algebra: points of a plane leave nothing over, wherever they are touched.
        #[test]
        fn points_of_a_plane_leave_nothing_over(
            slope_x in -0.01..0.01_f64,
            slope_y in -0.01..0.01_f64,
            places in prop::collection::vec((-100.0..100.0_f64, -100.0..100.0_f64), 1..8),
        ) {
            let corners = [(100.0, 100.0), (-100.0, 100.0), (-100.0, -100.0)];
            let points: Vec<[f64; 3]> =
                corners.into_iter().chain(places).map(|(x, y)| [x, y, 7.0 + slope_x * x + slope_y * y]).collect();
            let found = answer("plane-fit", &json!({"points": points}));
            let number = |key: &str| found[key]["value"].as_f64().unwrap();
            prop_assert!((number("slope_x") - 1000.0 * slope_x).abs() < 1e-10);
            prop_assert!((number("slope_y") - 1000.0 * slope_y).abs() < 1e-10);
            prop_assert!((number("height_at_origin") - 7.0).abs() < 1e-12 && number("largest_residual") < 1e-12);
        }
    }
}
