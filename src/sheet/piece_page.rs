//! The page that goes with one piece to the next operation.

use crate::checklist::{SlotState, Verdict};
use crate::sheet::document::{Block, Document, Section, Table};
use crate::sheet::record::{Record, StepRecord, moment, named, shown};
use crate::sheet::setup::register_table;

/// Gathers the page of one piece; `None` when no piece of the session has this serial.
pub(super) fn document(record: &Record<'_>, serial: &str) -> Option<Document> {
    let run = record.review.progress.run();
    let same = |known: &str| known.trim().eq_ignore_ascii_case(serial.trim());
    // A serial that came back (set aside and loaded again) is the newest piece of that serial.
    let piece = (1..=run.piece).rev().find(|piece| run.serial(*piece).is_some_and(same))?;
    let serial = run.serial(piece)?;
    Some(Document {
        title: format!("Piece {serial}: {}", record.card().title),
        subtitle: format!("For the next operation. Session {}, piece {piece}", record.name()),
        alarms: record.alarms(),
        sections: vec![
            state(record, piece, serial),
            datum(record, piece),
            sizes(record, piece),
            gone_on(record, piece),
            left(record, piece),
        ],
    })
}

fn steps_of<'a>(record: &'a Record<'_>, piece: u32) -> impl Iterator<Item = &'a StepRecord> {
    record.steps.iter().filter(move |step| step.status.slot.piece == Some(piece))
}

/// What the piece is, how it stands and who looked.
fn state(record: &Record<'_>, piece: u32, serial: &str) -> Section {
    let part = &record.card().part;
    let fact = |name: &str, value: String| (name.to_owned(), value);
    let mut facts = vec![
        fact("Part", part.name.clone()),
        fact("Serial", serial.to_owned()),
        fact("Drawing", format!("{} revision {}", part.drawing, part.revision)),
        fact("Material", part.material.name.clone()),
        fact("Outcome", outcome(record, piece)),
    ];
    let looked = |entry: &&crate::checklist::Entry| {
        entry.stands() && entry.piece == Some(piece) && entry.spec.id == "check.looked"
    };
    let seen = record.entries().iter().rfind(looked).map_or_else(
        || "not looked at yet".to_owned(),
        |entry| {
            let word = if entry.is_yes() { "yes" } else { "NO" };
            format!("{word} ({}, {})", entry.by, moment(record.time(entry.seq)))
        },
    );
    facts.push(fact("Deburred where the bores meet, clean and dry", seen));
    Section::new("This piece").with(Block::Facts(facts))
}

fn outcome(record: &Record<'_>, piece: u32) -> String {
    if let Some(why) = record.review.progress.handed().word_of(Some(piece), "check.set-aside") {
        return format!("SET ASIDE: {why}");
    }
    let status = record.step("piece-check", Some(piece)).map(|step| step.status);
    match status.and_then(|status| status.verdict.filter(|_| status.state == SlotState::Closed)) {
        Some(Verdict::Within) => "within its limits".to_owned(),
        Some(Verdict::NotProven) => "not proven: see what was gone on with".to_owned(),
        Some(Verdict::Outside) => "OUTSIDE its limits".to_owned(),
        Some(Verdict::Open) | None => "not checked to the end".to_owned(),
    }
}

fn datum(record: &Record<'_>, piece: u32) -> Section {
    Section::new("Datum used").table_or(register_table(record, piece), "No register has been written yet.").words(
        format!(
            "Set up on fixture {}, X from its back face, Y and Z on the rotary centreline, A on this piece. These numbers say where the work was done; they are never typed in at another machine.",
            record.card().fixture.id
        ),
    )
}

fn sizes(record: &Record<'_>, piece: u32) -> Section {
    let mut table = Table::new("Found on this piece", &["what", "#found", "against its limits"]);
    for finding in steps_of(record, piece)
        .filter(|step| step.status.slot.step.id() == "piece-check")
        .flat_map(|step| &step.answer.findings)
    {
        let verdict = finding.verdict.map_or("", Verdict::word);
        table.row(vec![named(finding), shown(finding), verdict.to_owned()]);
    }
    Section::new("Sizes and places").table_or(table, "Nothing has been measured on this piece yet.")
}

fn gone_on(record: &Record<'_>, piece: u32) -> Section {
    let mut table = Table::new("Concessions", &["gate", "reason", "by", "when"]);
    for one in record.review.progress.concessions().iter().filter(|one| one.piece.is_none_or(|own| own == piece)) {
        table.row(vec![one.gate.clone(), one.why.clone(), one.by.clone(), moment(record.time(one.seq))]);
    }
    Section::new("Gone on with reason")
        .table_or(table, "Nothing: every gate of the setup and of this piece was passed.")
}

/// What of this operation is still open, with the question that waits.
fn left(record: &Record<'_>, piece: u32) -> Section {
    let open: Vec<String> = steps_of(record, piece)
        .filter(|step| step.status.state != SlotState::Closed)
        .map(|step| {
            let waits = step.answer.next.as_ref().map(|ask| format!(": {}", ask.say)).unwrap_or_default();
            format!("{}{waits}", step.status.slot.step.title())
        })
        .collect();
    let section = Section::new("What is left of this operation");
    if open.is_empty() { section.words("Nothing.") } else { section.with(Block::Points(open)) }
}
