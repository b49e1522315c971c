//! Where does an edge lie that was touched at several places, and how far is it askew?

use crate::calc::least_squares::{self, Fit};
use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "edge-from-touches",
    version: 1,
    topic: "metrology",
    question: "Where does an edge lie that was touched at several places, and how far is it askew?",
    formula: "least squares: position = a + b along; edge_position = a + b at + s tip_radius sqrt(1+b^2), s = +1 when the \
         tip stands on the minus side; skew = atan b",
    inputs: &[
        Input::points(
            "touches",
            2,
            "mm",
            "[position, along] of the spindle at each touch: first the axis that was felt, \
            then the place along the edge",
        )
        .least_items(2),
        Input::quantity("tip_radius", "mm", "radius of the tip").at_least(0.0),
        Input::word("tip_stands_on", &["plus-side", "minus-side"], "side of the edge on which the tip stands"),
        Input::quantity("at", "mm", "place along the edge at which its position is wanted"),
    ],
    outputs: &[
        Output::quantity("edge_position", "mm", "position of the edge at that place"),
        Output::quantity(
            "skew",
            "deg",
            "angle between the edge and the axis along it; plus = the position grows along it",
        ),
        Output::quantity("skew_over_metre", "mm/m", "the same as a slope"),
        Output::quantity("position_factor", "1", "standard uncertainty of the position over that of one touch"),
        Output::quantity("largest_residual", "mm", "largest touch off the line"),
        Output::quantity("residual_deviation", "mm", "standard deviation of the touches about the line")
            .null_when("exactly two touches"),
    ],
    refusals: &[Refusal::of("touches", "fewer than two, or all at one place along the edge")],
    usual_mistake: "taking one touch for the edge: a fixture askew by 0.05 mm on 90 mm is wrong by as much at its far end",
    validity: "straight edge, same side touched everywhere; places along the edge exact",
    source: "linear least squares; JCGM 100 clause H.3 on the uncertainty of a line",
    example: r#"{
            "touches": [[-315.406, -220], [-315.402, -187], [-315.398, -154]], "tip_radius": 3,
            "tip_stands_on": "minus-side", "at": -187
        }"#,
    solve,
};

/// A straight edge through touches, told from the middle of the places along it.
pub(super) struct Edge {
    /// Position at the middle, tip radius put on.
    pub position: f64,
    /// Change of the position along the edge.
    pub slope: f64,
    /// The middle of the places.
    pub middle: f64,
    /// Variance of the position at the middle and of the slope, in those of one touch.
    factors: [f64; 2],
    fit: Fit<2>,
}

impl Edge {
    /// Fits an edge to touches `[position, along]`; the side is +1 when the tip stands on the minus side.
    pub(super) fn through(touches: &[[f64; 2]], radius: f64, side: f64) -> Option<Self> {
        #[expect(clippy::cast_precision_loss, reason = "no list has 2^53 entries")]
        let count = touches.len() as f64;
        let middle = touches.iter().map(|touch| touch[1] / count).sum::<f64>();
        let rows: Vec<[f64; 2]> = touches.iter().map(|touch| [1.0, touch[1] - middle]).collect();
        let felt: Vec<f64> = touches.iter().map(|touch| touch[0]).collect();
        let fit = least_squares::fit(&rows, &felt).ok()?;
        let [constant, slope] = fit.coefficients;
        let position = constant + side * radius * slope.hypot(1.0);
        Some(Self { position, slope, middle, factors: fit.variance_factors, fit })
    }

    /// Returns where the edge stands at a place along it.
    pub(super) fn at(&self, along: f64) -> f64 {
        self.position + self.slope * (along - self.middle)
    }

    fn factor_at(&self, along: f64) -> f64 {
        self.factors[0].sqrt().hypot(self.factors[1].sqrt() * (along - self.middle))
    }
}

/// Returns +1 when the tip stands on the minus side of a face: the face lies beyond the spindle by a radius.
pub(super) fn side_of(word: &str) -> f64 {
    if word == "minus-side" { 1.0 } else { -1.0 }
}

fn solve(given: &Given) -> Result<Answer, Refused> {
    let side = side_of(given.word("tip_stands_on")?);
    let edge = Edge::through(given.points::<2>("touches")?, given.number("tip_radius")?, side).ok_or_else(|| {
        Refused::new("touches", "touches lie at one place along the edge: touch at two places or more, well apart.")
    })?;
    let at = given.number("at")?;
    Ok(Answer::new()
        .with("edge_position", edge.at(at))
        .with("skew", edge.slope.atan().to_degrees())
        .with("skew_over_metre", 1000.0 * edge.slope)
        .with("position_factor", edge.factor_at(at))
        .with("largest_residual", edge.fit.largest_residual())
        .with("residual_deviation", edge.fit.residual_deviation()))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, near, refuses, with};

    // Geometry: an edge askew by atan(3/4): the tip centre runs a quarter above the radius away, 5/4 of it along the axis.
    #[test]
    fn the_tip_stands_off_square_to_the_edge() {
        let inputs = json!({"touches": [[0, 0], [0.75, 1]], "tip_radius": 4, "tip_stands_on": "minus-side", "at": 10});
        let expected = json!({"edge_position": 7.5 + 5.0, "skew": 0.75_f64.atan().to_degrees(),
            "skew_over_metre": 750.0, "largest_residual": 0.0, "residual_deviation": null});
        holds("edge-from-touches", &inputs, &expected);
        let plus = with(&inputs, "tip_stands_on", json!("plus-side"));
        holds("edge-from-touches", &plus, &json!({"edge_position": 2.5}));
        refuses("edge-from-touches", &with(&inputs, "touches", json!([[0, 3], [1, 3]])), "touches");
        refuses("edge-from-touches", &with(&inputs, "touches", json!([[0, 3]])), "touches");
        refuses("edge-from-touches", &with(&inputs, "tip_radius", json!(-1)), "tip_radius");
    }

    // JCGM 100 (GUM) H.3, thermometer calibration: eleven corrections by temperature from 20 degC; intercept -0.1712 with
    // u = 0.0029, slope 0.00218, s = 0.0035; at 30 degC -0.1494 with u = 0.0041.
    #[test]
    fn the_thermometer_of_the_gum() {
        let temperatures = [21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.010, 26.511];
        let corrections = [-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.160];
        let touches: Vec<[f64; 2]> = temperatures.iter().zip(corrections).map(|(t, b)| [b, t - 20.0]).collect();
        let inputs = json!({"touches": touches, "tip_radius": 0, "tip_stands_on": "plus-side", "at": 0});
        near("edge-from-touches", &inputs, "edge_position", -0.1712, 5e-5);
        near("edge-from-touches", &inputs, "skew_over_metre", 2.18, 5e-3);
        near("edge-from-touches", &inputs, "residual_deviation", 0.0035, 5e-5);
        near("edge-from-touches", &inputs, "position_factor", 0.0029 / 0.0035, 0.02);
        let at_30 = with(&inputs, "at", json!(10));
        near("edge-from-touches", &at_30, "edge_position", -0.1494, 5e-5);
        near("edge-from-touches", &at_30, "position_factor", 0.0041 / 0.0035, 0.02);
    }
}
