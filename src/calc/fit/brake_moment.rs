//! How hard does the thrust on an off-centre hole try to turn the rotary, and what part of its brake is that?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "brake-moment",
    version: 1,
    topic: "fit",
    question: "How hard does the thrust on an off-centre hole try to turn the rotary, and what part of its brake is \
         that?",
    formula: "moment = thrust*|lateral_offset|; brake_use = moment/brake_torque",
    inputs: &[
        Input::quantity("thrust", "N", "thrust along the spindle").at_least(0.0),
        Input::quantity("lateral_offset", "mm", "offset of the hole from the rotary centreline in Y, either sign"),
        Input::quantity("brake_torque", "N m", "stated holding torque of the brake").above(0.0),
    ],
    outputs: &[
        Output::quantity("moment", "N m", "moment about the rotary axis"),
        Output::quantity("brake_use", "1", "share of the brake used, 1 = all"),
    ],
    refusals: &[],
    usual_mistake: "a hole through the centreline asks nothing of the brake, an offset hole does",
    validity: "static",
    source: "statics",
    example: r#"{"thrust": 170, "lateral_offset": 3.25, "brake_torque": 60}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let moment = given.number("thrust")? * (given.number("lateral_offset")?.abs() / 1000.0);
    Ok(Answer::new().with("moment", moment).with("brake_use", moment / given.number("brake_torque")?))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, refuses, with};

    // By hand: 200 N at 3 mm are 0.6 N m, a hundredth of 60 N m.
    #[test]
    fn either_side_uses_the_brake_alike() {
        for offset in [3.0, -3.0] {
            let inputs = json!({"thrust": 200, "lateral_offset": offset, "brake_torque": 60});
            holds("brake-moment", &inputs, &json!({"moment": 0.6, "brake_use": 0.01}));
            refuses("brake-moment", &with(&inputs, "brake_torque", json!(0)), "brake_torque");
            refuses("brake-moment", &with(&inputs, "thrust", json!("-1 N")), "thrust");
        }
    }
}
