//! Is the shift of an off-centre that re-clocking leaves small enough to leave alone?

use crate::calc::limits;
use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "off-centre-neglect",
    version: 1,
    topic: "rotary",
    question: "Has the off-centre moved so little that it can be left alone?",
    formula: "limit = share/3; neglect = off_centre_moved <= limit",
    inputs: &[
        Input::quantity("off_centre_moved", "mm", "how far the off-centre moved (off-centre-after-reclocking)")
            .at_least(0.0),
        Input::quantity("share", "mm", "share of the tolerance that one axis may use up").above(0.0),
    ],
    outputs: &[
        Output::quantity("limit", "mm", "move up to which it can be left alone"),
        Output::flag("neglect", "true when it can be left alone"),
    ],
    refusals: &[],
    usual_mistake: "levelling again and leaving the index table as it was when the fixture sits millimetres off centre",
    validity: "the other contributions fill the share; in squares a third of it adds a twentieth",
    source: "common practice",
    example: r#"{"off_centre_moved": 0.0052, "share": 0.02}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let limit = given.number("share")? / 3.0;
    let neglect = limits::within(given.number("off_centre_moved")?, limit);
    Ok(Answer::new().with("limit", limit).with("neglect", neglect))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, refuses, with};

    // Common practice: a third of the share is the edge, and the edge itself is inside.
    #[test]
    fn up_to_a_third_of_the_share_is_left_alone() {
        let inputs = json!({"off_centre_moved": 0.01, "share": 0.03});
        holds("off-centre-neglect", &inputs, &json!({"limit": 0.01, "neglect": true}));
        holds("off-centre-neglect", &with(&inputs, "off_centre_moved", json!(0.010_01)), &json!({"neglect": false}));
        refuses("off-centre-neglect", &with(&inputs, "share", json!(0)), "share");
        refuses("off-centre-neglect", &with(&inputs, "off_centre_moved", json!(-0.1)), "off_centre_moved");
    }
}
