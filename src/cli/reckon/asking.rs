//! A calculation at a terminal: the inputs asked one by one, with their meaning, in the shop's own way of typing.

use std::io::{self, BufRead};

use serde_json::{Map, Value, json};
use unicode_width::UnicodeWidthStr;

use crate::calc::{self, Calculation, Fallback, Input, InputKind};
use crate::cli::failure::Failure;
use crate::cli::print;
use crate::quantity::{Unit, typed};

/// Asks for every input, then answers. An input that is refused is asked again.
pub(super) fn ask(calculation: &'static Calculation) -> Result<u8, Failure> {
    say(&format!("{}\n", calculation.question))?;
    if calc::tables_for(calculation).next().is_some() {
        let id = calculation.id;
        say(&format!("setwright reckon {id} --about shows constants of materials, their spread and their source.\n"))?;
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
            say(&format!("Holds for: {}\n", calculation.validity))?;
            say(&format!("Source: {}\n", calculation.source))?;
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
        let unit = match unit_of(input) {
            "1" => String::new(),
            unit => format!(" in {unit}"),
        };
        say(&format!("{}{unit}: {}{words}{default} > ", input.key, input.meaning))?;
        let mut line = String::new();
        if io::stdin().lock().read_line(&mut line).map_err(Failure::stream)? == 0 {
            return Err(Failure::usage("The input ended before everything was answered."));
        }
        match read(input, line.trim()) {
            Ok(value) => return Ok(value),
            Err(why) => say(&format!("{why}\n"))?,
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
        InputKind::DegreesOfFreedom => {
            plain_number(text).map(Some).ok_or_else(|| "A number, or the word infinite.".to_owned())
        }
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
        None => plain_number(text).ok_or_else(|| format!("`{text}` is no number.")),
    }
}

/// Reads a number without a unit. What is not finite is none: JSON has no word for it, and it would pass as left out.
fn plain_number(text: &str) -> Option<Value> {
    text.parse::<f64>().ok().filter(|number| number.is_finite()).map(|number| json!(number))
}

/// Breaks a text between words, so that no line of it is wider than the terminal.
fn folded(text: &str, width: usize) -> String {
    let mut lines = String::new();
    let mut column = 0;
    for (place, word) in text.split(' ').enumerate() {
        let goes_on = column + 1 + word.width() <= width;
        if place > 0 {
            lines.push(if goes_on { ' ' } else { '\n' });
            column = if goes_on { column + 1 } else { 0 };
        }
        lines.push_str(word);
        column += word.width();
    }
    lines
}

/// Prints a text folded to the terminal.
fn say(text: &str) -> Result<(), Failure> {
    const USUAL: u16 = 80;
    let width = crossterm::terminal::size().map_or(USUAL, |(columns, _)| columns.max(20));
    print(&folded(text, usize::from(width)))
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_question_is_broken_between_words_only() {
        assert_eq!(folded("middle of front and back > ", 15), "middle of front\nand back > ");
        assert_eq!(folded("fit_diameter in mm", 4), "fit_diameter\nin\nmm");
        assert_eq!(folded("Maß in µm > ", 80), "Maß in µm > ");
    }

    #[test]
    fn what_is_no_finite_number_is_asked_again_and_never_left_out() {
        let input = Input::quantity("friction", "1", "friction").or(0.1);
        for text in ["nan", "inf", "-infinity", "1e999", "x"] {
            assert!(read(&input, text).is_err(), "{text}");
        }
        assert_eq!(read(&input, "0.2"), Ok(Some(json!(0.2))));
        assert_eq!(read(&input, ""), Ok(None));
    }
}
