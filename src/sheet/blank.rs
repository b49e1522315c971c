//! The blank checklist: every question on paper, for when the laptop dies.

use std::sync::Arc;

use crate::checklist::{AskSpec, Checklist, Entry, Progress, Step};
use crate::job::JobCard;
use crate::sheet::document::{Block, Document, Section, Table};
use crate::sheet::record::practice;
use crate::steps::{self, GENERAL_CAUTION};

/// Lines left for tries, passes, features and the like.
const ROUNDS: usize = 3;
/// A place to write.
const LINE: &str = "____________";

/// Gathers the blank checklist of a card. `paper` is the number that entries typed in later name.
pub(super) fn document(card: &JobCard, paper: &str) -> Document {
    let checklist = steps::checklist();
    let mut sections = vec![head(card, paper)];
    sections.extend((1..).zip(checklist.steps).map(|(number, step)| section(card, checklist, number, *step)));
    Document {
        title: format!("Checklist on paper: {}", card.title),
        subtitle: format!("Paper number {paper}"),
        alarms: if card.practice { vec![practice()] } else { Vec::new() },
        sections,
    }
}

fn head(card: &JobCard, paper: &str) -> Section {
    let fact = |name: &str, value: String| (name.to_owned(), value);
    Section::new("How to use this paper")
        .with(Block::Cautions(vec![GENERAL_CAUTION.to_owned()]))
        .with(Block::Facts(vec![
            fact("Paper number", paper.to_owned()),
            fact("Drawing", format!("{} revision {}", card.part.drawing, card.part.revision)),
            fact("Register", card.register.name.clone()),
            fact("A bare number is in", crate::session::unit_name(card.unit).to_owned()),
            fact("Date", LINE.to_owned()),
            fact("Piece", LINE.to_owned()),
            fact("By (initials)", LINE.to_owned()),
        ]))
        .with(Block::Points(vec![
            "Write every reading with the time. A wrong one is crossed out so that it can still be read.".to_owned(),
            "Nothing here works a number out: where the next move is not plain from the reading, stop and wait for the laptop."
                .to_owned(),
            format!("Typed in later, each entry is marked as entered late, with paper {paper} and its field number."),
        ]))
}

fn section(card: &JobCard, checklist: Checklist, number: usize, step: &'static dyn Step) -> Section {
    let mut table = Table::new(
        format!("Step {number}: {}", step.title()),
        &["field", "what to read", "with", "write here", "time, by"],
    );
    for (place, ask) in (1..).zip(step.asks()) {
        table.row(row(card, &field(number, place), ask));
    }
    let cautions = cautions(card, checklist, step);
    let section = Section::new(format!("{number}. {}", step.title()));
    let section = if cautions.is_empty() { section } else { section.with(Block::Cautions(cautions)) };
    section.table_or(table, "Nothing is asked here.")
}

/// The number of a field on paper: the step's place in the checklist, and the question's place in the step.
fn field(step: usize, ask: usize) -> String {
    format!("{step}.{ask:02}")
}

/// Finds the number of the field on paper where an entry's question stands.
pub(super) fn field_of(checklist: Checklist, entry: &Entry) -> Option<String> {
    let (number, step) = (1..).zip(checklist.steps).find(|(_, step)| step.id() == entry.step)?;
    let place = step.asks().iter().position(|ask| ask.id == entry.spec.id)?;
    Some(field(number, place + 1))
}

fn row(card: &JobCard, field: &str, ask: &AskSpec) -> Vec<String> {
    let choices = if ask.choices.is_empty() { String::new() } else { format!(" ({})", ask.choices.join(" / ")) };
    let repeats = usize::try_from(ask.repeats(card)).unwrap_or(1);
    let with = ask.reader.map(|reader| reader.on(card).name.clone()).unwrap_or_default();
    vec![
        format!("{field} {}", ask.id),
        format!("{}{choices}", ask.says),
        with,
        [LINE].repeat(repeats.min(ROUNDS * 2)).join(" "),
        String::new(),
    ]
}

fn cautions(card: &JobCard, checklist: Checklist, step: &'static dyn Step) -> Vec<String> {
    let nothing_yet = Progress::new(checklist, Arc::new(card.clone()));
    let slot = nothing_yet.slots().into_iter().find(|slot| slot.step.id() == step.id());
    let words = slot.map(|slot| nothing_yet.consult_slot(slot).cautions).unwrap_or_default();
    words.into_iter().map(str::to_owned).collect()
}
