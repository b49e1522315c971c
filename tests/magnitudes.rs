//! Every number that goes into a calculation is swept over the magnitudes that a double has, alone and with the others of
//! its list: the answer is finite and no product has vanished on the way, or the inputs are refused. A number that cannot
//! be honest is no answer (rules of the catalogue of calculations).
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::print_stdout, reason = "a test may stop and say why")]

use serde_json::{Map, Value, json};
use setwright::calc::{Calculation, Input, InputKind, all, calculation, reckon};

/// The numbers of one input in its example: the path to each.
fn places(input: &Input, value: &Value) -> Vec<Vec<String>> {
    let below = |path: &str, fields: &[Input]| -> Vec<Vec<String>> {
        fields
            .iter()
            .filter(|field| is_number(field.kind))
            .map(|field| vec![path.to_owned(), field.key.to_owned()])
            .collect()
    };
    match (input.kind, value) {
        (InputKind::Records(fields), Value::Array(records)) => {
            (0..records.len()).flat_map(|place| below(&place.to_string(), fields)).collect()
        }
        (_, Value::Array(items)) => items
            .iter()
            .enumerate()
            .flat_map(|(place, item)| match item.as_array() {
                Some(numbers) => (0..numbers.len()).map(|at| vec![place.to_string(), at.to_string()]).collect(),
                None => vec![vec![place.to_string()]],
            })
            .collect(),
        (kind, _) if is_number(kind) => vec![Vec::new()],
        _ => Vec::new(),
    }
}

const fn is_number(kind: InputKind) -> bool {
    !matches!(kind, InputKind::Word(_) | InputKind::Text | InputKind::Records(_))
}

fn at<'a>(value: &'a mut Value, path: &[String]) -> &'a mut Value {
    path.iter().fold(value, |value, step| match value {
        Value::Array(items) => &mut items[step.parse::<usize>().unwrap()],
        other => &mut other[step.as_str()],
    })
}

/// The inputs of the example, those that it leaves out included.
fn example(calculation: &Calculation) -> Map<String, Value> {
    let mut inputs: Map<String, Value> = serde_json::from_str(calculation.example).unwrap();
    for input in calculation.inputs.iter().filter(|input| matches!(input.kind, InputKind::Quantity)) {
        inputs.entry(input.key).or_insert(json!(input.bounds.at_least.unwrap_or(1.0).max(0.5)));
    }
    if reckon(calculation.id, &inputs).is_err() { serde_json::from_str(calculation.example).unwrap() } else { inputs }
}

/// Every number of an answer with its key.
fn numbers(answer: &Map<String, Value>) -> Vec<(&str, f64)> {
    let mut found = Vec::new();
    for (key, value) in answer {
        let value = value.get("value").unwrap_or(value);
        let list = value.as_array().map_or_else(|| vec![value], |items| items.iter().collect());
        found.extend(
            list.into_iter().filter_map(|item| Some((key.as_str(), item.get("value").unwrap_or(item).as_f64()?))),
        );
    }
    found
}

/// Whether an input is a size: everything but shares and angles with limits on both sides, directions and degrees of
/// freedom, which may be as small as they like.
fn is_size(input: &Input) -> bool {
    let bounds = &input.bounds;
    let is_bounded = bounds.above.or(bounds.at_least).is_some() && bounds.below.or(bounds.at_most).is_some();
    match input.kind {
        InputKind::DegreesOfFreedom | InputKind::Records(_) => false,
        InputKind::Vector(_) => input.unit != "1",
        _ => !(is_bounded && matches!(input.unit, "1" | "deg")),
    }
}

/// The example with one number in the place of some, or with all of them times that number.
fn changed(good: &Map<String, Value>, key: &str, paths: &[Vec<String>], number: f64) -> Map<String, Value> {
    let mut inputs = good.clone();
    for path in paths {
        let place = at(inputs.get_mut(key).unwrap(), path);
        let old = if paths.len() > 1 { place.as_f64().unwrap_or(1.0) } else { 1.0 };
        *place = json!(old * number);
    }
    inputs
}

/// The powers of ten: every seventh, and all round the limit of what counts as a size.
fn exponents() -> impl Iterator<Item = i32> {
    (-300_i32..=300).filter(|exponent| exponent % 7 == 0 || (29..=32).contains(&exponent.abs()))
}

#[test]
fn no_magnitude_of_any_input_gives_a_panic_or_a_number_that_is_none() {
    /// Beyond this, or below one part of it, a number is no size and a nothing is no answer.
    const LARGEST: f64 = 1e30;
    let (mut asked, mut answered) = (0, 0);
    for calculation in all() {
        let good = example(calculation);
        for input in calculation.inputs.iter().filter(|input| good.contains_key(input.key)) {
            let each = places(input, &good[input.key]);
            let together = (each.len() > 1).then(|| each.clone());
            for paths in each.into_iter().map(|path| vec![path]).chain(together) {
                for number in exponents().flat_map(|exponent| [1.5, -1.5].map(|sign| sign * 10.0_f64.powi(exponent))) {
                    let inputs = changed(&good, input.key, &paths, number);
                    asked += 1;
                    let Ok(answer) = reckon(calculation.id, &inputs) else { continue };
                    answered += 1;
                    let is_size = is_size(input) && paths.len() == 1;
                    let absurd = is_size && !(1.0 / LARGEST..=LARGEST).contains(&number.abs());
                    for (key, found) in numbers(&answer) {
                        assert!(found.is_finite(), "{} {key}: {inputs:?}", calculation.id);
                        assert!(
                            !absurd || found.abs() >= f64::MIN_POSITIVE,
                            "{} {key} vanished: {inputs:?}",
                            calculation.id
                        );
                    }
                }
            }
        }
    }
    println!("{asked} asked, {answered} answered, the others refused");
    assert!(answered * 5 > asked, "{answered} of {asked}");
}

/// By hand: each of these grows with the number that is swept, and a double holds all of the results.
#[test]
fn a_small_input_gives_a_small_answer_and_not_nothing() {
    for (id, inputs, key) in [
        ("ewma-chart", json!({"weight": 1e-200}), "limit_half_width"),
        ("angle-error-at-radius", json!({"angle_error": 1e-25}), "tangential_error"),
    ] {
        let mut given = example(calculation(id).unwrap());
        given.extend(inputs.as_object().unwrap().clone());
        let answer = reckon(id, &given).unwrap();
        assert!(answer[key]["value"].as_f64().unwrap() > 0.0, "{id}: {answer:?}");
    }
}
