//! Worked cases of the trade: `worked_cases.jsonl` holds one a line, with what it is about, where its formula comes from
//! and the numbers that another program reckoned from it. They come out to nine digits, for ever.

#![expect(clippy::unwrap_used, reason = "a test that cannot go on must stop")]

use serde_json::{Value, json};
use setwright::calc::{Output, calculation, reckon_line};

#[test]
fn every_worked_case_comes_out() {
    let cases = include_str!("worked_cases.jsonl");
    let mut wrong = Vec::new();
    for line in cases.lines() {
        let case: Value = serde_json::from_str(line).unwrap();
        let calculation = calculation(case["question"].as_str().unwrap()).unwrap();
        wrong.extend(differences(calculation.outputs, &case));
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(cases.lines().count() >= 46);
}

/// Says for each expected output that does not agree what was found instead.
fn differences(outputs: &[Output], case: &Value) -> Vec<String> {
    let line = json!({"name": case["question"], "inputs": case["inputs"]}).to_string();
    let answer: Value = serde_json::from_str(&reckon_line(&line)).unwrap();
    let expected = case["outputs"].as_object().unwrap().iter();
    let wrong = expected.filter(|(key, wanted)| {
        let output = outputs.iter().find(|output| output.key == key.as_str());
        output.is_none_or(|output| !agrees(output, &answer[key.as_str()], wanted))
    });
    wrong.map(|(key, wanted)| format!("{}: {key}: expected {wanted}, answered {answer}", case["about"])).collect()
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
