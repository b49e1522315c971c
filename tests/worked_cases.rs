//! Holds `reckon` against the project's public set of worked cases, which lies beside the repository and is not part of
//! it. Source of the figures: that set; every case was reckoned by another program from the published formulas.

#![expect(clippy::unwrap_used, reason = "a test that cannot go on must stop")]

use std::path::Path;

use serde_json::Value;
use setwright::calc::{Output, calculation, reckon_line};

const CASES: &str = "../shared/trade/public-cases.jsonl";

#[test]
fn every_public_case_comes_out() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(CASES);
    let Ok(text) = std::fs::read_to_string(&path) else {
        println!("skipped: there is no {}", path.display());
        return;
    };
    let mut wrong = Vec::new();
    for line in text.lines() {
        let case: Value = serde_json::from_str(line).unwrap();
        let name = case["name"].as_str().unwrap();
        match calculation(name) {
            Some(calculation) => wrong.extend(differences(calculation.outputs, line, &case)),
            None => println!("skipped: {name} is not built yet"),
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// Says for each expected output that does not agree what was found instead.
fn differences(outputs: &[Output], line: &str, case: &Value) -> Vec<String> {
    let answer: Value = serde_json::from_str(&reckon_line(line)).unwrap();
    let expected = case["expect"].as_object().unwrap().iter();
    let wrong = expected.filter(|(key, wanted)| {
        let output = outputs.iter().find(|output| output.key == key.as_str());
        output.is_none_or(|output| !agrees(output, &answer[key.as_str()], wanted))
    });
    wrong.map(|(key, wanted)| format!("{}: {key}: expected {wanted}, answered {answer}", case["case"])).collect()
}

/// Compares to 1e-9 of the size or 1e-12 of the unit; angles round the circle where that is declared.
fn agrees(output: &Output, found: &Value, wanted: &Value) -> bool {
    match (found, wanted) {
        (Value::Object(quantity), Value::Number(_)) => agrees(output, &quantity["value"], wanted),
        (Value::Number(found), Value::Number(wanted)) => {
            let (found, wanted) = (found.as_f64().unwrap(), wanted.as_f64().unwrap());
            let apart = (found - wanted).abs();
            let apart = if output.round_the_circle { (apart % 360.0).min(360.0 - apart % 360.0) } else { apart };
            apart <= (1e-9 * wanted.abs()).max(1e-12)
        }
        (Value::Array(found), Value::Array(wanted)) => {
            found.len() == wanted.len() && found.iter().zip(wanted).all(|(found, wanted)| agrees(output, found, wanted))
        }
        _ => found == wanted,
    }
}
