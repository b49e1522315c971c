//! Is a feature inside its round position zone?

use std::f64::consts::FRAC_1_SQRT_2;

use crate::calc::limits;
use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "position-zone",
    version: 1,
    topic: "inspection",
    question: "Is a feature inside its round position zone?",
    formula: "radial_error = sqrt(error_x^2+error_y^2); diametral_error = 2 radial_error; inside = diametral_error \
         <= position_zone; per_axis_limit = position_zone/2/sqrt(2)",
    inputs: &[
        Input::quantity("position_zone", "mm", "DIAMETER of the position zone").above(0.0),
        Input::quantity("error_x", "mm", "error in one direction"),
        Input::quantity("error_y", "mm", "error across it"),
    ],
    outputs: &[
        Output::quantity("radial_error", "mm", "distance from true position"),
        Output::quantity("diametral_error", "mm", "twice that, to compare with the zone"),
        Output::flag("inside", "true when inside or on the edge"),
        Output::quantity("per_axis_limit", "mm", "equal error per axis that just reaches the zone"),
    ],
    refusals: &[],
    usual_mistake: "each axis below half the zone and the hole is out all the same",
    validity: "none",
    source: "definition of the position tolerance (ISO 1101)",
    example: r#"{"position_zone": 0.05, "error_x": 0.019, "error_y": 0.0165}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let position_zone = given.number("position_zone")?;
    let radial_error = given.number("error_x")?.hypot(given.number("error_y")?);
    let diametral_error = 2.0 * radial_error;
    Ok(Answer::new()
        .with("radial_error", radial_error)
        .with("diametral_error", diametral_error)
        .with("inside", limits::within(diametral_error, position_zone))
        .with("per_axis_limit", position_zone / 2.0 * FRAC_1_SQRT_2))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, refuses, with};

    // Worked case position_zone_per_axis of the project's own set of cases.
    #[test]
    fn small_errors_in_both_directions_leave_the_zone() {
        let inputs = json!({"position_zone": 0.05, "error_x": 0.019, "error_y": 0.0165});
        let expected = json!({"radial_error": 0.025_164_459_064_323_238, "diametral_error": 0.050_328_918_128_646_476,
            "inside": false, "per_axis_limit": 0.017_677_669_529_663_688});
        holds("position-zone", &inputs, &expected);
    }

    // Pythagoras: 3, 4, 5; the edge of the zone is inside.
    #[test]
    fn the_edge_of_the_zone_is_inside() {
        let inputs = json!({"position_zone": 0.1, "error_x": -0.03, "error_y": "40 um"});
        holds("position-zone", &inputs, &json!({"radial_error": 0.05, "diametral_error": 0.1, "inside": true}));
        holds("position-zone", &with(&inputs, "error_y", json!(0.04001)), &json!({"inside": false}));
    }

    #[test]
    fn extreme_errors_stay_numbers_and_a_zone_of_nothing_is_refused() {
        let inputs = json!({"position_zone": 1e-300, "error_x": 1e200, "error_y": -1e200});
        holds("position-zone", &inputs, &json!({"radial_error": 2.0_f64.sqrt() * 1e200, "inside": false}));
        refuses("position-zone", &with(&inputs, "position_zone", json!(0)), "position_zone");
        refuses("position-zone", &with(&inputs, "error_x", json!(1.7e308)), "inputs");
    }
}
