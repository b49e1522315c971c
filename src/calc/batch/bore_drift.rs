//! How fast does the bore drift from piece to piece, and which piece will be the first below the limit?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};
use crate::calc::{least_squares, limits};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "bore-drift",
    version: 1,
    topic: "batch",
    question: "How fast does the bore drift from piece to piece, and which piece will be the first below the limit?",
    formula: "least squares on bore = intercept + drift_per_piece*piece; residual_deviation = sqrt(sum r^2/(n-2)); \
         drift_t = drift_per_piece/(residual_deviation/sqrt(sum (piece-mean)^2)); predicted_next = line at (largest \
         piece + 1); first_piece_below = floor((lower_limit-intercept)/drift_per_piece)+1 when drift_per_piece < 0",
    inputs: &[
        Input::counts("pieces", "piece numbers since the last correction, at least two different").least_items(3),
        Input::quantities("bores", "mm", "bore of each piece").above(0.0).least_items(3).same_length_as("pieces"),
        Input::quantity("lower_limit", "mm", "guard-banded lower limit").above(0.0),
    ],
    outputs: &[
        Output::quantity("drift_per_piece", "mm/piece", "drift per piece"),
        Output::quantity("intercept", "mm", "line at piece 0"),
        Output::quantity("residual_deviation", "mm", "standard deviation of the residuals"),
        Output::quantity("drift_t", "1", "drift over its standard uncertainty")
            .null_when("residual_deviation below 1e-12 mm"),
        Output::quantity("predicted_next", "mm", "bore of the next piece by the line"),
        Output::count("first_piece_below", "first whole piece number at which the line is below the limit")
            .null_when("drift_per_piece of zero or more"),
    ],
    refusals: &[
        Refusal::of("pieces", "fewer than three, or all the same"),
        Refusal::of("bores", "another number of entries than pieces"),
    ],
    usual_mistake: "reading a trend out of noise: look at the t value",
    validity: "straight drift, no correction within the data",
    source: "linear least squares",
    example: r#"{
            "pieces": [1, 2, 3, 4, 5, 6], "bores": [8.007, 8.0072, 8.0069, 8.0066, 8.0064, 8.0061],
            "lower_limit": 8.0025
        }"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    /// A scatter below this is the noise of the arithmetic, in millimetres.
    const NO_SCATTER: f64 = 1e-12;
    let pieces = given.numbers("pieces")?;
    let line = Line::through(pieces, given.numbers("bores")?)?;
    let last_piece = pieces.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let drift_t =
        (line.residual_deviation >= NO_SCATTER).then(|| line.drift / (line.residual_deviation * line.drift_factor));
    Ok(Answer::new()
        .with("drift_per_piece", line.drift)
        .with("intercept", line.bore_at(0.0))
        .with("residual_deviation", line.residual_deviation)
        .with("drift_t", drift_t)
        .with("predicted_next", line.bore_at(last_piece + 1.0))
        .with("first_piece_below", line.first_piece_below(given.number("lower_limit")?)))
}

/// The best straight line through bores, told from the middle of the pieces.
struct Line {
    middle_piece: f64,
    bore_at_middle: f64,
    drift: f64,
    residual_deviation: f64,
    /// Times the residual deviation it is the standard uncertainty of the drift.
    drift_factor: f64,
    /// How far a bore may be off by the last bits of the bores given.
    noise: f64,
}

impl Line {
    fn through(pieces: &[f64], bores: &[f64]) -> Result<Self, Refused> {
        #[expect(clippy::cast_precision_loss, reason = "no list has 2^53 entries")]
        let count = pieces.len() as f64;
        let middle_piece: f64 = pieces.iter().map(|piece| piece / count).sum();
        let rows: Vec<[f64; 2]> = pieces.iter().map(|piece| [1.0, piece - middle_piece]).collect();
        // Bores differ in the last digits only: the differences are exact and keep all of them.
        let first_bore = bores.first().copied().unwrap_or_default();
        let differences: Vec<f64> = bores.iter().map(|bore| bore - first_bore).collect();
        let without_drift = || {
            let reason = "pieces must hold at least three readings of two different pieces to show a drift.";
            Refused::new("pieces", reason)
        };
        let fit = least_squares::fit(&rows, &differences).map_err(|_alike| without_drift())?;
        let [difference_at_middle, drift] = fit.coefficients;
        let [_, drift_factor] = fit.variance_factors;
        Ok(Self {
            middle_piece,
            bore_at_middle: first_bore + difference_at_middle,
            drift,
            residual_deviation: fit.residual_deviation().ok_or_else(without_drift)?,
            drift_factor: drift_factor.sqrt(),
            noise: limits::noise_of(limits::largest(bores)),
        })
    }

    fn bore_at(&self, piece: f64) -> f64 {
        self.bore_at_middle + self.drift * (piece - self.middle_piece)
    }

    /// Returns the first whole piece number at which the line is below the limit, or none when it does not fall.
    fn first_piece_below(&self, lower_limit: f64) -> Option<f64> {
        if self.drift >= -self.noise * self.drift_factor {
            return None;
        }
        let from_middle = (lower_limit - self.bore_at_middle) / self.drift;
        let crossing = self.middle_piece + from_middle;
        let nearest = crossing.round();
        // A piece that lies on the limit is not below it, though the arithmetic may miss the limit by a bit: those of
        // the bores, the more the farther the line is drawn out, and those of the piece numbers.
        let apart = ((from_middle - (nearest - self.middle_piece)) * self.drift).abs();
        let noise = self.noise * (1.0 + from_middle.abs() * self.drift_factor);
        let on_limit = apart <= noise + limits::noise_of(self.middle_piece * self.drift);
        Some(if on_limit { nearest } else { crossing.floor() } + 1.0)
    }
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{answer, holds, near, refuses, with};

    // Worked case bore_drift_line of the project's own set of cases.
    #[test]
    fn a_bore_that_shrinks_is_told_ahead() {
        let inputs = json!({"pieces": [1, 2, 3, 4, 5, 6],
            "bores": [8.007, 8.0072, 8.0069, 8.0066, 8.0064, 8.0061], "lower_limit": 8.0025});
        let expected = json!({"drift_per_piece": -0.000_205_714_285_714_212_32, "intercept": 8.00742,
            "residual_deviation": 0.000_157_661_481_843_522_92, "drift_t": -5.458_305_913_771_355,
            "predicted_next": 8.00598, "first_piece_below": 24});
        holds("bore-drift", &inputs, &expected);
    }

    // By hand: a bore that falls by 1 um a piece from 8.004 mm lies on 7.999 mm at piece 5, and below from piece 6 on.
    #[test]
    fn a_piece_on_the_limit_is_not_below_it() {
        for (offset, below) in [(0, 6), (1_000_000, 1_000_006), (-40, -34)] {
            let inputs = json!({"pieces": [offset + 1, offset + 2, offset + 3], "bores": [8.003, 8.002, 8.001],
                "lower_limit": 7.999});
            let expected = json!({"drift_t": null, "first_piece_below": below, "predicted_next": 8.0});
            holds("bore-drift", &inputs, &expected);
            near("bore-drift", &inputs, "drift_per_piece", -0.001, 1e-12);
            near("bore-drift", &inputs, "residual_deviation", 0.0, 1e-12);
            let above = with(&inputs, "lower_limit", json!(7.999_000_1));
            holds("bore-drift", &above, &json!({"first_piece_below": below - 1}));
        }
    }

    // By hand: bores that rise, that stay, and that scatter evenly do not fall.
    #[test]
    fn a_line_that_does_not_fall_never_reaches_the_limit() {
        for bores in [
            json!([8.001, 8.002, 8.003, 8.004, 8.005, 8.006]),
            json!([8.1, 8.1, 8.1, 8.1, 8.1, 8.1]),
            json!([8.1, 8.13, 8.17, 8.17, 8.13, 8.1]),
        ] {
            let inputs = json!({"pieces": [1, 2, 3, 4, 5, 6], "bores": bores, "lower_limit": 8.0});
            holds("bore-drift", &inputs, &json!({"first_piece_below": null}));
        }
    }

    // By hand: the mean of each piece is on the line, each reading 1 um off it: sqrt(4/2) um, over sqrt(sum) = 1 piece.
    #[test]
    fn the_same_piece_may_be_read_again() {
        let inputs = json!({"pieces": [1, 1, 2, 2], "bores": [8.001, 7.999, 7.991, 7.989], "lower_limit": 7.9});
        let expected = json!({"drift_per_piece": -0.01, "intercept": 8.01,
            "residual_deviation": 0.001 * 2.0_f64.sqrt(), "drift_t": -10.0 / 2.0_f64.sqrt(), "predicted_next": 7.98});
        holds("bore-drift", &inputs, &expected);
    }

    #[test]
    fn readings_that_make_no_line_are_refused() {
        let inputs = json!({"pieces": [1, 2, 3], "bores": [8.0, 8.0, 8.0], "lower_limit": 7.9});
        refuses("bore-drift", &with(&inputs, "pieces", json!([7, 7, 7])), "pieces");
        refuses("bore-drift", &with(&inputs, "pieces", json!([1, 2])), "pieces");
        refuses("bore-drift", &with(&inputs, "pieces", json!([1, 2.5, 3])), "pieces");
        refuses("bore-drift", &with(&inputs, "pieces", json!([1, 2, 3, 4])), "bores");
        refuses("bore-drift", &with(&inputs, "bores", json!([8.0, 8.0])), "bores");
        refuses("bore-drift", &with(&inputs, "bores", json!([8.0, 8.0, 0])), "bores");
        refuses("bore-drift", &with(&inputs, "lower_limit", json!(0)), "lower_limit");
        refuses("bore-drift", &with(&inputs, "pieces", json!([-1.7e308, 0, 1.7e308])), "pieces");
        let far = with(&inputs, "pieces", json!([9_007_199_254_740_989_u64, 9_007_199_254_740_990_u64, 3]));
        assert_eq!(answer("bore-drift", &far)["first_piece_below"], json!(null));
    }
}
