//! The whole log as a person reads it, a line an event.

use serde_json::{Map, Value};

use crate::checklist::{Checklist, Entry, Event};
use crate::session_log;
use crate::steps;

/// One line of the trail.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TrailLine {
    /// Sequence number.
    pub seq: u64,
    /// When, as the log has it.
    pub time: String,
    /// Initials.
    pub by: String,
    /// The kind of event.
    pub kind: String,
    /// In words.
    pub text: String,
    /// Whether it is an entry that was crossed out later, and why.
    pub struck: Option<String>,
    /// Whether it is an entry that something made void.
    pub void: bool,
}

/// Writes the events of a log as lines, with the fate of each entry.
pub fn trail(events: &[session_log::Event], entries: &[Entry]) -> Vec<TrailLine> {
    let mut lines = Vec::new();
    follow_trail(&mut lines, events, entries);
    lines
}

/// Adds what a log has grown by to lines made before, and brings the fate of every entry up to date.
pub fn follow_trail(lines: &mut Vec<TrailLine>, events: &[session_log::Event], entries: &[Entry]) {
    let checklist = steps::every_step();
    lines.truncate(events.len());
    lines.extend(events.iter().skip(lines.len()).map(|event| line(checklist, event)));
    // Both lists go by the number in the log, so one walk finds them all.
    let mut entries = entries.iter().peekable();
    for line in lines {
        while entries.next_if(|entry| entry.seq < line.seq).is_some() {}
        let Some(entry) = entries.next_if(|entry| entry.seq == line.seq) else { continue };
        line.struck = entry.struck.as_ref().map(|strike| strike.why.clone());
        line.void = entry.void.is_some();
    }
}

fn line(checklist: Checklist, event: &session_log::Event) -> TrailLine {
    let text = match Event::from_data(checklist, event.n, event.kind.name(), &event.data) {
        Ok(Some(known)) => words(&known, &event.data),
        Ok(None) | Err(_) => format!("not understood by this version: {}", Value::Object(event.data.clone())),
    };
    TrailLine {
        seq: event.n,
        time: event.t.clone(),
        by: event.by.clone(),
        kind: event.kind.name().to_owned(),
        text,
        struck: None,
        void: false,
    }
}

fn words(event: &Event, data: &Map<String, Value>) -> String {
    match event {
        Event::Opened => format!("session opened for {}", data.get("card").map(title).unwrap_or_default()),
        Event::Entered(entry) => {
            let round = if entry.round == 0 { String::new() } else { format!(" (round {})", entry.round + 1) };
            let replaces = entry.replaces.map(|seq| format!(", in place of {seq}")).unwrap_or_default();
            let late =
                entry.paper.as_ref().map(|paper| format!(", entered late from paper {paper}")).unwrap_or_default();
            format!("{}{}{round}: {}{replaces}{late}", place(entry.step, entry.piece), entry.spec.id, entry.value)
        }
        Event::Doubted(doubt, why) => format!("sure of {} at {}: {why}", doubt.typed, doubt.ask),
        Event::Struck { of, why } => format!("entry {of} crossed out: {why}"),
        Event::Reckoned { step, piece, reckoning } => {
            format!("{}{} by {}", place(step, *piece), reckoning.role, reckoning.calculation)
        }
        Event::Conceded(concession) => {
            format!(
                "{}gone on past {} with reason ({}): {}",
                place(concession.step, concession.piece),
                concession.gate,
                concession.by,
                concession.why
            )
        }
        Event::StepClosed { step, piece, verdict, facts } => {
            format!("{}closed: {}, {} facts handed on", place(step, *piece), verdict.word(), facts.len())
        }
        Event::Happened { what } => format!("{}. {}", what.word(), what.voids()),
        Event::Resumed => "resumed".to_owned(),
        Event::Noted(text) => format!("note: {text}"),
        Event::Witnessed(text) => format!("head written down elsewhere: {text}"),
        Event::Reviewed(text) => format!("reviewed: {text}"),
        Event::Sealed => "sealed: nothing more can be added".to_owned(),
        Event::Recovered => "the end of the log was mended when it was opened".to_owned(),
        Event::ClockStepped => "the clock was set".to_owned(),
    }
}

fn place(step: &str, piece: Option<u32>) -> String {
    match piece {
        Some(piece) if piece > 1 => format!("{step}, piece {piece}: "),
        _ => format!("{step}: "),
    }
}

fn title(card: &Value) -> String {
    card.get("title").and_then(Value::as_str).unwrap_or("a job").to_owned()
}

/// Returns a text of an event's data, or nothing.
pub(super) fn text_of(data: &Map<String, Value>, key: &str) -> String {
    data.get(key).and_then(Value::as_str).unwrap_or_default().to_owned()
}
