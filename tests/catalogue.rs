//! Every calculation that the trade asked for is registered with exactly its id, its keys and its units, for ever.
//!
//! `tests/catalogue.txt` lists them as they were agreed.
#![allow(clippy::unwrap_used, clippy::expect_used, reason = "a test may stop at what it did not expect")]

use std::path::{Path, PathBuf};

use setwright::calc::{self, Calculation, Fallback, Input, InputKind, Output, OutputKind};

fn list() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/catalogue.txt")
}

/// A calculation as it stands in the list: id and topic, then a line for each input and each output.
fn described(calculation: &Calculation) -> String {
    let inputs = calculation.inputs.iter().map(|input| format!("  in  {}\n", described_input(input)));
    let outputs = calculation.outputs.iter().map(|output| format!("  out {}\n", described_output(output)));
    let lines: String = inputs.chain(outputs).collect();
    format!("{} ({})\n{lines}", calculation.id, calculation.topic)
}

fn described_input(input: &Input) -> String {
    let sort = match input.kind {
        InputKind::Quantity => input.unit.to_owned(),
        InputKind::Quantities => format!("list of {}", input.unit),
        InputKind::Vector(items) => format!("{items} of {}", input.unit),
        InputKind::Points(numbers) => format!("list of {numbers} of {}", input.unit),
        InputKind::Count => "count".to_owned(),
        InputKind::Counts => "list of count".to_owned(),
        InputKind::Word(words) => words.join(" / "),
        InputKind::Text => "text".to_owned(),
        InputKind::DegreesOfFreedom => "number or infinite".to_owned(),
        InputKind::Records(fields) => {
            format!("list of {{{}}}", fields.iter().map(described_input).collect::<Vec<_>>().join("; "))
        }
    };
    let fallback = match input.fallback {
        Fallback::Required => "required".to_owned(),
        Fallback::LeftOut => "may be left out".to_owned(),
        Fallback::Number(number) => format!("or {number:?}"),
        Fallback::Numbers(numbers) => format!("or {numbers:?}"),
        Fallback::Word(word) => format!("or {word}"),
        Fallback::Empty => "or []".to_owned(),
    };
    format!("{}: {sort}, {fallback}{}", input.key, described_limits(input))
}

fn described_limits(input: &Input) -> String {
    let bounds = &input.bounds;
    let limits = [(" >", bounds.above), (" >=", bounds.at_least), (" <", bounds.below), (" <=", bounds.at_most)];
    let mut text: String =
        limits.iter().filter_map(|(sign, limit)| limit.map(|limit| format!(",{sign} {limit:?}"))).collect();
    text.push_str(if bounds.nonzero { ", not 0" } else { "" });
    if input.least_items > 0 {
        text.push_str(&format!(", at least {} entries", input.least_items));
    }
    text.extend(input.same_length_as.map(|other| format!(", as many as {other}")));
    text
}

fn described_output(output: &Output) -> String {
    let sort = match output.kind {
        OutputKind::Quantity => output.unit.to_owned(),
        OutputKind::Quantities => format!("list of {}", output.unit),
        OutputKind::Count => "count".to_owned(),
        OutputKind::Flag => "true or false".to_owned(),
        OutputKind::Word(words) => words.join(" / "),
        OutputKind::Texts => "list of text".to_owned(),
        OutputKind::DegreesOfFreedom => "number or infinite".to_owned(),
    };
    let round = if output.round_the_circle { ", round the circle" } else { "" };
    let null = output.null_when.map(|when| format!(", null when {when}")).unwrap_or_default();
    format!("{}: {sort}{round}{null}", output.key)
}

fn program() -> String {
    calc::all().map(described).collect::<Vec<_>>().join("\n")
}

/// `cargo test --test catalogue -- --ignored` writes the list anew after a calculation was added. What a log may hold
/// already, an id or a key, is never changed.
#[test]
#[ignore = "writes tests/catalogue.txt"]
fn write_the_list() {
    std::fs::write(list(), program()).unwrap();
}

#[test]
fn every_calculation_is_as_it_was_agreed() {
    let agreed = std::fs::read_to_string(list()).unwrap();
    let program = program();
    for (agreed, now) in agreed.lines().zip(program.lines()) {
        assert_eq!(agreed, now, "see write_the_list");
    }
    assert_eq!(agreed.lines().count(), program.lines().count(), "a calculation was added or lost: see write_the_list");
    assert!(calc::all().count() >= 110, "{} calculations", calc::all().count());
}
