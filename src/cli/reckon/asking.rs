//! A calculation at a terminal: the inputs asked one by one, with their meaning, in the shop's own way of typing.

use std::io::{self, BufRead, Write};

use serde_json::{Map, Value, json};

use crate::calc::{self, Calculation, Fallback, Input, InputKind};
use crate::cli::failure::Failure;
use crate::cli::print;
use crate::quantity::{Unit, typed};

/// Asks for every input, then answers. An input that is refused is asked again.
pub(super) fn ask(calculation: &'static Calculation) -> Result<u8, Failure> {
    print(&format!("{}\n", calculation.question))?;
    if calc::tables_for(calculation).next().is_some() {
        let id = calculation.id;
        print(&format!(
            "setwright reckon {id} --about shows constants of materials, their spread and their source.\n"
        ))?;
    }
    let mut inputs = Map::new();
    for input in calculation.inputs {
        if let Some(value) = ask_one(input)? {
            inputs.insert(input.key.to_owned(), value);
        }
    }
    match calc::reckon(calculation.id, &inputs) {
        Ok(outputs) => {
            for (key, value) in &outputs {
                print(&format!("{key:<30} {}\n", shown(value)))?;
            }
            print(&format!("Holds for: {}\nSource: {}\n", calculation.validity, calculation.source))?;
            Ok(0)
        }
        Err(refused) => {
            print(&format!("{}: {}\n", refused.input, refused.reason))?;
            Ok(65)
        }
    }
}

/// Names the unit or the sort of an input.
pub(super) fn unit_of(input: &Input) -> &'static str {
    match input.kind {
        InputKind::Word(_) => "word",
        InputKind::Text => "text",
        InputKind::Count | InputKind::Counts => "count",
        InputKind::Records(_) => "records",
        _ => input.unit,
    }
}

fn ask_one(input: &Input) -> Result<Option<Value>, Failure> {
    loop {
        let default = match input.fallback {
            Fallback::Required => String::new(),
            Fallback::Number(number) => format!(" [{number}]"),
            Fallback::Word(word) => format!(" [{word}]"),
            Fallback::LeftOut | Fallback::Numbers(_) | Fallback::Empty => " [may be left out]".to_owned(),
        };
        let words =
            if let InputKind::Word(words) = input.kind { format!(" ({})", words.join(" / ")) } else { String::new() };
        print(&format!("{} in {}: {}{words}{default} > ", input.key, unit_of(input), input.meaning))?;
        let mut line = String::new();
        if io::stdin().lock().read_line(&mut line).map_err(Failure::stream)? == 0 {
            return Err(Failure::usage("The input ended before everything was answered."));
        }
        match read(input, line.trim()) {
            Ok(value) => return Ok(value),
            Err(why) => writeln!(io::stderr(), "{why}").map_err(Failure::stream)?,
        }
    }
}

fn read(input: &Input, text: &str) -> Result<Option<Value>, String> {
    if text.is_empty() {
        return if matches!(input.fallback, Fallback::Required) {
            Err("This one is needed.".to_owned())
        } else {
            Ok(None)
        };
    }
    match input.kind {
        InputKind::Quantity => number(input, text).map(Some),
        InputKind::Quantities => text
            .split(';')
            .map(|part| number(input, part.trim()))
            .collect::<Result<Vec<_>, _>>()
            .map(|list| Some(json!(list))),
        InputKind::Word(_) | InputKind::Text => Ok(Some(json!(text))),
        InputKind::Count => {
            text.parse::<u64>().map(|count| Some(json!(count))).map_err(|_| format!("`{text}` is no whole number."))
        }
        InputKind::DegreesOfFreedom if text == "infinite" => Ok(Some(json!(text))),
        InputKind::DegreesOfFreedom => text
            .parse::<f64>()
            .map(|number| Some(json!(number)))
            .map_err(|_| "A number, or the word infinite.".to_owned()),
        InputKind::Vector(_) | InputKind::Points(_) | InputKind::Counts | InputKind::Records(_) => {
            serde_json::from_str(text)
                .map(Some)
                .map_err(|_| "Type this one as JSON, such as [1, 2, 3] or [[1, 2], [3, 4]].".to_owned())
        }
    }
}

/// Reads a number as a machinist types it, in the unit of the input.
fn number(input: &Input, text: &str) -> Result<Value, String> {
    match Unit::named(input.unit) {
        Some(unit) => typed::read(text, unit.dimension, unit)
            .map(|quantity| json!(quantity.value_in(unit)))
            .map_err(|misread| misread.to_string()),
        None => text.parse::<f64>().map(|number| json!(number)).map_err(|_| format!("`{text}` is no number.")),
    }
}

fn shown(value: &Value) -> String {
    match (value.get("value"), value.get("unit").and_then(Value::as_str)) {
        (Some(number), Some("1")) => number.to_string(),
        (Some(number), Some(unit)) => format!("{number} {unit}"),
        _ if value.is_array() => {
            let list: Vec<String> = value.as_array().into_iter().flatten().map(shown).collect();
            list.join("; ")
        }
        _ => value.as_str().map_or_else(|| value.to_string(), str::to_owned),
    }
}
