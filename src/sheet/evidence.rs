//! The evidence: every reading, every number with its formula, inputs and source, so that a stranger with a pocket
//! calculator can make any line again.

use serde_json::{Map, Value};

use crate::calc::{self, Calculation, Input};
use crate::checklist::{Entry, Finding};
use crate::job::{Bore, Feature};
use crate::scene::{Axis, Plot, Standing};
use crate::sheet::document::{Block, Document, Row, Section, Table};
use crate::sheet::record::{LoggedReckoning, Record, place, shown};
use crate::sheet::setup::typed;
use crate::sheet::{blank, setup};

/// Gathers the evidence of a session.
pub(super) fn document(record: &Record<'_>) -> Document {
    let mut sections = vec![setup::job(record), setup::cautions(record), instruments(record), readings(record)];
    sections.extend(numbers(record));
    sections.extend([
        first_article(record),
        batch(record),
        interruptions(record),
        setup::gates(record),
        setup::struck(record),
        remarks(record),
        formulas(record),
        setup::chain(record),
    ]);
    Document {
        title: format!("Evidence: {}", record.card().title),
        subtitle: format!("Session {}; numbers are shown as the log holds them, unrounded", record.name()),
        alarms: record.alarms(),
        sections,
    }
}

fn instruments(record: &Record<'_>) -> Section {
    let all = &record.card().instruments;
    let mut table = Table::new(
        "Instruments as the card has them",
        &["instrument", "#shows steps of", "#repeats to (one standard deviation)", "#readings taken"],
    );
    for instrument in [
        &all.edge_finder,
        &all.setter,
        &all.lever,
        &all.bore_gauge,
        &all.micrometer,
        &all.feeler,
        &all.seat_indicator,
        &all.inspection,
    ] {
        table.row(vec![
            instrument.name.clone(),
            record.length(instrument.resolution.mm()),
            record.length(instrument.repeatability.mm()),
            instrument.repeats.to_string(),
        ]);
    }
    Section::new("Instruments").with(Block::Table(table))
}

fn readings(record: &Record<'_>) -> Section {
    let mut table = Table::new(
        "Every reading in the order taken",
        &["#line", "when", "by", "asked", "typed", "understood", "instrument", "stands"],
    );
    for entry in record.entries() {
        table.rows.push(Row { cells: reading(record, entry), struck: entry.struck.is_some() });
    }
    Section::new("Readings").table_or(table, "Nothing has been read yet.")
}

fn reading(record: &Record<'_>, entry: &Entry) -> Vec<String> {
    let round = if entry.round == 0 { String::new() } else { format!(", round {}", entry.round + 1) };
    let piece = entry.piece.map(|piece| format!(", piece {piece}")).unwrap_or_default();
    let standing = match (&entry.struck, entry.void) {
        (Some(strike), _) => Some(format!("crossed out by {} (line {}): {}", strike.by, strike.seq, strike.why)),
        (None, Some(line)) => Some(format!("void since line {line}")),
        (None, None) => entry.replaces.map(|line| format!("in place of line {line}")),
    };
    let stands = standing.into_iter().chain(entered_late(record, entry)).collect::<Vec<_>>().join("; ");
    vec![
        entry.seq.to_string(),
        record.moment(record.time(entry.seq)),
        entry.by.clone(),
        format!("{}{round}{piece}", entry.spec.id),
        typed(&entry.value),
        entry.value.to_string(),
        entry.instrument.clone().unwrap_or_default(),
        stands,
    ]
}

/// Says from which paper an entry was typed in, and which of its fields that was.
fn entered_late(record: &Record<'_>, entry: &Entry) -> Option<String> {
    let paper = entry.paper.as_ref()?;
    let field = blank::field_of(record.review.progress.checklist(), entry);
    Some(format!(
        "entered late from paper {paper}{}",
        field.map(|field| format!(", field {field}")).unwrap_or_default()
    ))
}

/// Every calculation of the log, a section for each step and piece, in the order made.
fn numbers(record: &Record<'_>) -> Vec<Section> {
    let mut groups: Vec<(String, Table)> = Vec::new();
    for logged in &record.reckonings {
        let heading = heading(record, logged);
        let index = groups.iter().position(|(known, _)| *known == heading).unwrap_or_else(|| {
            let titles = ["#line", "for", "calculation", "from", "comes"];
            groups.push((heading.clone(), Table::new(format!("Numbers of {heading}"), &titles)));
            groups.len() - 1
        });
        if let Some((_, table)) = groups.get_mut(index) {
            table.row(reckoning(logged));
        }
    }
    groups
        .into_iter()
        .map(|(heading, table)| Section::new(format!("Numbers: {heading}")).with(Block::Table(table)))
        .collect()
}

fn heading(record: &Record<'_>, logged: &LoggedReckoning<'_>) -> String {
    let title = record.review.progress.checklist().step(logged.step).map_or(logged.step, |step| step.title());
    place(title, logged.piece.and_then(|piece| u32::try_from(piece).ok()))
}

fn reckoning(logged: &LoggedReckoning<'_>) -> Vec<String> {
    let calculation = calc::calculation(logged.calculation);
    vec![
        logged.seq.to_string(),
        logged.role.to_owned(),
        logged.calculation.to_owned(),
        inputs(logged.inputs, calculation),
        outputs(logged.outputs),
    ]
}

fn inputs(inputs: &Map<String, Value>, calculation: Option<&'static Calculation>) -> String {
    let unit = |key: &str| {
        let found = calculation.and_then(|calculation| calculation.inputs.iter().find(|input| input.key == key));
        found.map(unit_of).unwrap_or_default()
    };
    let pairs = inputs.iter().filter(|(_, value)| !value.is_null());
    pairs.map(|(key, value)| format!("{key} = {}{}", plain(value), unit(key))).collect::<Vec<_>>().join("; ")
}

fn unit_of(input: &Input) -> String {
    if matches!(input.unit, "" | "1") { String::new() } else { format!(" {}", input.unit) }
}

fn outputs(outputs: &Map<String, Value>) -> String {
    let pairs = outputs.iter().filter(|(_, value)| !value.is_null());
    pairs.map(|(key, value)| format!("{key} = {}", plain(value))).collect::<Vec<_>>().join("; ")
}

/// Writes a value of the log with all its digits: `{"value": 1.5, "unit": "mm"}` becomes `1.5 mm`.
pub(super) fn plain(value: &Value) -> String {
    match value {
        Value::String(text) => text.clone(),
        Value::Array(items) => format!("[{}]", items.iter().map(plain).collect::<Vec<_>>().join(", ")),
        Value::Object(object) => match (object.get("value"), object.get("unit").and_then(Value::as_str)) {
            (Some(value), Some("1")) => plain(value),
            (Some(value), Some(unit)) => format!("{} {unit}", plain(value)),
            _ => format!(
                "({})",
                object.iter().map(|(key, value)| format!("{key} {}", plain(value))).collect::<Vec<_>>().join(", ")
            ),
        },
        other => other.to_string(),
    }
}

fn first_article(record: &Record<'_>) -> Section {
    let step = record.step("piece-check", Some(1));
    let found: Vec<&Finding> = step.map(|step| step.answer.findings.iter().collect()).unwrap_or_default();
    let mut table =
        Table::new("First article; ± is one standard uncertainty", &["what", "feature", "#found", "verdict"]);
    for finding in found {
        let verdict = finding.verdict.map(|verdict| verdict.word().to_owned()).unwrap_or_default();
        table.row(vec![finding.label.to_owned(), finding.about.clone(), shown(finding), verdict]);
    }
    Section::new("First article")
        .words("Accepted as within only where the readings show it with 95 % probability; outside likewise; between the two it is not proven.")
        .table_or(table, "The first article has not been checked yet.")
        .table_or(guard_bands(record), "Nothing of it has been compared with limits yet.")
}

/// The limits of the first article with their guard bands, from the calculations that the log holds.
fn guard_bands(record: &Record<'_>) -> Table {
    let mut table = Table::new(
        "Limits and guard bands: a measured value is accepted from and to",
        &["what", "#measured", "#limits", "#accepted from", "#accepted to", "#chance of being inside", "#line"],
    );
    let mut judged: Vec<&LoggedReckoning<'_>> = Vec::new();
    for logged in &record.reckonings {
        if logged.calculation == "conformity" && logged.step == "piece-check" && logged.piece == Some(1) {
            // The newest of each counts.
            judged.retain(|known| known.role != logged.role);
            judged.push(logged);
        }
    }
    for logged in judged {
        let given = |key: &str| logged.inputs.get(key).and_then(Value::as_f64);
        let came = |key: &str| logged.outputs.get(key).and_then(|output| output.get("value")?.as_f64());
        let length = |value: Option<f64>| value.map(|value| record.length(value)).unwrap_or_default();
        table.row(vec![
            logged.role.replace('/', " "),
            format!("{} ± {}", length(given("estimate")), length(given("standard_uncertainty"))),
            format!("{} to {}", length(given("lower_limit")), length(given("upper_limit"))),
            length(came("accept_low")),
            length(came("accept_high")),
            came("probability_inside").map(percent).unwrap_or_default(),
            logged.seq.to_string(),
        ]);
    }
    table
}

/// Writes a probability as a person reads it; nearly certain is not certain.
fn percent(probability: f64) -> String {
    if probability > 0.999 { "over 99.9 %".to_owned() } else { format!("{:.1} %", 100.0 * probability) }
}

fn batch(record: &Record<'_>) -> Section {
    let rowed = crate::sheet::tables::rowed(record, crate::sheet::tables::Rows::Pieces);
    let columns: Vec<String> =
        rowed.columns.iter().skip(1).map(|name| format!("#{}", name.replace('_', " "))).collect();
    let mut table = Table::new("Piece by piece", &columns.iter().map(String::as_str).collect::<Vec<_>>());
    for row in &rowed.rows {
        table.row(row.iter().skip(1).map(crate::sheet::tables::Cell::csv).collect());
    }
    let section = Section::new("Batch").table_or(table, "No piece has been made yet.");
    let section = bore_plots(record).into_iter().fold(section, Section::with);
    record.steps.iter().fold(section, |section, step| match &step.answer.plot {
        Some(plot) => section.with(Block::Plot {
            plot: plot.clone(),
            caption: format!("{}: {}", place(step.status.slot.step.title(), step.status.slot.piece), plot.title),
        }),
        None => section,
    })
}

/// The bores from piece to piece in their windows.
fn bore_plots(record: &Record<'_>) -> Vec<Block> {
    let length = Axis { label: "bore", unit: "mm", resolution: 0.001 };
    let bores = record.card().features.iter().filter_map(|feature| feature.bore.as_ref().map(|bore| (feature, bore)));
    let plot = |(feature, bore): (&Feature, &Bore)| {
        let empty = Plot::of("bore from piece to piece", Axis { label: "piece", unit: "", resolution: 1.0 }, length)
            .window(bore.window.0.mm(), bore.window.1.mm());
        let plot = record
            .bores(&feature.id)
            .into_iter()
            .fold(empty, |plot, (piece, size)| plot.point((f64::from(piece), size), 0.0, Standing::Taken, ""));
        (!plot.points.is_empty()).then(|| Block::Plot {
            plot,
            caption: format!("{}: bore from piece to piece, with its window", feature.name),
        })
    };
    bores.filter_map(plot).collect()
}

fn interruptions(record: &Record<'_>) -> Section {
    let mut table = Table::new("What happened between readings", &["#line", "when", "by", "what", "what became void"]);
    for event in &record.review.events {
        let words = match event.kind.name() {
            "happened" => (text(&event.data, "what"), text(&event.data, "voids")),
            "session.resume" => ("resumed".to_owned(), String::new()),
            "log.recovered" => ("the end of the log was mended when it was opened".to_owned(), String::new()),
            "clock.step" => ("the clock was set".to_owned(), String::new()),
            _ => continue,
        };
        table.row(vec![event.n.to_string(), record.moment(&event.t), event.by.clone(), words.0, words.1]);
    }
    Section::new("Interruptions").table_or(table, "Nothing interrupted this session.")
}

fn remarks(record: &Record<'_>) -> Section {
    let mut table = Table::new("Notes, doubts, reviews, witnesses", &["#line", "when", "by", "kind", "words"]);
    for kind in ["note.add", "doubt.sure", "review.sign", "witness.add"] {
        for event in record.events(kind) {
            let words = match kind {
                "doubt.sure" => format!(
                    "{}: {} Sure: {}",
                    text(&event.data, "raw"),
                    text(&event.data, "question"),
                    text(&event.data, "why")
                ),
                _ => text(&event.data, "text"),
            };
            table.row(vec![event.n.to_string(), record.moment(&event.t), event.by.clone(), kind.to_owned(), words]);
        }
    }
    Section::new("Remarks").table_or(table, "No remarks.")
}

/// Each calculation used, once, as the handbook has it.
fn formulas(record: &Record<'_>) -> Section {
    let mut used: Vec<&str> = record.reckonings.iter().map(|logged| logged.calculation).collect();
    used.sort_unstable();
    used.dedup();
    let mut section = Section::new("Formulas and sources");
    for calculation in used.into_iter().filter_map(calc::calculation) {
        section = section.with(Block::Facts(formula(calculation)));
    }
    section
}

fn formula(calculation: &Calculation) -> Vec<(String, String)> {
    let symbols = |keys: Vec<(&str, &str, &str)>| {
        let words = keys.into_iter().map(|(key, unit, meaning)| match unit {
            "" | "1" => format!("{key}: {meaning}"),
            unit => format!("{key} ({unit}): {meaning}"),
        });
        words.collect::<Vec<_>>().join("; ")
    };
    let inputs = calculation.inputs.iter().map(|input| (input.key, input.unit, input.meaning)).collect();
    let outputs = calculation.outputs.iter().map(|output| (output.key, output.unit, output.meaning)).collect();
    let fact = |name: &str, words: String| (name.to_owned(), words);
    vec![
        fact(calculation.id, calculation.question.to_owned()),
        fact("formula", calculation.formula.to_owned()),
        fact("from", symbols(inputs)),
        fact("comes", symbols(outputs)),
        fact("holds", calculation.validity.to_owned()),
        fact("source", calculation.source.to_owned()),
    ]
}

fn text(data: &Map<String, Value>, key: &str) -> String {
    data.get(key).and_then(Value::as_str).unwrap_or_default().to_owned()
}
