//! How well do touches round a bore or boss know its centre?

use super::best_circle::best_circle;
use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "circle-centre-uncertainty",
    version: 1,
    topic: "metrology",
    question: "How well do touches round a bore or boss know its centre?",
    formula: "rows (-cos t, -sin t, -1) at the direction t of each point from the fitted centre, radius taken out: \
         covariance = point_uncertainty^2 (sum of the centred rows' squares)^-1; axes of the ellipse = square roots of its \
         eigenvalues; the 95 % ellipse has sqrt(-2 ln 0.05) = 2.4477 times these axes",
    inputs: &[
        Input::points("points", 2, "mm", "touched points [x, y]").least_items(3),
        Input::quantity("point_uncertainty", "mm", "standard uncertainty of one point along its direction")
            .at_least(0.0),
    ],
    outputs: &[
        Output::quantity("centre_x_uncertainty", "mm", "standard uncertainty of the centre in x"),
        Output::quantity("centre_y_uncertainty", "mm", "the same in y"),
        Output::quantity("correlation", "1", "correlation of the two"),
        Output::quantity("long_axis", "mm", "long half axis of the ellipse, standard uncertainty"),
        Output::quantity("short_axis", "mm", "short half axis"),
        Output::quantity("long_axis_angle", "deg", "direction of the long axis from x towards y, 0 to 180")
            .null_when("the ellipse is a circle"),
        Output::quantity("long_axis_95", "mm", "long half axis of the ellipse that holds the centre with 95 %"),
        Output::quantity("short_axis_95", "mm", "short half axis of that ellipse"),
    ],
    refusals: &[Refusal::of("points", "fewer than three different, or all on one straight line")],
    usual_mistake: "touching one side only: along the open side the centre is hardly known",
    validity: "independent points of equal worth; round bore (lobes shift the centre and do not show here)",
    source: "JCGM 100 clause 5 on geometric least squares; 2.4477: radius that holds 95 % of two equal normal parts",
    example: r#"{"points": [[10, 0], [0, 10], [-10, 0], [0, -10]], "point_uncertainty": 0.002}"#,
    solve,
};

/// √(−2 ln 0.05).
const RADIUS_95: f64 = 2.447_746_830_680_816;

fn solve(given: &Given) -> Result<Answer, Refused> {
    let points = given.points::<2>("points")?;
    let uncertainty = given.number("point_uncertainty")?;
    let spread = Spread::of(points).ok_or_else(|| {
        Refused::new("points", "points do not tell where the centre is: touch round more of the bore.")
    })?;
    let ([xx, xy, yy], determinant) = (spread.matrix, spread.determinant);
    let (mean, half) = (f64::midpoint(xx, yy), ((xx - yy) / 2.0).hypot(xy));
    // The inverse has the eigenvalues of the matrix over its determinant, the long axis where the matrix is small.
    let (large, small) = ((mean + half) / determinant, (mean - half) / determinant);
    let axis = |value: f64| uncertainty * value.max(0.0).sqrt();
    let angle = (half > 1e-12 * mean).then(|| (0.5 * (-2.0 * xy).atan2(yy - xx)).to_degrees().rem_euclid(180.0));
    Ok(Answer::new()
        .with("centre_x_uncertainty", axis(yy / determinant))
        .with("centre_y_uncertainty", axis(xx / determinant))
        .with("correlation", -xy / (xx * yy).sqrt())
        .with("long_axis", axis(large))
        .with("short_axis", axis(small))
        .with("long_axis_angle", angle)
        .with("long_axis_95", RADIUS_95 * axis(large))
        .with("short_axis_95", RADIUS_95 * axis(small)))
}

/// Squares and products of the directions of the points, the radius taken out: [xx, xy, yy].
struct Spread {
    matrix: [f64; 3],
    determinant: f64,
}

impl Spread {
    fn of(points: &[[f64; 2]]) -> Option<Self> {
        const FLATTEST: f64 = 1e-12;
        let [x, y] = best_circle(points)?.centre;
        let directions: Vec<[f64; 2]> = points.iter().filter_map(|point| direction(point, x, y)).collect();
        #[expect(clippy::cast_precision_loss, reason = "no list has 2^53 entries")]
        let count = directions.len() as f64;
        let sum = |pick: fn(&[f64; 2]) -> f64| directions.iter().map(pick).sum::<f64>();
        let (cosine, sine) = (sum(|one| one[0]) / count, sum(|one| one[1]) / count);
        let centred = |one: &[f64; 2]| (one[0] - cosine, one[1] - sine);
        let mut matrix = [0.0; 3];
        for (c, s) in directions.iter().map(centred) {
            matrix = [matrix[0] + c * c, matrix[1] + c * s, matrix[2] + s * s];
        }
        let [xx, xy, yy] = matrix;
        let determinant = xx * yy - xy * xy;
        (determinant > FLATTEST * (xx * yy).max(f64::MIN_POSITIVE)).then_some(Self { matrix, determinant })
    }
}

fn direction(point: &[f64; 2], x: f64, y: f64) -> Option<[f64; 2]> {
    let (away_x, away_y) = (point[0] - x, point[1] - y);
    let distance = away_x.hypot(away_y);
    (distance > 0.0).then(|| [away_x / distance, away_y / distance])
}

#[cfg(test)]
mod tests {
    use serde_json::{Value, json};

    use crate::calc::check::{answer, holds, near, refuses, with};

    fn round(count: u32) -> Value {
        let place = |one: u32| (360.0 * f64::from(one) / f64::from(count)).to_radians();
        (0..count).map(|one| json!([3.0 + 10.0 * place(one).cos(), -7.0 + 10.0 * place(one).sin()])).collect()
    }

    // The project's algorithms study, bore of n equally spaced points: u^2 = 2 sigma^2/n per coordinate.
    #[test]
    fn equally_spaced_points_know_the_centre_by_two_over_n() {
        for count in [3, 4, 8] {
            let inputs = json!({"points": round(count), "point_uncertainty": 0.002});
            let wanted = 0.002 * (2.0 / f64::from(count)).sqrt();
            for key in ["centre_x_uncertainty", "centre_y_uncertainty", "long_axis", "short_axis"] {
                near("circle-centre-uncertainty", &inputs, key, wanted, 1e-12);
            }
            near("circle-centre-uncertainty", &inputs, "long_axis_95", 2.447_747 * wanted, 1e-8);
        }
    }

    // Algebra: at 0, 90 and 180 degrees the rows leave 2/3 across and 2 along: x by 1/sqrt(2), y by sqrt(3/2).
    #[test]
    fn an_open_side_is_hardly_known() {
        let inputs = json!({"points": [[10, 0], [0, 10], [-10, 0]], "point_uncertainty": 0.002});
        let expected = json!({"centre_x_uncertainty": 0.002 / 2.0_f64.sqrt(), "centre_y_uncertainty": 0.002 * 1.5_f64.sqrt(),
            "correlation": 0.0, "long_axis_angle": 90.0});
        holds("circle-centre-uncertainty", &inputs, &expected);
        let turned = json!({"points": [[10, 0], [0, 10], [7.071_067_811_865_475, 7.071_067_811_865_475]],
            "point_uncertainty": 1});
        let found = answer("circle-centre-uncertainty", &turned);
        let angle = found["long_axis_angle"]["value"].as_f64().unwrap();
        assert!((angle - 45.0).abs() < 1e-6, "{angle}");
    }

    #[test]
    fn a_line_has_no_centre() {
        let inputs = json!({"points": [[0, 0], [1, 1], [2, 2]], "point_uncertainty": 0.001});
        refuses("circle-centre-uncertainty", &inputs, "points");
        refuses("circle-centre-uncertainty", &with(&inputs, "points", json!([[0, 0], [1, 1]])), "points");
        let negative = json!({"points": round(4), "point_uncertainty": -1});
        refuses("circle-centre-uncertainty", &negative, "point_uncertainty");
    }
}
