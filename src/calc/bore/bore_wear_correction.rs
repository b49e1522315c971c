//! By how much must the cutter wear value be changed for a bore that measures wrong?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "bore-wear-correction",
    version: 1,
    topic: "bore",
    question: "By how much must the cutter wear value be changed for a bore that measures wrong?",
    formula: "diameter_wear_change = measured_bore - target_bore; radius_wear_change = half of it",
    inputs: &[
        Input::quantity("target_bore", "mm", "bore wanted").above(0.0),
        Input::quantity("measured_bore", "mm", "bore measured").above(0.0),
    ],
    outputs: &[
        Output::quantity(
            "radius_wear_change",
            "mm",
            "change when the register holds a radius, minus makes the bore larger",
        ),
        Output::quantity("diameter_wear_change", "mm", "change when it holds a diameter"),
    ],
    refusals: &[],
    usual_mistake: "radius for diameter doubles or halves the step; the wrong sign makes it worse",
    validity: "milled bore, cutter compensation on",
    source: "definition",
    example: r#"{"target_bore": 8.0075, "measured_bore": 8.0012}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let diameter_wear_change = given.number("measured_bore")? - given.number("target_bore")?;
    Ok(Answer::new()
        .with("radius_wear_change", diameter_wear_change / 2.0)
        .with("diameter_wear_change", diameter_wear_change))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, refuses, with};

    // Worked case wear_offset_bore of the project's own set of cases.
    #[test]
    fn a_small_bore_takes_a_smaller_cutter_value() {
        let inputs = json!({"target_bore": 8.0075, "measured_bore": 8.0012});
        holds(
            "bore-wear-correction",
            &inputs,
            &json!({"radius_wear_change": -0.003_15, "diameter_wear_change": -0.0063}),
        );
        let on_size = with(&inputs, "measured_bore", json!(8.0075));
        holds("bore-wear-correction", &on_size, &json!({"radius_wear_change": 0.0, "diameter_wear_change": 0.0}));
        refuses("bore-wear-correction", &with(&inputs, "measured_bore", json!(0)), "measured_bore");
        refuses("bore-wear-correction", &with(&inputs, "target_bore", json!("8.0075 deg")), "target_bore");
    }
}
