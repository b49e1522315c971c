//! The calculations: each is declared once, with its question, inputs, outputs, limits and source, and answers one
//! question. Steps call them, `reckon` offers them, the log stores them, audit reckons them again.
//!
//! - `contract`: what a calculation declares; `given` and `answer`: what it reads and returns.
//! - `read_input`, `number_with_unit`, `read_line`, `read_lines`: how inputs arrive.
//! - `questionnaire`: the inputs asked of a person, one number or word at a time.
//! - `degrees`, `least_squares`: mathematics that several of them need.
//! - `tables`: constants from files.
//! - one folder a topic, one file a calculation; the topic's file lists them in the order of the catalogue.
//!
//! A new calculation: write its file, add `mod` and a line to `CALCULATIONS` in the file of its topic.

use std::collections::HashMap;
use std::sync::OnceLock;

use serde_json::{Map, Value};

mod answer;
mod batch;
mod bore;
#[cfg(test)]
mod check;
mod contract;
mod cutting;
mod degrees;
mod first_run;
mod fit;
mod given;
mod inspection;
mod least_squares;
mod limits;
mod number_with_unit;
mod press_fit;
mod questionnaire;
mod read_input;
mod read_line;
mod read_lines;
mod readings;
mod refused;
mod rotary;
mod tables;
mod tram;

pub use answer::{Answer, Reckoned};
pub use contract::{Bounds, Calculation, Fallback, Input, InputKind, Output, OutputKind, Refusal};
pub use given::Given;
pub use questionnaire::{Asked, Questionnaire, shown};
pub use read_lines::reckon_lines;
pub use refused::Refused;
pub use tables::{Table, material_tables, tables_for};

/// All topics, in the order of the catalogue.
static TOPICS: &[&[&Calculation]] = &[
    rotary::CALCULATIONS,
    tram::CALCULATIONS,
    fit::CALCULATIONS,
    readings::CALCULATIONS,
    inspection::CALCULATIONS,
    first_run::CALCULATIONS,
    cutting::CALCULATIONS,
    bore::CALCULATIONS,
    press_fit::CALCULATIONS,
    batch::CALCULATIONS,
];

/// Returns every calculation, in the order of the catalogue.
pub fn all() -> impl Iterator<Item = &'static Calculation> {
    TOPICS.iter().flat_map(|topic| topic.iter().copied())
}

/// Finds a calculation by its id.
pub fn calculation(name: &str) -> Option<&'static Calculation> {
    static BY_NAME: OnceLock<HashMap<&'static str, &'static Calculation>> = OnceLock::new();
    BY_NAME.get_or_init(|| all().map(|calculation| (calculation.id, calculation)).collect()).get(name).copied()
}

/// Answers one calculation: inputs by key, outputs in their declared order.
///
/// An unknown name is blamed on "name", everything else on the key of the input at fault. Blamed on "inputs" are a result
/// that is not finite, and one of nothing from a number above 1e30 or below 1e-30 in the unit of its key: there a product
/// vanished on the way and only looks like an answer.
pub fn reckon(name: &str, inputs: &Map<String, Value>) -> Result<Map<String, Value>, Refused> {
    let calculation = calculation(name).ok_or_else(|| {
        Refused::new("name", format!("There is no calculation called \"{name}\": look at its spelling."))
    })?;
    let given = read_input::read(calculation.inputs, inputs)?;
    let answer = (calculation.solve)(&given)?;
    if let Some(key) = given.beyond_all_sizes().filter(|_| answer.has_vanished()) {
        return Err(Refused::new("inputs", format!("{key} holds a number far beyond any size in a workshop.")));
    }
    answer.into_map(calculation.outputs)
}

/// Answers one calculation whose inputs are text that holds one JSON object; other text is blamed on "inputs".
pub fn reckon_text(name: &str, inputs: &str) -> Result<Map<String, Value>, Refused> {
    let object = read_line::object(inputs);
    let none = Map::new();
    match (calculation(name), &object) {
        (Some(_), None) => Err(Refused::new("inputs", "The inputs must be one JSON object in braces.")),
        _ => reckon(name, object.as_ref().unwrap_or(&none)),
    }
}

/// Answers one JSON line `{"name": …, "inputs": {…}}` with one JSON line: the outputs, or an error that names the input
/// at fault ("line" when the line is no JSON object).
pub fn reckon_line(line: &str) -> String {
    match answer_line(line) {
        Ok(outputs) => Value::Object(outputs).to_string(),
        Err(refused) => refused.to_json().to_string(),
    }
}

fn answer_line(line: &str) -> Result<Map<String, Value>, Refused> {
    let object = read_line::object(line)
        .ok_or_else(|| Refused::new("line", "The line must be one JSON object with a name and inputs."))?;
    let (name, inputs) = read_line::name_and_inputs(&object)?;
    reckon(name, inputs)
}

#[cfg(test)]
mod tests {
    use std::collections::HashSet;

    use serde_json::json;

    use super::*;

    #[test]
    fn every_example_runs_and_every_id_is_used_once() {
        let mut ids = HashSet::new();
        for calculation in all() {
            assert!(ids.insert(calculation.id), "{} is there twice", calculation.id);
            let answer = reckon_text(calculation.id, calculation.example);
            let answer = answer.unwrap_or_else(|refused| panic!("{}: {refused}", calculation.id));
            let keys: Vec<&str> = answer.keys().map(String::as_str).collect();
            let declared: Vec<&str> = calculation.outputs.iter().map(|output| output.key).collect();
            assert_eq!(keys, declared, "{}", calculation.id);
        }
    }

    // Rules 1, 8 and 9 of the catalogue: which input is blamed for what is wrong with a line.
    #[test]
    fn a_faulty_line_is_answered_with_an_error_and_nothing_else() {
        let name = "angle-error-at-radius-that-is-not-there";
        for (line, blamed) in [
            ("", "line"),
            ("[]", "line"),
            ("{\"name\":\"z-register\",\"inputs\":{}} {}", "line"),
            ("{\"inputs\":{}}", "name"),
            ("{\"name\":7,\"inputs\":{}}", "name"),
            (&format!("{{\"name\":\"{name}\",\"inputs\":{{}}}}"), "name"),
            ("{\"name\":\"z-register\"}", "inputs"),
            ("{\"name\":\"z-register\",\"inputs\":[]}", "inputs"),
            ("{\"name\":\"z-register\",\"inputs\":{}}", "machine_z_at_touch"),
            ("{\"name\":\"z-register\",\"inputs\":{\"machine_z_at_touch\":1e999}}", "machine_z_at_touch"),
            ("{\"name\":\"z-register\",\"inputs\":{\"table_top\":null}}", "table_top"),
        ] {
            let answer: Value = serde_json::from_str(&reckon_line(line)).unwrap();
            assert_eq!(answer.as_object().unwrap().len(), 1, "{line}");
            assert_eq!(answer["error"]["input"], json!(blamed), "{line}");
            assert!(answer["error"]["reason"].as_str().unwrap().ends_with('.'), "{answer}");
        }
    }

    #[test]
    fn a_good_line_is_answered_in_declared_order() {
        let line = r#"{"name":"flip-centreline","inputs":{"midpoint_at_180":3,"midpoint_at_0":"1 mm"}}"#;
        let answer = r#"{"centreline_y":{"value":2.0,"unit":"mm"},"off_centre_y":{"value":-1.0,"unit":"mm"}}"#;
        assert_eq!(reckon_line(line), answer);
    }

    #[test]
    fn a_result_beyond_all_numbers_is_blamed_on_the_inputs() {
        let inputs = json!({"centreline_y": 0, "centreline_z": 0, "axis_slope_y": 1e200, "axis_slope_z": 0,
            "reference_x": 0, "feature_x": 1e200});
        check::refuses("centreline-at-feature", &inputs, "inputs");
    }

    // By hand: every output grows or shrinks with its inputs, so a nothing among them is a product that vanished.
    #[test]
    fn what_vanished_on_the_way_is_no_answer() {
        let loads = json!({"drill_diameter": 1e255, "feed_per_rev": 1e-200, "cutting_speed": 1e-200, "point_angle": 140,
            "specific_force": 1950, "chip_exponent": 0.2});
        check::refuses("drill-loads", &loads, "inputs");
        let floor = json!({"feed_per_rev": 1e300, "point_angle": 140, "edge_radius": 1e-60, "minimum_chip_ratio": 0.4});
        check::refuses("feed-floor-drill", &floor, "inputs");
        check::holds("feed-floor-drill", &check::with(&floor, "edge_radius", json!(1e300)), &json!({}));
    }

    #[test]
    fn text_that_is_no_object_is_blamed_on_the_inputs_and_an_unknown_name_on_the_name() {
        assert_eq!(reckon_text("z-register", "[1]").unwrap_err().input, "inputs");
        assert_eq!(reckon_text("z-registers", "[1]").unwrap_err().input, "name");
    }
}
