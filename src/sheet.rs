//! What leaves the laptop: the setup sheet, the evidence, the blank checklist, and the record as rows.
//!
//! A `document` is gathered from the session's `record` and then given a form: `html` with pictures (`vector`),
//! plots (`chart`) and codes (`code`), `markdown`, or, as rows, CSV and JSON (`tables`). Nothing is worked out here.

mod blank;
mod chart;
mod code;
mod comparison;
mod document;
mod evidence;
mod html;
mod markdown;
mod piece_page;
mod record;
mod setup;
mod tables;
mod vector;

use serde_json::{Value, json};

use crate::job::JobCard;
use crate::session::Review;

pub use comparison::{Agreement, Compared, Comparison, Measured};
pub use document::{Alarm, Block, Column, Document, Row, Section, Table};
pub use tables::Rows;

use record::Record;

/// Gathers the setup sheet of a session.
pub fn setup_sheet(review: &Review) -> Document {
    setup::document(&Record::of(review))
}

/// Gathers the evidence of a session.
pub fn evidence(review: &Review) -> Document {
    evidence::document(&Record::of(review))
}

/// Gathers the page of one piece for the next operation; `None` when no piece of the session has this serial.
pub fn piece_page(review: &Review, serial: &str) -> Option<Document> {
    piece_page::document(&Record::of(review), serial)
}

/// Compares what two sessions of one fixture hold of what carries over.
pub fn compare(earlier: &Review, later: &Review) -> Comparison {
    comparison::compare(&Record::of(earlier), &Record::of(later))
}

/// Gathers the blank checklist of a card; `paper` is the number under which its entries are typed in later.
pub fn blank(card: &JobCard, paper: &str) -> Document {
    blank::document(card, paper)
}

/// Writes a document as one HTML file: style and pictures inside, no script, nothing fetched.
pub fn to_html(document: &Document) -> String {
    html::page(document)
}

/// Writes a document as Markdown.
pub fn to_markdown(document: &Document) -> String {
    markdown::markdown(document)
}

/// Writes rows of a session as CSV (RFC 4180).
///
/// # Errors
/// None that a person can cause: the writer works in memory.
pub fn to_csv(review: &Review, rows: Rows) -> Result<String, csv::Error> {
    tables::rowed(&Record::of(review), rows).csv()
}

/// Writes a session's record as JSON: the same rows by column name, with the log's class and head.
pub fn to_json(review: &Review) -> Value {
    let record = Record::of(review);
    let rows = |kind| tables::rowed(&record, kind).json();
    let check = &review.check;
    json!({
        "schema": "setwright/record/1", "session": record.name(), "title": record.card().title,
        "class": check.class.name(), "sealed": check.sealed, "events": check.count, "head": check.head.as_str(),
        "alarms": record.alarms().into_iter().map(|alarm| format!("{}: {}", alarm.mark, alarm.says)).collect::<Vec<_>>(), "readings": rows(Rows::Readings), "findings": rows(Rows::Findings),
        "pieces": rows(Rows::Pieces),
    })
}
