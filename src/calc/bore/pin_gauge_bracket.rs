//! What is the size of a bore between a pin that goes and one that does not, and how sure is it?

use crate::calc::limits;
use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "pin-gauge-bracket",
    version: 1,
    topic: "bore",
    question: "What is the size of a bore between a pin that goes and one that does not, and how sure is it?",
    formula: "bore_estimate = (go_size+no_go_size)/2; bracket_uncertainty = (no_go_size-go_size)/(2 sqrt(3)); \
         gauge_uncertainty = gauge_limit/sqrt(3); standard_uncertainty = root sum of squares",
    inputs: &[
        Input::quantity("go_size", "mm", "largest pin that goes").above(0.0),
        Input::quantity("no_go_size", "mm", "smallest pin that does not").above(0.0),
        Input::quantity("gauge_limit", "mm", "limit of error of a pin, plus and minus").at_least(0.0),
    ],
    outputs: &[
        Output::quantity("bore_estimate", "mm", "middle of the bracket"),
        Output::quantity("bracket_uncertainty", "mm", "from the bracket"),
        Output::quantity("gauge_uncertainty", "mm", "from the pins"),
        Output::quantity("standard_uncertainty", "mm", "both together"),
    ],
    refusals: &[Refusal::of("no_go_size", "not greater than go_size")],
    usual_mistake: "go and no-go swapped; a chip or a warm bore",
    validity: "round clean bore at pin temperature",
    source: "JCGM 100 rectangular distribution",
    example: r#"{"go_size": 8.005, "no_go_size": 8.01, "gauge_limit": 0.001}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let go_size = given.number("go_size")?;
    let no_go_size = given.number("no_go_size")?;
    if limits::within(no_go_size, go_size) {
        let reason = "no_go_size must be greater than go_size: look whether the pins are swapped or the bore is dirty \
             or warm.";
        return Err(Refused::new("no_go_size", reason));
    }
    let root_three = 3.0_f64.sqrt();
    let bracket_uncertainty = (no_go_size - go_size) / 2.0 / root_three;
    let gauge_uncertainty = given.number("gauge_limit")? / root_three;
    Ok(Answer::new()
        .with("bore_estimate", f64::midpoint(go_size, no_go_size))
        .with("bracket_uncertainty", bracket_uncertainty)
        .with("gauge_uncertainty", gauge_uncertainty)
        .with("standard_uncertainty", bracket_uncertainty.hypot(gauge_uncertainty)))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, refuses, with};

    // JCGM 100, 4.3.7: a value anywhere between two limits has the standard uncertainty half width over root 3. By
    // hand: half widths of 2.5 um and 1 um.
    #[test]
    fn the_bracket_and_the_pins_add_as_squares() {
        let inputs = json!({"go_size": 8.005, "no_go_size": 8.01, "gauge_limit": 0.001});
        let expected = json!({"bore_estimate": 8.0075, "bracket_uncertainty": 0.0025 / 3.0_f64.sqrt(),
            "gauge_uncertainty": 0.001 / 3.0_f64.sqrt(),
            "standard_uncertainty": (0.000_007_25_f64 / 3.0).sqrt()});
        holds("pin-gauge-bracket", &inputs, &expected);
        let perfect = with(&inputs, "gauge_limit", json!(0));
        let expected = json!({"gauge_uncertainty": 0.0, "standard_uncertainty": 0.0025 / 3.0_f64.sqrt()});
        holds("pin-gauge-bracket", &perfect, &expected);
    }

    #[test]
    fn pins_that_are_equal_or_swapped_are_refused() {
        let inputs = json!({"go_size": 8.01, "no_go_size": 8.01, "gauge_limit": 0.001});
        refuses("pin-gauge-bracket", &inputs, "no_go_size");
        refuses("pin-gauge-bracket", &with(&inputs, "no_go_size", json!(8.005)), "no_go_size");
        refuses("pin-gauge-bracket", &with(&inputs, "gauge_limit", json!(-0.001)), "gauge_limit");
        let inches = json!({"go_size": 7.62, "no_go_size": "0.3 in", "gauge_limit": 0});
        refuses("pin-gauge-bracket", &inches, "no_go_size");
        let huge = json!({"go_size": 1e308, "no_go_size": 1.5e308, "gauge_limit": 1e300});
        holds("pin-gauge-bracket", &huge, &json!({"bore_estimate": 1.25e308}));
    }
}
