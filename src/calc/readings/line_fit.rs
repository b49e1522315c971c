//! Which straight line fits readings along an axis best, and how straight are they?

use super::statistics;
use crate::calc::least_squares;
use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "line-fit",
    version: 1,
    topic: "metrology",
    question: "Which straight line fits readings along an axis best, and how straight are they?",
    formula: "least squares on y = intercept + slope x; residual_deviation = sqrt(sum r^2/(n-2)); slope_uncertainty \
         = residual_deviation/sqrt(sum (x-mean)^2); straightness = largest minus smallest residual",
    inputs: &[
        Input::quantities("positions", "mm", "positions along the axis, at least two different ones").least_items(2),
        Input::quantities("readings", "mm", "reading at each position").least_items(2).same_length_as("positions"),
    ],
    outputs: &[
        Output::quantity("slope", "mm/m", "slope of the line"),
        Output::quantity("intercept", "mm", "value of the line at position 0"),
        Output::quantity("residual_deviation", "mm", "standard deviation of the residuals")
            .null_when("exactly two readings"),
        Output::quantity("slope_uncertainty", "mm/m", "standard uncertainty of the slope")
            .null_when("exactly two readings"),
        Output::quantity("straightness", "mm", "largest minus smallest residual"),
    ],
    refusals: &[
        Refusal::of("positions", "fewer than two, or all the same"),
        Refusal::of("readings", "another number of entries than positions"),
    ],
    usual_mistake: "dividing by n in place of n-2",
    validity: "errors in the readings only",
    source: "linear least squares",
    example: r#"{"positions": [0, 50, 100, 150], "readings": [0, 0.004, 0.009, 0.012]}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    const PER_METRE: f64 = 1000.0;
    let rows: Vec<[f64; 2]> = given.numbers("positions")?.iter().map(|position| [1.0, *position]).collect();
    let fit = least_squares::fit_with_constant(&rows, given.numbers("readings")?).map_err(|_alike| {
        Refused::new("positions", "positions must hold at least two clearly different places to draw a line.")
    })?;
    let [intercept, slope] = fit.coefficients;
    let [_, slope_factor] = fit.variance_factors;
    let deviation = fit.residual_deviation();
    Ok(Answer::new()
        .with("slope", slope * PER_METRE)
        .with("intercept", intercept)
        .with("residual_deviation", deviation)
        .with("slope_uncertainty", deviation.map(|deviation| deviation * slope_factor.sqrt() * PER_METRE))
        .with("straightness", statistics::range(&fit.residuals)))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use serde_json::json;

    use crate::calc::check::{answer, holds, near, refuses, with};
    use crate::calc::least_squares;

    // NIST Statistical Reference Datasets, linear regression: Norris (certified intercept, slope, their deviations and
    // the deviation of the residuals).
    #[test]
    fn norris() {
        let (positions, readings): (Vec<f64>, Vec<f64>) = NORRIS.into_iter().unzip();
        let expected = json!({"intercept": -0.262_323_073_774_029, "slope": 1_002.116_818_020_45,
            "residual_deviation": 0.884_796_396_144_373, "slope_uncertainty": 0.429_796_848_199_937});
        holds("line-fit", &json!({"positions": positions, "readings": readings}), &expected);
        let rows: Vec<[f64; 2]> = positions.iter().map(|position| [1.0, *position]).collect();
        let fit = least_squares::fit(&rows, &readings).unwrap();
        let of_intercept = fit.residual_deviation().unwrap() * fit.variance_factors[0].sqrt();
        assert!((of_intercept / 0.232_818_234_301_152 - 1.0).abs() < 1e-12, "{of_intercept}");
    }

    // NIST Statistical Reference Datasets, linear regression: NoInt1, a line through the origin, by the fit beneath.
    #[test]
    fn a_line_through_the_origin() {
        let rows: Vec<[f64; 1]> = (60..=70).map(|x| [f64::from(x)]).collect();
        let values: Vec<f64> = (130..=140).map(f64::from).collect();
        let fit = least_squares::fit(&rows, &values).unwrap();
        let deviation = fit.residual_deviation().unwrap();
        for (found, certified) in [
            (fit.coefficients[0], 2.074_380_165_289_26),
            (deviation, 3.567_530_340_063_38),
            (deviation * fit.variance_factors[0].sqrt(), 0.016_528_925_619_834_7),
        ] {
            assert!((found / certified - 1.0).abs() < 1e-13, "{found}, not {certified}");
        }
    }

    // JCGM 100 (GUM) H.3, calibration of a thermometer with 20 degC as reference: intercept -0.1712 with 0.0029, slope
    // 0.00218 with 0.00067, s = 0.0035, sum of squares 1.100 965 831e-4.
    #[test]
    fn the_thermometer_of_the_gum() {
        let temperatures = [21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.010, 26.511];
        let corrections = [-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.160];
        let positions = temperatures.map(|temperature| temperature - 20.0);
        let inputs = json!({"positions": positions, "readings": corrections});
        near("line-fit", &inputs, "intercept", -0.1712, 5e-5);
        near("line-fit", &inputs, "slope", 2.182_697_739_887_3, 1e-9);
        near("line-fit", &inputs, "slope_uncertainty", 0.667_938_773_227_8, 1e-9);
        near("line-fit", &inputs, "residual_deviation", (0.000_110_096_583_109_f64 / 9.0).sqrt(), 1e-14);
        let fit = least_squares::fit(&positions.map(|position| [1.0, position]), &corrections).unwrap();
        let of_intercept = fit.residual_deviation().unwrap() * fit.variance_factors[0].sqrt();
        assert!((of_intercept - 0.0029).abs() < 5e-5, "{of_intercept}");
    }

    // Algebra: two points leave nothing over.
    #[test]
    fn two_points_fit_exactly() {
        let inputs = json!({"positions": [100, 300], "readings": [0.5, 0.25]});
        let expected = json!({"slope": -1.25, "intercept": 0.625, "residual_deviation": null, "slope_uncertainty": null,
            "straightness": 0.0});
        holds("line-fit", &inputs, &expected);
        refuses("line-fit", &with(&inputs, "positions", json!([100, 100])), "positions");
        refuses("line-fit", &with(&inputs, "positions", json!([100])), "positions");
        refuses("line-fit", &with(&inputs, "readings", json!([1, 2, 3])), "readings");
    }

    proptest! {
        // Algebra: points of a line have no residuals, and shifting all readings shifts the intercept alone.
        #[test]
        fn points_of_a_line_leave_nothing_over(slope in -0.01..0.01_f64, intercept in -500.0..500.0_f64) {
            let positions: Vec<f64> = (0..9).map(|place| 25.0 * f64::from(place)).collect();
            let readings: Vec<f64> = positions.iter().map(|position| intercept + slope * position).collect();
            let found = answer("line-fit", &json!({"positions": positions, "readings": readings}));
            let number = |key: &str| found[key]["value"].as_f64().unwrap();
            prop_assert!((number("slope") - slope * 1000.0).abs() < 1e-10 && number("straightness") < 1e-12);
            prop_assert!((number("intercept") - intercept).abs() < 1e-11);
        }
    }

    const NORRIS: [(f64, f64); 36] = [
        (0.2, 0.1),
        (337.4, 338.8),
        (118.2, 118.1),
        (884.6, 888.0),
        (10.1, 9.2),
        (226.5, 228.1),
        (666.3, 668.5),
        (996.3, 998.5),
        (448.6, 449.1),
        (777.0, 778.9),
        (558.2, 559.2),
        (0.4, 0.3),
        (0.6, 0.1),
        (775.5, 778.1),
        (666.9, 668.8),
        (338.0, 339.3),
        (447.5, 448.9),
        (11.6, 10.8),
        (556.0, 557.7),
        (228.1, 228.3),
        (995.8, 998.0),
        (887.6, 888.8),
        (120.2, 119.6),
        (0.3, 0.3),
        (0.3, 0.6),
        (556.8, 557.6),
        (339.1, 339.3),
        (887.2, 888.0),
        (999.0, 998.5),
        (779.0, 778.9),
        (11.1, 10.2),
        (118.3, 117.6),
        (229.2, 228.9),
        (669.1, 668.4),
        (448.9, 449.2),
        (0.5, 0.2),
    ];
}
