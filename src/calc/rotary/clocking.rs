//! How far does the part sit turned in the fixture?

use crate::calc::degrees;
use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "clocking",
    version: 1,
    topic: "rotary",
    question: "How far does the part sit turned in the fixture?",
    formula: "clocking_angle = (part_roll - s*part_index) - (fixture_roll - s*fixture_index), brought into -180..180",
    inputs: &[
        Input::quantity("part_roll", "deg", "right-hand roll of the part about +X, read on its pads"),
        Input::quantity("part_index", "deg", "machine rotary position at which the part's roll was read"),
        Input::quantity("fixture_roll", "deg", "right-hand roll of the fixture about +X, read on its own edge"),
        Input::quantity("fixture_index", "deg", "machine rotary position at which the fixture's roll was read"),
        Input::work_turns(),
    ],
    outputs: &[Output::quantity("clocking_angle", "deg", "right-hand turn of the part in the fixture about +X")],
    refusals: &[],
    usual_mistake: "taking the part's roll for the fixture's: the faces touched for Y are the fixture's",
    validity: "both read on the same clamping, small rolls",
    source: "plane geometry",
    example: r#"{
            "part_roll": -0.1831412429320615, "part_index": 37.595, "fixture_roll": -0.41467096397765835,
            "fixture_index": 37.595, "work_turns": "left-hand"
        }"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let sense = given.work_turns()?;
    let rolls = given.number("part_roll")? - given.number("fixture_roll")?;
    let turns = sense * (given.number("part_index")? - given.number("fixture_index")?);
    Ok(Answer::new().with("clocking_angle", degrees::into_half_turns(rolls - turns)))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, near, with};

    // The project's worked job of a flow-sensor body: both rolls at one index, clocking 0.231 529 721.
    #[test]
    fn at_one_index_it_is_the_difference_of_the_rolls() {
        let inputs = json!({"part_roll": -0.183_141_242_932_061_5, "part_index": 37.595,
            "fixture_roll": -0.414_670_963_977_658_35, "fixture_index": 37.595, "work_turns": "left-hand"});
        near("clocking", &inputs, "clocking_angle", 0.231_529_721_045_6, 1e-12);
    }

    // Geometry: a right-hand rotary that is sent on by 2 degrees rolls what it carries by 2 degrees more.
    #[test]
    fn what_the_rotary_did_between_is_taken_out() {
        let inputs = json!({"part_roll": 2.5, "part_index": 1, "fixture_roll": 0.25, "fixture_index": 359,
            "work_turns": "right-hand"});
        holds("clocking", &inputs, &json!({"clocking_angle": 0.25}));
        let left = with(&inputs, "work_turns", json!("left-hand"));
        holds("clocking", &left, &json!({"clocking_angle": 4.25}));
    }
}
