//! Which circle fits touched points best, and how round are they?

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
