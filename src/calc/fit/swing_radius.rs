//! How wide do the fixture and everything on it swing, and what clearance is left to the table?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "swing-radius",
    version: 1,
    topic: "fit",
    question: "How wide do the fixture and everything on it swing, and what clearance is left to the table?",
    formula: "corner_swing = max sqrt(y^2+z^2) over (+-width/2+off_centre_y, +-height/2+off_centre_z); \
         protruding_swings = sqrt(y^2+z^2) of each point; table_clearance = centre_height - largest_swing",
    inputs: &[
        Input::quantity("fixture_width", "mm", "outside width in Y at index 0").above(0.0),
        Input::quantity("fixture_height", "mm", "outside height in Z at index 0").above(0.0),
        Input::quantity("off_centre_y", "mm", "fixture off-centre, plus towards +Y").or(0.0),
        Input::quantity("off_centre_z", "mm", "same towards +Z").or(0.0),
        Input::points(
            "protruding_points",
            2,
            "mm",
            "screw heads, jaw-screw ends, handles: [y, z] from the rotary centreline at index 0",
        )
        .or_empty(),
        Input::quantity("centre_height", "mm", "height of the rotary centreline above the table").above(0.0),
    ],
    outputs: &[
        Output::quantity("corner_swing", "mm", "largest radius of the four corners"),
        Output::quantities("protruding_swings", "mm", "radius of each protruding point, in the order given"),
        Output::quantity("largest_swing", "mm", "largest of all"),
        Output::quantity("table_clearance", "mm", "clearance to the table, minus = it hits"),
    ],
    refusals: &[],
    usual_mistake: "the end of the jaw screw usually swings wider than the fixture",
    validity: "rigid bodies, one rotary axis",
    source: "distance from the axis",
    example: r#"{
            "fixture_width": 90, "fixture_height": 70, "off_centre_y": 0.018, "off_centre_z": -0.011,
            "protruding_points": [[52.0, 38.5], [118.0, 9.0]], "centre_height": 160.0
        }"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let reach_y = given.number("fixture_width")? / 2.0 + given.number("off_centre_y")?.abs();
    let reach_z = given.number("fixture_height")? / 2.0 + given.number("off_centre_z")?.abs();
    let corner_swing = reach_y.hypot(reach_z);
    let protruding_swings: Vec<f64> = given.points("protruding_points")?.iter().map(|[y, z]| y.hypot(*z)).collect();
    let largest_swing = protruding_swings.iter().copied().fold(corner_swing, f64::max);
    Ok(Answer::new()
        .with("corner_swing", corner_swing)
        .with("protruding_swings", protruding_swings)
        .with("largest_swing", largest_swing)
        .with("table_clearance", given.number("centre_height")? - largest_swing))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, refuses, with};

    // Worked case swing_radius of the project's own set of cases.
    #[test]
    fn a_screw_end_swings_wider_than_the_fixture() {
        let inputs = json!({"fixture_width": 90, "fixture_height": 70, "off_centre_y": 0.018, "off_centre_z": -0.011,
            "protruding_points": [[52.0, 38.5], [118.0, 9.0]], "centre_height": 160.0});
        let expected = json!({"corner_swing": 57.029_732_990_782_975,
            "protruding_swings": [64.701_236_464_228_42, 118.342_722_632_192_3],
            "largest_swing": 118.342_722_632_192_3, "table_clearance": 41.657_277_367_807_694});
        holds("swing-radius", &inputs, &expected);
        for points in [json!([[1]]), json!([[1, 2, 3]]), json!([1, 2]), json!([["1 deg", 2]]), json!("none")] {
            refuses("swing-radius", &with(&inputs, "protruding_points", points), "protruding_points");
        }
    }

    // By hand: 3-4-5; a clearance below zero hits the table.
    #[test]
    fn a_bare_fixture_swings_on_its_corners() {
        let inputs = json!({"fixture_width": 60, "fixture_height": 80, "centre_height": 49.5});
        let expected = json!({"corner_swing": 50.0, "protruding_swings": [], "largest_swing": 50.0,
            "table_clearance": -0.5});
        holds("swing-radius", &inputs, &expected);
    }
}
