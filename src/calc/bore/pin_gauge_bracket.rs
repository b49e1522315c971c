//! What is the size of a bore between a pin that goes and one that does not, and how sure is it?

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
    let (go, no_go) = (given.number("go_size")?, given.number("no_go_size")?);
    if no_go <= go {
        return Err(Refused::new(
            "no_go_size",
            "The pin that does not go must be larger than the one that goes: swapped, a chip, a warm bore?",
        ));
    }
    let bracket = (no_go - go) / (2.0 * 3.0_f64.sqrt());
    let gauge = given.number("gauge_limit")? / 3.0_f64.sqrt();
    Ok(Answer::new()
        .with("bore_estimate", f64::midpoint(go, no_go))
        .with("bracket_uncertainty", bracket)
        .with("gauge_uncertainty", gauge)
        .with("standard_uncertainty", bracket.hypot(gauge)))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, near, refuses, with};

    // JCGM 100:2008 4.3.7: a rectangle of half width a has the standard uncertainty a / sqrt 3.
    #[test]
    fn between_two_pins_every_size_is_as_likely() {
        let inputs = json!({"go_size": 8.005, "no_go_size": 8.01, "gauge_limit": 0.001});
        holds("pin-gauge-bracket", &inputs, &json!({"bore_estimate": 8.0075}));
        near("pin-gauge-bracket", &inputs, "bracket_uncertainty", 0.001_443_375_672_974, 1e-12);
        near("pin-gauge-bracket", &inputs, "gauge_uncertainty", 0.000_577_350_269_19, 1e-12);
        refuses("pin-gauge-bracket", &with(&inputs, "no_go_size", json!(8.005)), "no_go_size");
    }
}
