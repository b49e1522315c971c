//! Whatever stands on the lines of `reckon --lines`: an answer of finite numbers or a refusal for each, never a panic.
//!
//! An even first byte sends the rest as it is. An odd one takes a calculation's example and puts other values into it,
//! so that the fuzzer gets past the reading of JSON and into the formulas.

#![no_main]

use libfuzzer_sys::fuzz_target;
use serde_json::{Map, Value, json};
use setwright::calc::{all, reckon_lines};

fuzz_target!(|data: &[u8]| {
    let Some((first, rest)) = data.split_first() else { return };
    let lines = if first % 2 == 0 { rest.to_vec() } else { changed_example(rest).unwrap_or_default() };
    let mut answers = Vec::new();
    reckon_lines(lines.as_slice(), &mut answers).expect("memory does not fail");
    let text = std::str::from_utf8(&answers).expect("answers are text");
    let asked = lines.split(|byte| *byte == b'\n').filter(|line| !line.trim_ascii().is_empty()).count();
    assert_eq!(text.lines().count(), asked, "one answer for each line");
    for answer in text.lines() {
        let answer: Map<String, Value> = serde_json::from_str(answer).expect("an answer is one object");
        match answer.get("error") {
            Some(error) => assert!(answer.len() == 1 && error["reason"].is_string() && error["input"].is_string()),
            None => assert!(!answer.is_empty()),
        }
    }
});

/// The example of the calculation that the first byte names, with one value changed by each ten bytes that follow.
fn changed_example(bytes: &[u8]) -> Option<Vec<u8>> {
    let (which, rest) = bytes.split_first()?;
    let calculation = all().nth(usize::from(*which) % all().count())?;
    let mut inputs: Map<String, Value> = serde_json::from_str(calculation.example).ok()?;
    for (key, value) in rest.chunks_exact(10).filter_map(|chunk| {
        let (choice, number) = chunk.split_first_chunk::<2>()?;
        let number = f64::from_le_bytes(number.try_into().ok()?);
        let input = calculation.inputs.get(usize::from(choice[0]) % calculation.inputs.len())?;
        Some((input, sort_of_value(choice[1], number, input.unit)))
    }) {
        let old = inputs.get(key.key).cloned().unwrap_or(Value::Null);
        inputs.insert(key.key.to_owned(), inside(old, value));
    }
    let mut line = json!({"name": calculation.id, "inputs": inputs}).to_string().into_bytes();
    line.push(b'\n');
    Some(line)
}

/// A plain number, one near everyday sizes, text with the unit of the key, a whole number, or nothing.
fn sort_of_value(choice: u8, number: f64, unit: &str) -> Value {
    match choice % 6 {
        0 | 1 => json!(number),
        2 => json!(number.abs().log10()),
        3 => Value::from(format!("{number:?} {unit}")),
        4 => json!(number.abs().log2().round()),
        _ => Value::Null,
    }
}

/// Puts a value where a list has its first number; takes its place elsewhere.
fn inside(old: Value, value: Value) -> Value {
    match old {
        Value::Array(mut items) if !items.is_empty() => {
            let first = items.remove(0);
            items.push(inside(first, value));
            Value::Array(items)
        }
        _ => value,
    }
}
