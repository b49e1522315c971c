//! Which plane fits touched heights best, how far is it tilted and does the seat rock?

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
