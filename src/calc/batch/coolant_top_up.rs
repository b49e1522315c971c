//! How strong is the coolant and how much mix must be added to reach the target?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "coolant-top-up",
    version: 1,
    topic: "batch",
    question: "How strong is the coolant and how much mix must be added to reach the target?",
    formula: "concentration_now = refractometer_reading*refractometer_factor; add_volume = tank_volume \
         (target_concentration - concentration_now)/(top_up_concentration - target_concentration)",
    inputs: &[
        Input::quantity("tank_volume", "L", "volume in the tank").above(0.0),
        Input::quantity("refractometer_reading", "%", "reading of the refractometer").at_least(0.0).at_most(100.0),
        Input::quantity("refractometer_factor", "1", "factor of the coolant").above(0.0).or(1.0),
        Input::quantity("target_concentration", "%", "concentration wanted").above(0.0).below(100.0),
        Input::quantity("top_up_concentration", "%", "concentration of what is added: 100 = neat, 0 = water")
            .at_least(0.0)
            .at_most(100.0)
            .or(100.0),
    ],
    outputs: &[
        Output::quantity("concentration_now", "%", "concentration now"),
        Output::quantity("add_volume", "L", "volume to add"),
    ],
    refusals: &[Refusal::of(
        "top_up_concentration",
        "same as the target, or on the wrong side: adding it cannot reach the target (add_volume would be \
             negative)",
    )],
    usual_mistake: "forgetting the refractometer factor",
    validity: "room in the tank for what is added",
    source: "mass balance",
    example: r#"{
            "tank_volume": 120, "refractometer_reading": 4.2, "refractometer_factor": 1.4,
            "target_concentration": 8
        }"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let now = given.number("refractometer_reading")? * given.number("refractometer_factor")?;
    let (target, added) = (given.number("target_concentration")?, given.number("top_up_concentration")?);
    let (missing, stronger) = (target - now, added - target);
    if stronger.abs() <= 0.0 || missing * stronger < 0.0 {
        return Err(Refused::new(
            "top_up_concentration",
            "Adding this can never reach the target: it is the same as the target, or on the wrong side of it.",
        ));
    }
    Ok(Answer::new()
        .with("concentration_now", now)
        .with("add_volume", given.number("tank_volume")? * missing / stronger))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, near, refuses, with};

    // Mixing rule: 100 L at 4 % and 100 % concentrate, to 8 %.
    #[test]
    fn a_weak_tank_gets_concentrate_and_a_strong_one_water() {
        let inputs = json!({"tank_volume": 100, "refractometer_reading": 4, "target_concentration": 8});
        near("coolant-top-up", &inputs, "add_volume", 400.0 / 92.0, 1e-12);
        let strong = with(&with(&inputs, "refractometer_reading", json!(10)), "top_up_concentration", json!(0));
        holds("coolant-top-up", &strong, &json!({"add_volume": 25.0}));
        refuses("coolant-top-up", &with(&inputs, "top_up_concentration", json!(8)), "top_up_concentration");
        refuses("coolant-top-up", &with(&inputs, "top_up_concentration", json!(2)), "top_up_concentration");
    }
}
