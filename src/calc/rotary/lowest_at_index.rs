//! How low does anything on the fixture come at an index, and what gap is left to the table?

use crate::calc::degrees;
use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "lowest-at-index",
    version: 1,
    topic: "rotary",
    question: "How low does anything on the fixture come at an index, and what gap is left to the table?",
    formula: "z' = (y + off_centre_y) sin(turn) + (z + off_centre_z) cos(turn), turn = s*index_angle, for the corners and \
         every point; lowest = the least; gap = centre_height + lowest; highest = the greatest",
    inputs: &[
        Input::points(
            "points",
            2,
            "mm",
            "corners and whatever sticks out: [y, z] from the fixture's middle at index 0",
        )
        .least_items(1),
        Input::quantity("off_centre_y", "mm", "fixture off the centreline in Y at index 0").or(0.0),
        Input::quantity("off_centre_z", "mm", "the same in Z").or(0.0),
        Input::quantity("index_angle", "deg", "commanded rotary angle, from the index at which the points are given"),
        Input::work_turns(),
        Input::quantity("centre_height", "mm", "height of the rotary centreline above the table").above(0.0),
    ],
    outputs: &[
        Output::quantity("lowest", "mm", "lowest point from the centreline, minus = below it"),
        Output::quantity("highest", "mm", "highest point from the centreline"),
        Output::quantity("gap", "mm", "gap to the table, minus = it hits"),
        Output::count("lowest_place", "which of the points it is, counted from 1"),
    ],
    refusals: &[],
    usual_mistake: "judging the swing at index 0, where the screw looks up",
    validity: "rigid bodies, one rotary axis; only where it stands, not on the way there (see forbidden-index-range)",
    source: "rotation in the plane",
    example: r#"{
            "points": [[45, 45], [-45, 45], [-45, -45], [45, -45], [118, 9]], "index_angle": 270,
            "work_turns": "left-hand", "centre_height": 160
        }"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let (off_y, off_z) = (given.number("off_centre_y")?, given.number("off_centre_z")?);
    let (sine, cosine) = degrees::sine_and_cosine(given.work_turns()? * given.number("index_angle")?);
    let heights = given.points::<2>("points")?.iter().map(|[y, z]| (y + off_y) * sine + (z + off_z) * cosine);
    let heights: Vec<f64> = heights.collect();
    let lowest = heights.iter().enumerate().min_by(|one, other| one.1.total_cmp(other.1));
    let (place, lowest) = lowest.ok_or_else(|| Refused::undeclared("points"))?;
    let highest = heights.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    Ok(Answer::new()
        .with("lowest", *lowest)
        .with("highest", highest)
        .with("gap", given.number("centre_height")? + lowest)
        .with("lowest_place", place + 1))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, refuses, with};

    // Rotation: a right-hand quarter turn about +X takes +Y to +Z, so what stuck out to the rear looks up, and down the
    // other way; the sense mirrors it.
    #[test]
    fn a_screw_to_the_rear_looks_down_after_three_quarters() {
        let inputs = json!({"points": [[45, -45], [120, 10]], "off_centre_y": 2, "index_angle": 270,
            "work_turns": "right-hand", "centre_height": 160});
        let expected = json!({"lowest": -122.0, "lowest_place": 2, "gap": 38.0, "highest": -47.0});
        holds("lowest-at-index", &inputs, &expected);
        let mirrored = with(&inputs, "work_turns", json!("left-hand"));
        holds("lowest-at-index", &mirrored, &json!({"lowest": 47.0, "lowest_place": 1, "highest": 122.0}));
        refuses("lowest-at-index", &with(&inputs, "centre_height", json!(0)), "centre_height");
        refuses("lowest-at-index", &with(&inputs, "points", json!([])), "points");
    }
}
