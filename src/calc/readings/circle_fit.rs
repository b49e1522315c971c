//! Which circle fits touched points best, and how round are they?

use super::best_circle::best_circle;
use super::statistics;
use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "circle-fit",
    version: 1,
    topic: "metrology",
    question: "Which circle fits touched points best, and how round are they?",
    formula: "minimise sum (sqrt((x-a)^2+(y-b)^2) - r)^2 over a, b, r (geometric least squares); residual = \
         distance - radius; residual_deviation = sqrt(sum residual^2/(n-3)); roundness = largest minus smallest \
         residual",
    inputs: &[Input::points("points", 2, "mm", "touched points [x, y], tip radius already taken off").least_items(3)],
    outputs: &[
        Output::quantity("centre_x", "mm", "centre"),
        Output::quantity("centre_y", "mm", "centre"),
        Output::quantity("radius", "mm", "radius"),
        Output::quantity("diameter", "mm", "2 times radius"),
        Output::quantity("residual_deviation", "mm", "standard deviation of the residuals")
            .null_when("exactly three points"),
        Output::quantity("roundness", "mm", "largest minus smallest residual"),
    ],
    refusals: &[Refusal::of(
        "points",
        "fewer than three, fewer than three different, or all on one straight line (largest distance from the \
             best line below 1e-9 of the largest distance between points)",
    )],
    usual_mistake: "the quick algebraic fit (minimising x^2+y^2+...) gives another, smaller circle on a short arc",
    validity: "points over a good part of the circle",
    source: "geometric least squares",
    example: r#"{"points": [[10.002, 0], [0, 10.001], [-9.998, 0], [0, -9.999]]}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    const UNKNOWNS: usize = 3;
    let points = given.points::<2>("points")?;
    let circle = best_circle(points).ok_or_else(|| {
        let reason = "points lie on one straight line, or on no circle better than on a line: touch round more of it.";
        Refused::new("points", reason)
    })?;
    let [centre_x, centre_y] = circle.centre;
    let deviation = statistics::root_of_mean_square(&circle.residuals, points.len().saturating_sub(UNKNOWNS));
    Ok(Answer::new()
        .with("centre_x", centre_x)
        .with("centre_y", centre_y)
        .with("radius", circle.radius)
        .with("diameter", 2.0 * circle.radius)
        .with("residual_deviation", deviation)
        .with("roundness", statistics::range(&circle.residuals)))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use serde_json::json;

    use crate::calc::check::{answer, holds, near, refuses};

    /// Holds centre and radius against figures that were rounded in print.
    fn printed(points: &[[f64; 2]], [centre_x, centre_y, radius]: [f64; 3], within: f64) {
        let inputs = json!({"points": points});
        near("circle-fit", &inputs, "centre_x", centre_x, within);
        near("circle-fit", &inputs, "centre_y", centre_y, within);
        near("circle-fit", &inputs, "radius", radius, within);
    }

    /// Holds the sum of the squared residuals.
    fn sum_of_squares(points: &[[f64; 2]], sum: f64, within: f64) {
        #[expect(clippy::cast_precision_loss, reason = "a handful of points")]
        let deviation = (sum / (points.len() - 3) as f64).sqrt();
        near("circle-fit", &json!({"points": points}), "residual_deviation", deviation, within);
    }

    // Gander, Golub and Strebel, Least-squares fitting of circles and ellipses, BIT 34 (1994): six points, geometric fit
    // 4.7398, 2.9835, 4.7142 (digits from memory). The quick algebraic fits give 5.3794, 7.2532, 3.0370 or 4.7423, 3.8351,
    // 4.1088. More digits by mpmath 1.3 from zero slopes, at 40 digits; a solver that compares sums stops at the eighth.
    #[test]
    fn six_points_of_a_textbook() {
        let points = [[1.0, 7.0], [2.0, 6.0], [5.0, 8.0], [7.0, 7.0], [9.0, 5.0], [3.0, 7.0]];
        printed(&points, [4.7398, 2.9835, 4.7142], 6e-5);
        printed(&points, [4.739_782_410_906_07, 2.983_532_699_292_48, 4.714_226_037_792_11], 1e-13);
        sum_of_squares(&points, 1.227_599_078_183_66, 1e-13);
    }

    // Least-squares circle recipe of the scipy cookbook: all round and on a short arc, orthogonal distance rows. More
    // digits by mpmath 1.3 as above.
    #[test]
    fn points_of_a_cookbook() {
        let all_round = [[9.0, 34.0], [35.0, 10.0], [-13.0, 6.0], [10.0, -14.0], [23.0, 27.0], [0.0, -10.0]];
        printed(&all_round, [10.500_09, 9.659_95, 23.333_53], 6e-6);
        sum_of_squares(&all_round, 7.711_852, 1e-6);
        let arc = [[36.0, 14.0], [36.0, 10.0], [19.0, 28.0], [18.0, 31.0], [33.0, 18.0], [26.0, 26.0]];
        printed(&arc, [9.887_57, 3.687_5, 27.350_44], 6e-6);
        sum_of_squares(&arc, 4.042_522, 1e-6);
        printed(&arc, [9.887_566_567_477_39, 3.687_497_309_784_12, 27.350_443_168_133_7], 1e-12);
    }

    // Eight points found in public code; mpmath 1.3 at 40 digits from zero slopes.
    #[test]
    fn eight_points_round_a_hole() {
        let points =
            [[0.7, 4.0], [3.3, 4.7], [5.6, 4.0], [7.5, 1.3], [6.4, -1.1], [4.4, -3.0], [0.3, -2.5], [-1.1, 1.3]];
        printed(&points, [3.043_238_251_582_54, 0.745_678_313_458_604, 4.105_855_837_954_33], 1e-13);
    }

    // Geometry: the circle round a right triangle with sides 3, 4 and 5 has its centre in the middle of the longest.
    #[test]
    fn three_points_define_a_circle() {
        let inputs = json!({"points": [[0, 0], [4, 0], [0, 3]]});
        let expected = json!({"centre_x": 2.0, "centre_y": 1.5, "radius": 2.5, "diameter": 5.0,
            "residual_deviation": null, "roundness": 0.0});
        holds("circle-fit", &inputs, &expected);
    }

    // Geometry: one degree of a circle of radius 1000, far from the origin.
    #[test]
    fn a_short_exact_arc_keeps_its_radius() {
        let points: Vec<[f64; 2]> = (0..=10)
            .map(|tenth| (f64::from(tenth) / 10.0 + 40.0).to_radians().sin_cos())
            .map(|(sine, cosine)| [300.0 + 1000.0 * cosine, -700.0 + 1000.0 * sine])
            .collect();
        printed(&points, [300.0, -700.0, 1000.0], 1e-7);
    }

    #[test]
    fn points_on_a_line_are_refused() {
        for points in [
            json!([[0, 0], [1, 1]]),
            json!([[0, 0], [1, 1], [2, 2]]),
            json!([[5, 0], [5, 1], [5, 2], [5, 9]]),
            json!([[1, 2], [1, 2], [3, 4], [3, 4]]),
            json!([[1, 2], [1, 2], [1, 2]]),
            json!([[0, 0], [1000, 0.000_000_1], [2000, 0]]),
            json!([[0, 0], [1, 1], [2, "3 deg"]]),
        ] {
            refuses("circle-fit", &json!({"points": points}), "points");
        }
        near("circle-fit", &json!({"points": [[0, 0], [1, 1e-6], [2, 0]]}), "radius", 500_000.0, 1e-3);
    }

    proptest! {
        // Geometry: points of a circle leave nothing over.
        #[test]
        fn points_of_a_circle_leave_nothing_over(
            (x, y, radius) in (-400.0..400.0_f64, -400.0..400.0_f64, 0.5..100.0_f64),
            angles in prop::collection::vec(0.0..360.0_f64, 0..20),
        ) {
            let angles = [0.0, 100.0, 220.0].into_iter().chain(angles);
            let points: Vec<[f64; 2]> = angles
                .map(|angle| angle.to_radians().sin_cos())
                .map(|(sine, cosine)| [x + radius * cosine, y + radius * sine])
                .collect();
            let found = answer("circle-fit", &json!({"points": points}));
            let number = |key: &str| found[key]["value"].as_f64().unwrap();
            prop_assert!((number("centre_x") - x).abs() < 1e-11 && (number("centre_y") - y).abs() < 1e-11);
            prop_assert!((number("radius") - radius).abs() < 1e-11 && number("roundness") < 1e-11);
        }

        // Geometry: order, shift and a quarter turn of the points leave radius and roundness.
        #[test]
        fn the_frame_of_the_points_does_not_matter(
            noise in prop::collection::vec(-0.05..0.05_f64, 9),
            (x, y) in (-100.0..100.0_f64, -100.0..100.0_f64),
        ) {
            let points: Vec<[f64; 2]> = noise
                .iter()
                .zip(0_u32..)
                .map(|(noise, place)| (10.0 + noise, (f64::from(place) * 40.0).to_radians().sin_cos()))
                .map(|(radius, (sine, cosine))| [radius * cosine, radius * sine])
                .collect();
            let moved: Vec<[f64; 2]> = points.iter().rev().map(|point| [x - point[1], y + point[0]]).collect();
            let here = answer("circle-fit", &json!({"points": points}));
            let there = answer("circle-fit", &json!({"points": moved}));
            for key in ["radius", "roundness", "residual_deviation"] {
                let (here, there) = (here[key]["value"].as_f64().unwrap(), there[key]["value"].as_f64().unwrap());
                prop_assert!((here - there).abs() < 1e-11, "{key}: {here} {there}");
            }
            let centre = (here["centre_y"]["value"].as_f64().unwrap(), there["centre_x"]["value"].as_f64().unwrap());
            prop_assert!((x - centre.0 - centre.1).abs() < 1e-11);
        }

        // Whatever is touched, there is an answer or a refusal.
        #[test]
        fn every_list_of_points_ends(points in prop::collection::vec([-1e3..1e3_f64, -1e3..1e3_f64], 3..12)) {
            let inputs = json!({"points": points});
            let _answer_or_refusal = crate::calc::reckon("circle-fit", inputs.as_object().unwrap());
        }
    }
}
