//! How strong is the coolant and how much mix must be added to reach the target?

use crate::calc::limits;
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
    let target = given.number("target_concentration")?;
    let top_up = given.number("top_up_concentration")?;
    let concentration_now = given.number("refractometer_reading")? * given.number("refractometer_factor")?;
    let refused = |what: &str| {
        let reason = format!("top_up_concentration {what}: adding it cannot reach the target.");
        Err(Refused::new("top_up_concentration", reason))
    };
    let missing = target - concentration_now;
    let beyond_target = top_up - target;
    if limits::difference_within(beyond_target.abs(), 0.0, target) {
        return refused("is the same as the target");
    }
    if !limits::difference_within(-missing * beyond_target.signum(), 0.0, target) {
        return refused(if missing > 0.0 {
            "is too thin while the tank needs strong mix"
        } else {
            "is too strong while the tank needs water or thin mix"
        });
    }
    // Nothing is missing when the tank is at its target but for the noise of the product.
    let add_volume = (given.number("tank_volume")? * (missing / beyond_target)).max(0.0);
    Ok(Answer::new().with("concentration_now", concentration_now).with("add_volume", add_volume))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, refuses, with};

    // By hand: 4.2 * 1.4 = 5.88 %; 120 L * 2.12/92 of neat coolant.
    #[test]
    fn neat_coolant_brings_a_thin_tank_up() {
        let inputs = json!({"tank_volume": 120, "refractometer_reading": 4.2, "refractometer_factor": 1.4,
            "target_concentration": 8});
        holds("coolant-top-up", &inputs, &json!({"concentration_now": 5.88, "add_volume": 120.0 * 2.12 / 92.0}));
    }

    // By hand: a quarter of the tank in water thins 10 % to 8 %: 100 L of 10 % and 125 L of 8 % both hold 10 L of
    // coolant.
    #[test]
    fn water_brings_a_strong_tank_down() {
        let inputs = json!({"tank_volume": 100, "refractometer_reading": "10 %", "target_concentration": 8,
            "top_up_concentration": 0});
        holds("coolant-top-up", &inputs, &json!({"concentration_now": 10.0, "add_volume": 25.0}));
        refuses("coolant-top-up", &with(&inputs, "top_up_concentration", json!(100)), "top_up_concentration");
        refuses("coolant-top-up", &with(&inputs, "top_up_concentration", json!(8)), "top_up_concentration");
        let thin = with(&inputs, "refractometer_reading", json!(5));
        refuses("coolant-top-up", &thin, "top_up_concentration");
    }

    // By hand: at its target a tank needs nothing of either; 0.7 times 10 is 7 and 0.1 times 3 is 0.3, doubles or not.
    #[test]
    fn a_tank_at_its_target_needs_nothing() {
        for (reading, factor, target) in [(10.0, 0.7, 7.0), (0.1, 3.0, 0.3), (5.0, 1.0, 5.0)] {
            for top_up in [0, 100] {
                let inputs = json!({"tank_volume": 100, "refractometer_reading": reading,
                    "refractometer_factor": factor, "target_concentration": target, "top_up_concentration": top_up});
                holds("coolant-top-up", &inputs, &json!({"add_volume": 0.0}));
            }
        }
    }

    #[test]
    fn values_outside_their_limits_are_refused() {
        let inputs = json!({"tank_volume": 120, "refractometer_reading": 4.2, "target_concentration": 8});
        for (key, value) in [
            ("tank_volume", json!(0)),
            ("tank_volume", json!("120 kg")),
            ("refractometer_reading", json!(101)),
            ("refractometer_factor", json!(0)),
            ("target_concentration", json!(100)),
            ("target_concentration", json!(0)),
            ("top_up_concentration", json!(-1)),
        ] {
            refuses("coolant-top-up", &with(&inputs, key, value), key);
        }
    }
}
