//! What share of its grip does a cut ask of the ring that holds the part?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "holding-use",
    version: 1,
    topic: "fit",
    question: "What share of its grip does a cut ask of the ring that holds the part?",
    formula: "moment = thrust*|lateral_offset|; torque_use = moment/slip_torque; twist_use = drill_torque/(slip_thrust* \
         ring_width/4); use = larger of both",
    inputs: &[
        Input::quantity("thrust", "N", "thrust along the drill, square to the part's axis").at_least(0.0),
        Input::quantity("drill_torque", "N m", "torque of the drill").at_least(0.0),
        Input::quantity("lateral_offset", "mm", "offset of the hole from the part's axis, either sign"),
        Input::quantity("slip_torque", "N m", "torque at which the part turns in the ring").above(0.0),
        Input::quantity("slip_thrust", "N", "axial force at which it slides").above(0.0),
        Input::quantity("ring_width", "mm", "width of the ring").above(0.0),
    ],
    outputs: &[
        Output::quantity("moment", "N m", "moment that wants to turn the part in the ring"),
        Output::quantity("torque_use", "1", "share of the slip torque, 1 = it turns"),
        Output::quantity(
            "twist_use",
            "1",
            "share of what keeps the part from twisting out of the ring by friction alone",
        ),
        Output::quantity("use", "1", "larger of both"),
    ],
    refusals: &[],
    usual_mistake: "using all of a grip that is known to a factor of two: half is the most",
    validity: "static; friction alone, even pressure, halves of the ring acting at a quarter of its width",
    source: "statics",
    example: r#"{"thrust": 170, "drill_torque": 0.4, "lateral_offset": 3.25, "slip_torque": 72, "slip_thrust": 3016,
        "ring_width": 20}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let moment = given.number("thrust")? * (given.number("lateral_offset")?.abs() / 1000.0);
    let torque_use = moment / given.number("slip_torque")?;
    let lever = given.number("ring_width")? / 4000.0;
    let twist_use = given.number("drill_torque")? / (given.number("slip_thrust")? * lever);
    Ok(Answer::new()
        .with("moment", moment)
        .with("torque_use", torque_use)
        .with("twist_use", twist_use)
        .with("use", torque_use.max(twist_use)))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, refuses, with};

    // By hand: 200 N at 5 mm are 1 N m of 4 N m; 2 N m against 1000 N at a quarter of 20 mm, 5 N m.
    #[test]
    fn the_larger_share_counts() {
        let inputs = json!({"thrust": 200, "drill_torque": 2, "lateral_offset": -5, "slip_torque": 4, "slip_thrust": 1000,
            "ring_width": 20});
        holds("holding-use", &inputs, &json!({"moment": 1.0, "torque_use": 0.25, "twist_use": 0.4, "use": 0.4}));
        refuses("holding-use", &with(&inputs, "slip_torque", json!(0)), "slip_torque");
    }
}
