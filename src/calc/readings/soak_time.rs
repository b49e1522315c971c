//! How long must a part lie before its temperature difference has shrunk to a given value?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "soak-time",
    version: 1,
    topic: "metrology",
    question: "How long must a part lie before its temperature difference has shrunk to a given value?",
    formula: "time_constant = mass*specific_heat/(heat_transfer*surface_area); soak_time = time_constant \
         ln(difference_at_start/difference_at_end)",
    inputs: &[
        Input::quantity("mass", "kg", "mass of the part").above(0.0),
        Input::quantity("specific_heat", "J/(kg K)", "specific heat").above(0.0),
        Input::quantity("heat_transfer", "W/(m2 K)", "heat transfer coefficient to air or plate").above(0.0),
        Input::quantity("surface_area", "m2", "surface").above(0.0),
        Input::quantity("difference_at_start", "K", "temperature difference at the start").above(0.0),
        Input::quantity("difference_at_end", "K", "difference that is allowed").above(0.0),
    ],
    outputs: &[
        Output::quantity("time_constant", "min", "time constant"),
        Output::quantity("soak_time", "min", "time to wait"),
    ],
    refusals: &[Refusal::of("difference_at_end", "greater than difference_at_start")],
    usual_mistake: "hours, not minutes, for a thick part in still air",
    validity: "small part with even temperature inside (lumped)",
    source: "lumped cooling",
    example: r#"{
            "mass": 0.6, "specific_heat": 500, "heat_transfer": 10, "surface_area": "120 cm2",
            "difference_at_start": 8, "difference_at_end": 0.5
        }"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    const SECONDS_PER_MINUTE: f64 = 60.0;
    let (start, end) = (given.number("difference_at_start")?, given.number("difference_at_end")?);
    if end > start {
        let reason = "difference_at_end is greater than difference_at_start: lying does not warm a part up further.";
        return Err(Refused::new("difference_at_end", reason));
    }
    let heat_held = given.number("mass")? * given.number("specific_heat")?;
    let heat_lost = given.number("heat_transfer")? * given.number("surface_area")?;
    let time_constant = heat_held / heat_lost / SECONDS_PER_MINUTE;
    Ok(Answer::new().with("time_constant", time_constant).with("soak_time", time_constant * (start / end).ln()))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, near, refuses, with};

    // By hand: 0.6 kg * 500 J/(kg K) / (10 W/(m2 K) * 0.012 m2) = 2500 s; ln 16 = 2.772 589 time constants.
    #[test]
    fn a_difference_dies_away_by_its_time_constant() {
        let inputs = json!({"mass": 0.6, "specific_heat": 500, "heat_transfer": 10, "surface_area": "120 cm2",
            "difference_at_start": 8, "difference_at_end": 0.5});
        holds("soak-time", &inputs, &json!({"time_constant": 2500.0 / 60.0}));
        near("soak-time", &inputs, "soak_time", 115.5245, 0.000_05);
        let fahrenheit = with(&inputs, "difference_at_end", json!("1.8 degF"));
        near("soak-time", &fahrenheit, "soak_time", 2500.0 / 60.0 * 8.0_f64.ln(), 1e-9);
        holds("soak-time", &with(&inputs, "difference_at_end", json!(8)), &json!({"soak_time": 0.0}));
        refuses("soak-time", &with(&inputs, "difference_at_end", json!(8.001)), "difference_at_end");
        refuses("soak-time", &with(&inputs, "mass", json!(0)), "mass");
    }
}
