//! Between which sizes must a bore lie for a measured pin?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "bore-window-for-pin",
    version: 1,
    topic: "press-fit",
    question: "Between which sizes must a bore lie for a measured pin?",
    formula: "largest_bore = pin_diameter - least_interference; smallest_bore = pin_diameter - \
         greatest_interference; target_bore = middle",
    inputs: &[
        Input::quantity("pin_diameter", "mm", "measured pin").above(0.0),
        Input::quantity("least_interference", "mm", "least interference wanted").at_least(0.0),
        Input::quantity("greatest_interference", "mm", "greatest interference allowed").above(0.0),
    ],
    outputs: &[
        Output::quantity("largest_bore", "mm", "largest bore"),
        Output::quantity("smallest_bore", "mm", "smallest bore"),
        Output::quantity("target_bore", "mm", "middle of the window"),
    ],
    refusals: &[Refusal::of("greatest_interference", "not greater than least_interference, or as large as the pin")],
    usual_mistake: "the LARGEST bore gives the LEAST interference",
    validity: "pin and bore at one temperature",
    source: "subtraction",
    example: r#"{"pin_diameter": 8.0195, "least_interference": 0.004, "greatest_interference": 0.009}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let pin = given.number("pin_diameter")?;
    let (least, greatest) = (given.number("least_interference")?, given.number("greatest_interference")?);
    if greatest <= least || greatest >= pin {
        let reason = "greatest_interference must be greater than least_interference and less than the pin.";
        return Err(Refused::new("greatest_interference", reason));
    }
    let (largest_bore, smallest_bore) = (pin - least, pin - greatest);
    Ok(Answer::new()
        .with("largest_bore", largest_bore)
        .with("smallest_bore", smallest_bore)
        .with("target_bore", f64::midpoint(largest_bore, smallest_bore)))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, refuses, with};

    // Worked case bore_window_for_pin of the project's own set of cases.
    #[test]
    fn the_largest_bore_gives_the_least_interference() {
        let inputs = json!({"pin_diameter": 8.0195, "least_interference": 0.004, "greatest_interference": 0.009});
        let expected = json!({"largest_bore": 8.0155, "smallest_bore": 8.0105, "target_bore": 8.013});
        holds("bore-window-for-pin", &inputs, &expected);
        let none = with(&inputs, "least_interference", json!(0));
        holds("bore-window-for-pin", &none, &json!({"largest_bore": 8.0195, "target_bore": 8.015}));
    }

    #[test]
    fn a_window_that_is_none_is_refused() {
        let inputs = json!({"pin_diameter": 8.0195, "least_interference": 0.009, "greatest_interference": 0.009});
        refuses("bore-window-for-pin", &inputs, "greatest_interference");
        refuses("bore-window-for-pin", &with(&inputs, "greatest_interference", json!(8.0195)), "greatest_interference");
        refuses("bore-window-for-pin", &with(&inputs, "least_interference", json!(-0.001)), "least_interference");
        refuses("bore-window-for-pin", &with(&inputs, "pin_diameter", json!(0)), "pin_diameter");
    }

    #[test]
    fn the_largest_pin_of_all_has_a_window() {
        let inputs = json!({"pin_diameter": f64::MAX, "least_interference": 0, "greatest_interference": 1});
        holds("bore-window-for-pin", &inputs, &json!({"target_bore": f64::MAX}));
    }
}
