//! Which plane fits touched heights best, how far is it tilted and does the seat rock?

use crate::calc::least_squares::fit;
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
    let points = given.points::<3>("points")?;
    let rows: Vec<[f64; 3]> = points.iter().map(|[x, y, _]| [1.0, *x, *y]).collect();
    let heights: Vec<f64> = points.iter().map(|[_, _, height]| *height).collect();
    let plane = fit::<3>(&rows, &heights).map_err(|_| {
        Refused::new("points", "The points lie on one straight line (or are fewer than three): they carry no plane.")
    })?;
    let [height, slope_x, slope_y] = plane.coefficients;
    Ok(Answer::new()
        .with("height_at_origin", height)
        .with("slope_x", 1000.0 * slope_x)
        .with("slope_y", 1000.0 * slope_y)
        .with("tilt_angle", slope_x.hypot(slope_y).atan().to_degrees())
        .with("residual_deviation", plane.residual_deviation())
        .with("largest_residual", plane.largest_residual())
        .with("twist", twist(&heights)))
}

/// Returns how far four corners, in order round the seat, rock; none for another number of points.
fn twist(heights: &[f64]) -> Option<f64> {
    match heights {
        [first, second, third, fourth] => Some((first - second + third - fourth) / 4.0),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, refuses};

    // The project's own worked case.
    #[test]
    fn four_corners_of_a_seat() {
        let inputs = json!({"points": [[35, 35, 0.004], [-35, 35, -0.002], [-35, -35, 0.001], [35, -35, 0.009]]});
        let expected = json!({"height_at_origin": 0.003, "slope_x": 0.1, "slope_y": -0.057_142_857_142_857,
            "tilt_angle": 0.006_599_047_718_308, "largest_residual": 0.0005, "twist": -0.0005});
        holds("plane-fit", &inputs, &expected);
    }

    // Geometry: three points carry one plane without residual; points in a row carry none.
    #[test]
    fn three_points_have_no_residual_and_a_row_has_no_plane() {
        let inputs = json!({"points": [[0, 0, 1], [1, 0, 1], [0, 1, 1]]});
        holds("plane-fit", &inputs, &json!({"height_at_origin": 1.0, "residual_deviation": null, "twist": null}));
        refuses("plane-fit", &json!({"points": [[0, 0, 1], [1, 1, 1], [2, 2, 1]]}), "points");
        refuses("plane-fit", &json!({"points": [[0, 0, 1], [1, 1, 1]]}), "points");
    }
}
