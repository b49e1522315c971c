//! What tests of calculations need: run one and compare with figures from outside.

use serde_json::{Map, Value, json};

use super::{Output, calculation, reckon};

/// Answers a calculation that must not refuse.
#[track_caller]
pub(super) fn answer(name: &str, inputs: &Value) -> Map<String, Value> {
    reckon(name, inputs.as_object().unwrap()).unwrap_or_else(|refused| panic!("{name}: {refused} ({})", refused.input))
}

/// Holds an answer against expected outputs: numbers and lists without their units, words, flags and null.
/// Numbers must agree to 1e-9 of their size or 1e-12 of their unit.
#[track_caller]
pub(super) fn holds(name: &str, inputs: &Value, expected: &Value) {
    let answer = answer(name, inputs);
    for (key, wanted) in expected.as_object().unwrap() {
        let output = calculation(name).unwrap().outputs.iter().find(|output| output.key == key).unwrap();
        let found = plain(&answer[key]);
        assert!(agrees(output, &found, wanted), "{name}: {key} is {found}, expected {wanted}");
    }
}

/// Holds one output against a figure that was rounded in print.
#[track_caller]
pub(super) fn near(name: &str, inputs: &Value, key: &str, printed: f64, tolerance: f64) {
    let found = plain(&answer(name, inputs)[key]).as_f64().unwrap();
    assert!((found - printed).abs() <= tolerance, "{name}: {key} is {found}, printed {printed}");
}

/// Expects a refusal that blames a key.
#[track_caller]
pub(super) fn refuses(name: &str, inputs: &Value, blamed: &str) {
    match reckon(name, inputs.as_object().unwrap()) {
        Ok(answer) => panic!("{name} answers {}", Value::Object(answer)),
        Err(refused) => assert_eq!(refused.input, blamed, "{name}: {refused}"),
    }
}

/// Returns the inputs with one of them replaced.
pub(super) fn with(inputs: &Value, key: &str, value: Value) -> Value {
    let mut changed = inputs.clone();
    changed[key] = value;
    changed
}

/// Returns angles that divide a turn evenly, with what is read at each; `reading` takes radians.
pub(super) fn round_a_turn(count: u32, reading: impl Fn(f64) -> f64) -> Value {
    let angles: Vec<f64> = (0..count).map(|place| 360.0 * f64::from(place) / f64::from(count)).collect();
    let readings: Vec<f64> = angles.iter().map(|angle| reading(angle.to_radians())).collect();
    json!({"angles": angles, "readings": readings})
}

/// Takes the units off.
fn plain(value: &Value) -> Value {
    match value {
        Value::Object(quantity) => quantity["value"].clone(),
        Value::Array(list) => list.iter().map(plain).collect(),
        other => other.clone(),
    }
}

fn agrees(output: &Output, found: &Value, wanted: &Value) -> bool {
    match (found, wanted) {
        (Value::Number(found), Value::Number(wanted)) => {
            let (found, wanted) = (found.as_f64().unwrap(), wanted.as_f64().unwrap());
            let straight = (found - wanted).abs();
            let apart = if output.round_the_circle { straight % 360.0 } else { straight };
            let apart = if output.round_the_circle { apart.min(360.0 - apart) } else { apart };
            apart <= (1e-9 * wanted.abs()).max(1e-12)
        }
        (Value::Array(found), Value::Array(wanted)) => {
            found.len() == wanted.len() && found.iter().zip(wanted).all(|(found, wanted)| agrees(output, found, wanted))
        }
        _ => found == wanted,
    }
}
