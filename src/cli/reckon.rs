//! One calculation at a time, or many by line.

mod asking;

use std::io::{self, BufWriter, Read};

use crate::calc::{self, Calculation, Table};
use crate::cli::arguments::Reckon as Options;
use crate::cli::environment::Surroundings;
use crate::cli::failure::Failure;
use crate::cli::print;

/// The longest input that is read, in bytes.
const LONGEST: u64 = 1024 * 1024;

/// Carries out `setwright reckon …`.
pub(super) fn reckon(options: &Options, here: &Surroundings) -> Result<u8, Failure> {
    if options.lines {
        return lines();
    }
    let Some(name) = &options.name else { return list() };
    let calculation = calc::calculation(name);
    if options.about {
        let calculation = calculation.ok_or_else(|| Failure::no_input(unknown(name)))?;
        return print(&about(calculation)).map(|()| 0);
    }
    match calculation {
        Some(calculation) if here.has_person() => asking::ask(calculation),
        _ => one(name),
    }
}

fn unknown(name: &str) -> String {
    let near = calc::all().map(|calculation| calculation.id).find(|id| id.contains(name) || name.contains(id));
    let hint = near.map(|id| format!(" Was {id} meant?")).unwrap_or_default();
    format!("There is no calculation called {name}.{hint} setwright reckon --list shows them all.")
}

fn list() -> Result<u8, Failure> {
    let text: String =
        calc::all().map(|calculation| format!("{:<32} {}\n", calculation.id, calculation.question)).collect();
    print(&text).map(|()| 0)
}

/// Reads one JSON object from standard input and prints one.
fn one(name: &str) -> Result<u8, Failure> {
    let mut text = String::new();
    io::stdin().lock().take(LONGEST).read_to_string(&mut text).map_err(Failure::stream)?;
    let (line, code) = match calc::reckon_text(name, &text) {
        Ok(outputs) => (serde_json::Value::Object(outputs), 0),
        Err(refused) => (refused.to_json(), 65),
    };
    print(&format!("{line}\n")).map(|()| code)
}

/// Answers JSON Lines on standard input.
fn lines() -> Result<u8, Failure> {
    let output = BufWriter::new(io::stdout().lock());
    calc::reckon_lines(io::stdin().lock(), output).map_or_else(quietly, |()| Ok(0))
}

fn quietly(error: io::Error) -> Result<u8, Failure> {
    if error.kind() == io::ErrorKind::BrokenPipe { Err(Failure::quiet()) } else { Err(Failure::stream(error)) }
}

/// Describes a calculation as a page of a handbook.
fn about(calculation: &Calculation) -> String {
    let mut text =
        format!("{}\n\n{}\n\nFormula\n  {}\n\nInputs\n", calculation.id, calculation.question, calculation.formula);
    for input in calculation.inputs {
        text.push_str(&format!("  {:<26} {:<10} {}\n", input.key, asking::unit_of(input), input.meaning));
    }
    text.push_str("\nOutputs\n");
    for output in calculation.outputs {
        text.push_str(&format!("  {:<26} {}\n", output.key, output.meaning));
    }
    if !calculation.refusals.is_empty() {
        text.push_str("\nRefused\n");
        for refusal in calculation.refusals {
            text.push_str(&format!("  {:<26} {}\n", refusal.input, refusal.why));
        }
    }
    calc::tables_for(calculation).for_each(|table| text.push_str(&constants(table)));
    text.push_str(&format!(
        "\nUsual mistake\n  {}\n\nHolds for\n  {}\n\nSource\n  {}\n\nExample\n  {}\n",
        calculation.usual_mistake, calculation.validity, calculation.source, calculation.example
    ));
    text
}

/// Lays out a table of constants with its source, its spread and how far each figure can be trusted.
fn constants(table: &Table) -> String {
    let rows = || std::iter::once(&table.columns).chain(&table.rows);
    let widths: Vec<usize> = (0..table.columns.len())
        .map(|column| rows().filter_map(|row| row.get(column)).map(|cell| cell.chars().count()).max().unwrap_or(0))
        .collect();
    let mut text = "\nConstants to choose from\n".to_owned();
    for remark in table.remarks.iter().filter(|remark| !remark.starts_with("Inputs: ")) {
        text.push_str(&format!("  {remark}\n"));
    }
    for row in rows() {
        let cells = row.iter().zip(&widths).map(|(cell, width)| format!("  {cell:<width$}")).collect::<String>();
        text.push_str(&format!("{}\n", cells.trim_end()));
    }
    text
}
