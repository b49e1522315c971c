//! The record as rows: one a reading, one a finding, one a piece. CSV and JSON are written from the same rows.
//!
//! Column names are permanent. Numbers are in the unit that the column's name ends with; an empty cell means that there
//! is no such value, never zero.

use serde_json::{Map, Number, Value};

use crate::checklist::{Entry, EntryValue, Finding};
use crate::quantity::{Dimension, print};
use crate::sheet::record::{Record, StepRecord};
use crate::sheet::setup::typed;

/// What the rows are about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Rows {
    /// One a reading.
    Readings,
    /// One a finding.
    Findings,
    /// One a piece.
    Pieces,
}

impl Rows {
    /// Every kind of row.
    pub const ALL: [Self; 3] = [Self::Readings, Self::Findings, Self::Pieces];

    /// Returns the word for it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Readings => "readings",
            Self::Findings => "findings",
            Self::Pieces => "pieces",
        }
    }
}

/// A cell.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Cell {
    Nothing,
    Number(f64),
    Whole(u64),
    Words(String),
    Flag(bool),
}

/// A table of the record: names of columns, and rows of as many cells.
pub(super) struct Rowed {
    pub(super) columns: Vec<&'static str>,
    pub(super) rows: Vec<Vec<Cell>>,
}

/// A quantity stands in the column of its kind, in the base unit of the kind.
const MEASURED: [(&str, Dimension); 6] = [
    ("value_mm", Dimension::Length),
    ("value_deg", Dimension::Angle),
    ("value_n", Dimension::Force),
    ("value_n_m", Dimension::Torque),
    ("value_deg_c", Dimension::Temperature),
    ("value_percent", Dimension::Percent),
];

const READING_HEAD: [&str; 10] =
    ["session", "line", "time", "by", "step", "piece", "ask", "round", "as_typed", "unit_as_typed"];
const READING_TAIL: [&str; 9] = [
    "count",
    "answer",
    "instrument",
    "stands",
    "struck_by",
    "struck_why",
    "void_by_line",
    "replaces_line",
    "entered_late_from_paper",
];
const FINDING_HEAD: [&str; 6] = ["session", "step", "piece", "finding", "about", "label"];
const FINDING_TAIL: [&str; 6] =
    ["value_other", "unit_other", "standard_uncertainty", "unit_shown", "verdict", "reckoning_line"];
const PIECES: [&str; 9] = [
    "session",
    "piece",
    "level_verdict",
    "a_register_deg",
    "pad_difference_mm",
    "bore_mm",
    "wear_mm",
    "check_verdict",
    "readings_struck",
];

/// Gathers rows of one kind.
pub(super) fn rowed(record: &Record<'_>, rows: Rows) -> Rowed {
    match rows {
        Rows::Readings => readings(record),
        Rows::Findings => findings(record),
        Rows::Pieces => pieces(record),
    }
}

fn readings(record: &Record<'_>) -> Rowed {
    let measured = MEASURED.map(|(name, _)| name);
    let columns = READING_HEAD.into_iter().chain(measured).chain(READING_TAIL).collect();
    Rowed { columns, rows: record.entries().iter().map(|entry| reading(record, entry)).collect() }
}

fn reading(record: &Record<'_>, entry: &Entry) -> Vec<Cell> {
    let quantity = match &entry.value {
        EntryValue::Quantity(quantity) => Some(quantity),
        _ => None,
    };
    let mut cells = vec![
        Cell::Words(record.name()),
        Cell::Whole(entry.seq),
        Cell::Words(record.time(entry.seq).to_owned()),
        Cell::Words(entry.by.clone()),
        Cell::Words(entry.step.to_owned()),
        piece(entry.piece),
        Cell::Words(entry.spec.id.to_owned()),
        Cell::Whole(u64::from(entry.round)),
        Cell::Words(typed(&entry.value)),
        quantity.map_or(Cell::Nothing, |quantity| Cell::Words(quantity.unit().name.to_owned())),
    ];
    cells.extend(measured(quantity.map(|quantity| (quantity.unit().dimension, quantity.base_value()))));
    let answer = match &entry.value {
        EntryValue::Quantity(_) | EntryValue::Count(_) => Cell::Nothing,
        other => Cell::Words(other.to_string()),
    };
    let count = match &entry.value {
        EntryValue::Count(count) => Cell::Words(count.to_string()),
        _ => Cell::Nothing,
    };
    cells.extend([
        count,
        answer,
        words(entry.instrument.as_deref()),
        Cell::Flag(entry.stands()),
        words(entry.struck.as_ref().map(|strike| strike.by.as_str())),
        words(entry.struck.as_ref().map(|strike| strike.why.as_str())),
        entry.void.map_or(Cell::Nothing, Cell::Whole),
        entry.replaces.map_or(Cell::Nothing, Cell::Whole),
        entry.paper.clone().map_or(Cell::Nothing, Cell::Words),
    ]);
    cells
}

fn findings(record: &Record<'_>) -> Rowed {
    let measured = MEASURED.map(|(name, _)| name);
    let columns = FINDING_HEAD.into_iter().chain(measured).chain(FINDING_TAIL).collect();
    let rows =
        record.steps.iter().flat_map(|step| step.answer.findings.iter().map(|found| finding(record, step, found)));
    Rowed { columns, rows: rows.collect() }
}

fn finding(record: &Record<'_>, step: &StepRecord, finding: &Finding) -> Vec<Cell> {
    let slot = step.status.slot;
    let unit = finding.shown.unit;
    let known = MEASURED.iter().any(|(_, dimension)| *dimension == unit.dimension);
    let mut cells = vec![
        Cell::Words(record.name()),
        Cell::Words(slot.step.id().to_owned()),
        piece(slot.piece),
        Cell::Words(finding.id.to_owned()),
        words(Some(finding.about.as_str())),
        Cell::Words(finding.label.to_owned()),
    ];
    cells.extend(measured(known.then(|| (unit.dimension, unit.to_base(finding.shown.value)))));
    cells.extend([
        if known { Cell::Nothing } else { Cell::Number(finding.shown.value) },
        if known { Cell::Nothing } else { Cell::Words(unit.name.to_owned()) },
        finding.uncertainty.map_or(Cell::Nothing, Cell::Number),
        Cell::Words(unit.name.to_owned()),
        words(finding.verdict.map(crate::checklist::Verdict::word)),
        record.line_of(step, &finding.reckoning).map_or(Cell::Nothing, Cell::Whole),
    ]);
    cells
}

fn pieces(record: &Record<'_>) -> Rowed {
    let last = record.review.progress.run().piece;
    Rowed { columns: PIECES.to_vec(), rows: (1..=last).map(|number| piece_row(record, number)).collect() }
}

fn piece_row(record: &Record<'_>, number: u32) -> Vec<Cell> {
    let handed = record.review.progress.handed();
    let fact = |id: &str| handed.number_of(Some(number), id).map_or(Cell::Nothing, Cell::Number);
    let bores = record.card().features.iter().flat_map(|feature| record.bores(&feature.id));
    let bore = bores.filter(|(piece, _)| *piece == number).map(|(_, size)| size).next();
    let verdict = |step: &str| {
        words(record.step(step, Some(number)).and_then(|step| step.status.verdict).map(crate::checklist::Verdict::word))
    };
    let struck = record.entries().iter().filter(|entry| entry.piece == Some(number) && entry.struck.is_some()).count();
    vec![
        Cell::Words(record.name()),
        Cell::Whole(u64::from(number)),
        verdict("rotary-tram"),
        fact("tram.a"),
        fact("tram.residual"),
        bore.map_or(Cell::Nothing, Cell::Number),
        fact("check.wear"),
        verdict("piece-check"),
        Cell::Whole(u64::try_from(struck).unwrap_or(u64::MAX)),
    ]
}

fn piece(piece: Option<u32>) -> Cell {
    piece.map_or(Cell::Nothing, |piece| Cell::Whole(u64::from(piece)))
}

fn words(text: Option<&str>) -> Cell {
    text.filter(|text| !text.is_empty()).map_or(Cell::Nothing, |text| Cell::Words(text.to_owned()))
}

fn measured(value: Option<(Dimension, f64)>) -> impl Iterator<Item = Cell> {
    MEASURED.into_iter().map(move |(_, dimension)| match value {
        Some((own, number)) if own == dimension => Cell::Number(number),
        _ => Cell::Nothing,
    })
}

impl Cell {
    /// Writes the cell for CSV. A text that a spreadsheet would take for a formula gets an apostrophe before it;
    /// numbers are never touched.
    pub(super) fn csv(&self) -> String {
        match self {
            Self::Nothing => String::new(),
            Self::Number(number) => print::shortest(*number),
            Self::Whole(number) => number.to_string(),
            Self::Flag(flag) => flag.to_string(),
            Self::Words(text) => {
                let clean: String = text.chars().map(|letter| if letter.is_control() { ' ' } else { letter }).collect();
                if is_formula(&clean) { format!("'{clean}") } else { clean }
            }
        }
    }

    /// Writes the cell for JSON.
    pub(super) fn json(&self) -> Value {
        match self {
            Self::Nothing => Value::Null,
            Self::Number(number) => Number::from_f64(*number).map_or(Value::Null, Value::Number),
            Self::Whole(number) => Value::from(*number),
            Self::Flag(flag) => Value::from(*flag),
            Self::Words(text) => Value::from(text.as_str()),
        }
    }
}

/// A typed number such as `-0.001` is no formula.
fn is_formula(text: &str) -> bool {
    text.starts_with(['=', '+', '-', '@']) && text.parse::<f64>().is_err()
}

impl Rowed {
    /// Writes the rows as CSV after RFC 4180: a header, CRLF, quotes doubled.
    pub(super) fn csv(&self) -> Result<String, csv::Error> {
        let mut writer = csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(Vec::new());
        writer.write_record(&self.columns)?;
        for row in &self.rows {
            writer.write_record(row.iter().map(Cell::csv))?;
        }
        let bytes = writer.into_inner().map_err(|error| csv::Error::from(error.into_error()))?;
        Ok(String::from_utf8_lossy(&bytes).into_owned())
    }

    /// Writes the rows as JSON objects by column.
    pub(super) fn json(&self) -> Value {
        let object = |row: &Vec<Cell>| -> Value {
            let pairs = self.columns.iter().zip(row).map(|(name, cell)| ((*name).to_owned(), cell.json()));
            Value::Object(pairs.collect::<Map<_, _>>())
        };
        self.rows.iter().map(object).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_note_cannot_become_a_formula_and_a_number_stays_one() {
        assert_eq!(Cell::Words("=1+1".to_owned()).csv(), "'=1+1");
        assert_eq!(Cell::Words("@cmd".to_owned()).csv(), "'@cmd");
        assert_eq!(Cell::Words("-0.001".to_owned()).csv(), "-0.001");
        assert_eq!(Cell::Number(-0.5).csv(), "-0.5");
        assert_eq!(Cell::Words("a\tb\u{1b}c".to_owned()).csv(), "a b c");
    }

    /// RFC 4180, sections 2.1, 2.5 to 2.7: CRLF ends a line; a field with comma or quote is quoted, its quotes doubled.
    #[test]
    fn csv_is_quoted_as_the_standard_says() {
        let rowed =
            Rowed { columns: vec!["one", "two"], rows: vec![vec![Cell::Words("a,b \"c\"".to_owned()), Cell::Nothing]] };
        assert_eq!(rowed.csv().unwrap(), "one,two\r\n\"a,b \"\"c\"\"\",\r\n");
    }
}
