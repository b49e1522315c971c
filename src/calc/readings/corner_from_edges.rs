//! Where is the corner of two touched edges, how far is it askew, and is it square?

use super::edge_from_touches::{Edge, side_of};
use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};

const SIDES: &[&str] = &["plus-side", "minus-side"];

pub(super) static CALCULATION: Calculation = Calculation {
    id: "corner-from-edges",
    version: 1,
    topic: "metrology",
    question: "Where is the corner of two touched edges, how far is it askew, and is it square?",
    formula: "edges as in edge-from-touches: x = a + b y and y = c + d x, tip radius put on; corner_x = (a + b c)/(1 - b d), \
         corner_y = c + d corner_x; x_edge_skew = -atan b, y_edge_skew = atan d (right-handed turn about +Z); \
         out_of_square = x_edge_skew - y_edge_skew",
    inputs: &[
        Input::points("x_edge_touches", 2, "mm", "[x, y] of the spindle at touches on the edge that faces along X")
            .least_items(2),
        Input::points("y_edge_touches", 2, "mm", "[x, y] of the spindle at touches on the edge that faces along Y")
            .least_items(2),
        Input::quantity("tip_radius", "mm", "radius of the tip").at_least(0.0),
        Input::word("tip_stands_on_x", SIDES, "side of the X edge on which the tip stands"),
        Input::word("tip_stands_on_y", SIDES, "side of the Y edge on which the tip stands"),
    ],
    outputs: &[
        Output::quantity("corner_x", "mm", "X of the corner"),
        Output::quantity("corner_y", "mm", "Y of the corner"),
        Output::quantity("x_edge_skew", "deg", "turn of the X edge about +Z against the Y axis"),
        Output::quantity("y_edge_skew", "deg", "turn of the Y edge about +Z against the X axis"),
        Output::quantity("out_of_square", "deg", "difference of the two: 0 for a square corner"),
    ],
    refusals: &[
        Refusal::of("x_edge_touches", "fewer than two, or all at one Y; edges that run alongside each other"),
        Refusal::of("y_edge_touches", "fewer than two, or all at one X"),
    ],
    usual_mistake: "one touch an edge: the skew is then taken for position",
    validity: "straight edges, each touched on one side",
    source: "intersection of two least-squares lines",
    example: r#"{
            "x_edge_touches": [[-3, 10], [-3, 40]], "y_edge_touches": [[10, -3], [40, -3]], "tip_radius": 3,
            "tip_stands_on_x": "minus-side", "tip_stands_on_y": "minus-side"
        }"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let radius = given.number("tip_radius")?;
    let edge = |key: &'static str, touches: &[[f64; 2]], side: &str| {
        let reason = format!("{key} lie at one place along the edge: touch at two places or more, well apart.");
        Edge::through(touches, radius, side_of(side)).ok_or_else(|| Refused::new(key, reason))
    };
    let x_touches = given.points::<2>("x_edge_touches")?;
    let y_touches: Vec<[f64; 2]> = given.points::<2>("y_edge_touches")?.iter().map(|[x, y]| [*y, *x]).collect();
    let x_edge = edge("x_edge_touches", x_touches, given.word("tip_stands_on_x")?)?;
    let y_edge = edge("y_edge_touches", &y_touches, given.word("tip_stands_on_y")?)?;
    let apart = 1.0 - x_edge.slope * y_edge.slope;
    if apart.abs() < 1e-9 {
        return Err(Refused::new("x_edge_touches", "the two edges run alongside each other: they have no corner."));
    }
    let corner_x = x_edge.middle.mul_add(-x_edge.slope, x_edge.position)
        + x_edge.slope * (y_edge.position - y_edge.slope * y_edge.middle);
    let corner_x = corner_x / apart;
    let skews = (-x_edge.slope.atan().to_degrees(), y_edge.slope.atan().to_degrees());
    Ok(Answer::new()
        .with("corner_x", corner_x)
        .with("corner_y", y_edge.at(corner_x))
        .with("x_edge_skew", skews.0)
        .with("y_edge_skew", skews.1)
        .with("out_of_square", skews.0 - skews.1))
}

#[cfg(test)]
mod tests {
    use serde_json::{Value, json};

    use crate::calc::check::{holds, refuses, with};

    /// Spindle positions at touches on the two edges of a square corner at (20, 30), turned by an angle, from outside with
    /// a tip of radius 2.
    fn turned(degrees: f64) -> Value {
        let (sine, cosine) = degrees.to_radians().sin_cos();
        let place =
            |along: f64, off: f64| json!([20.0 + along * cosine - off * sine, 30.0 + along * sine + off * cosine]);
        json!({"y_edge_touches": [place(5.0, -2.0), place(25.0, -2.0), place(45.0, -2.0)],
            "x_edge_touches": [place(-2.0, 5.0), place(-2.0, 45.0)], "tip_radius": 2,
            "tip_stands_on_x": "minus-side", "tip_stands_on_y": "minus-side"})
    }

    // Geometry: a square corner keeps its place and its squareness whatever it is turned by.
    #[test]
    fn a_square_corner_is_found_at_any_skew() {
        for degrees in [-4.0, 0.0, 0.3, 12.0] {
            let expected = json!({"corner_x": 20.0, "corner_y": 30.0, "x_edge_skew": degrees, "y_edge_skew": degrees,
                "out_of_square": 0.0});
            holds("corner-from-edges", &turned(degrees), &expected);
        }
    }

    #[test]
    fn edges_without_a_corner_are_refused() {
        let inputs = turned(1.0);
        refuses("corner-from-edges", &with(&inputs, "x_edge_touches", json!([[1, 5], [2, 5]])), "x_edge_touches");
        refuses("corner-from-edges", &with(&inputs, "y_edge_touches", json!([[5, 1]])), "y_edge_touches");
        let alongside = with(&inputs, "x_edge_touches", json!([[0, 0], [1, 1]]));
        let alongside = with(&alongside, "y_edge_touches", json!([[5, 0], [6, 1]]));
        refuses("corner-from-edges", &alongside, "x_edge_touches");
    }
}
