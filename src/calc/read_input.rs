//! Reading the inputs of a calculation from a JSON object and checking the limits of each.

use serde_json::{Map, Value};

use super::contract::{Fallback, Input, InputKind};
use super::given::{Entry, Given};
use super::number_with_unit;
use super::refused::Refused;

/// Reads all inputs, or says which one is to blame and why.
pub(super) fn read(declared: &'static [Input], inputs: &Map<String, Value>) -> Result<Given, Refused> {
    if let Some(key) = inputs.keys().find(|key| !declared.iter().any(|input| input.key == key.as_str())) {
        return Err(Refused::new(key, format!("{key} is no input of this calculation: look at its spelling.")));
    }
    let entries = declared.iter().map(|input| entry(input, inputs.get(input.key))).collect::<Result<Vec<_>, _>>()?;
    let given = Given::new(declared, entries);
    declared.iter().try_for_each(|input| check_length(input, &given))?;
    Ok(given)
}

fn entry(input: &'static Input, value: Option<&Value>) -> Result<Entry, Refused> {
    match value {
        None | Some(Value::Null) => fallback(input),
        Some(value) => parse(input, value).map_err(|what| Refused::new(input.key, format!("{} {what}.", input.key))),
    }
}

fn fallback(input: &'static Input) -> Result<Entry, Refused> {
    match (input.fallback, input.kind) {
        (Fallback::Required, _) => {
            Err(Refused::new(input.key, format!("{} is missing: give the {}.", input.key, input.meaning)))
        }
        (Fallback::LeftOut, _) => Ok(Entry::Absent),
        (Fallback::Number(number), _) => Ok(Entry::Number(number)),
        (Fallback::Numbers(numbers), _) => Ok(Entry::Numbers(numbers.to_vec())),
        (Fallback::Word(word), _) => Ok(Entry::Word(word)),
        (Fallback::Empty, InputKind::Records(_)) => Ok(Entry::Records(Vec::new())),
        (Fallback::Empty, _) => Ok(Entry::Numbers(Vec::new())),
    }
}

/// Reads one input; the error is a phrase that follows its key.
fn parse(input: &'static Input, value: &Value) -> Result<Entry, String> {
    match input.kind {
        InputKind::Quantity => quantity(input, value).map(Entry::Number),
        InputKind::Quantities => {
            list(input, value)?.iter().map(|item| quantity(input, item)).collect::<Result<_, _>>().map(Entry::Numbers)
        }
        InputKind::Vector(items) => {
            let mut numbers = Vec::with_capacity(items);
            vector(input, value, items, &mut numbers)?;
            Ok(Entry::Numbers(numbers))
        }
        InputKind::Points(items) => points(input, value, items).map(Entry::Numbers),
        InputKind::Count => count(input, value).map(Entry::Number),
        InputKind::Counts => {
            list(input, value)?.iter().map(|item| count(input, item)).collect::<Result<_, _>>().map(Entry::Numbers)
        }
        InputKind::Word(choices) => word(choices, value).map(Entry::Word),
        InputKind::Text => {
            value.as_str().map(|text| Entry::Text(text.to_owned())).ok_or_else(|| "must be text".to_owned())
        }
        InputKind::DegreesOfFreedom => degrees_of_freedom(input, value).map(Entry::Number),
        InputKind::Records(fields) => {
            list(input, value)?.iter().map(|item| record(fields, item)).collect::<Result<_, _>>().map(Entry::Records)
        }
    }
}

/// Holds one number or word of an input, or of its list, against the input's limits; the error follows its name.
pub(super) fn check_one(input: &'static Input, value: &Value) -> Result<(), String> {
    match input.kind {
        InputKind::Quantity | InputKind::Quantities | InputKind::Vector(_) | InputKind::Points(_) => {
            quantity(input, value).map(|_| ())
        }
        InputKind::Count | InputKind::Counts => count(input, value).map(|_| ()),
        InputKind::Word(choices) => word(choices, value).map(|_| ()),
        InputKind::DegreesOfFreedom => degrees_of_freedom(input, value).map(|_| ()),
        InputKind::Text | InputKind::Records(_) => Ok(()),
    }
}

fn quantity(input: &Input, value: &Value) -> Result<f64, String> {
    let number = match value {
        Value::Number(number) => number.as_f64().unwrap_or(f64::NAN),
        Value::String(text) => number_with_unit::read(text, input.unit)?,
        _ if input.unit == "1" => return Err("must be a plain number".to_owned()),
        _ => return Err(format!("must be a number of {0} or text with a unit, like \"0.5 {0}\"", input.unit)),
    };
    within_bounds(input, number)
}

fn within_bounds(input: &Input, number: f64) -> Result<f64, String> {
    let unit = if input.unit == "1" { "" } else { input.unit };
    let must = |words: &str, limit: f64| Err(format!("must be {words} {limit} {unit}").trim_end().to_owned());
    let bounds = &input.bounds;
    match (bounds.above, bounds.at_least, bounds.below, bounds.at_most) {
        _ if !number.is_finite() => Err("is too large to reckon with".to_owned()),
        (Some(limit), ..) if number <= limit => must("above", limit),
        (_, Some(limit), ..) if number < limit => must("at least", limit),
        (_, _, Some(limit), _) if number >= limit => must("below", limit),
        (.., Some(limit)) if number > limit => must("at most", limit),
        _ if bounds.nonzero && number.abs() <= 0.0 => Err("must not be zero".to_owned()),
        _ => Ok(number),
    }
}

fn count(input: &Input, value: &Value) -> Result<f64, String> {
    match value.as_f64() {
        Some(number) if number.fract().abs() <= 0.0 => within_bounds(input, number),
        _ => Err("must be a whole number".to_owned()),
    }
}

fn degrees_of_freedom(input: &Input, value: &Value) -> Result<f64, String> {
    match value {
        Value::String(word) if word == "infinite" => Ok(f64::INFINITY),
        Value::Number(_) => quantity(input, value),
        _ => Err("must be a plain number or the word \"infinite\"".to_owned()),
    }
}

fn word(choices: &'static [&'static str], value: &Value) -> Result<&'static str, String> {
    let chosen = value.as_str().and_then(|word| choices.iter().find(|choice| **choice == word));
    chosen.copied().ok_or_else(|| format!("must be one of these words: {}", choices.join(", ")))
}

fn list<'a>(input: &Input, value: &'a Value) -> Result<&'a [Value], String> {
    let items = value.as_array().ok_or_else(|| "must be a list in square brackets".to_owned())?;
    if items.len() < input.least_items {
        return Err(format!("has too few entries: at least {} are needed", input.least_items));
    }
    Ok(items)
}

fn vector(input: &Input, value: &Value, items: usize, numbers: &mut Vec<f64>) -> Result<(), String> {
    match value.as_array() {
        Some(list) if list.len() == items => {
            list.iter().try_for_each(|item| quantity(input, item).map(|number| numbers.push(number)))
        }
        _ => Err(format!("must have {items} numbers in square brackets")),
    }
}

fn points(input: &Input, value: &Value, items: usize) -> Result<Vec<f64>, String> {
    let points = list(input, value)?;
    let mut numbers = Vec::with_capacity(points.len() * items);
    points.iter().try_for_each(|point| vector(input, point, items, &mut numbers))?;
    Ok(numbers)
}

/// Reads a record; whatever is wrong in it is said of the whole list.
fn record(fields: &'static [Input], value: &Value) -> Result<Given, String> {
    let object = value.as_object().ok_or_else(|| "must be a list of objects in braces".to_owned())?;
    read(fields, object).map_err(|refused| format!("has a faulty entry: {}", refused.reason.trim_end_matches('.')))
}

fn check_length(input: &Input, given: &Given) -> Result<(), Refused> {
    let Some(other) = input.same_length_as else {
        return Ok(());
    };
    let (items, wanted) = (given.numbers(input.key)?.len(), given.numbers(other)?.len());
    if items == wanted {
        return Ok(());
    }
    Err(Refused::new(
        input.key,
        format!("{} has {items} entries and {other} has {wanted}: one each is needed.", input.key),
    ))
}
