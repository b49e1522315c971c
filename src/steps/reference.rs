//! The permanent table: every ask, finding, gate and fact by its id, as DEVELOPERS.md prints it.

use std::fmt::Write as _;

use crate::checklist::{AskSpec, Happening, Scope, Step};
use crate::steps::every_step;

/// Writes the permanent ids as Markdown tables: asks, then findings, gates and facts, then happenings.
pub fn permanent_ids() -> String {
    let mut text = String::new();
    for step in every_step().steps {
        write_step(&mut text, *step);
    }
    text.push_str("### In every step\n\n| id | what it is |\n|---|---|\n");
    text.push_str("| `repeats-agree` | gate (ask): repeats agree as the instrument's repeatability lets them |\n");
    text.push_str("| `ticked` | gate (stop): a yes is wanted |\n");
    text.push_str("| `cannot-be-worked-out` | gate (stop): a calculation refused its inputs |\n\n");
    text.push_str("### Happenings\n\n| word | what is void |\n|---|---|\n");
    for happening in Happening::ALL {
        let _ = writeln!(text, "| `{}` | {} |", happening.word(), happening.voids());
    }
    text
}

fn write_step(text: &mut String, step: &dyn Step) {
    let scope = match step.scope() {
        Scope::Setup => "once",
        Scope::EachPiece => "for each piece",
    };
    let _ = writeln!(
        text,
        "### `{}` ({scope})\n\n| ask | kind | read by | repeats | void after | what it asks |\n|---|---|---|---|---|---|",
        step.id()
    );
    for ask in step.asks() {
        write_ask(text, ask);
    }
    text.push_str("\n| finding, gate, fact | what it is |\n|---|---|\n");
    for (name, what) in step.names() {
        let _ = writeln!(text, "| `{name}` | {what} |");
    }
    text.push('\n');
}

fn write_ask(text: &mut String, ask: &AskSpec) {
    let reader = ask.reader.map_or("-", crate::checklist::Reader::word);
    let repeats = if ask.reader.is_some() && !ask.once { "card" } else { "1" };
    let void: Vec<&str> = ask.voided_by.iter().map(|happening| happening.word()).collect();
    let void = if void.is_empty() { "-".to_owned() } else { void.join(", ") };
    let kind =
        if ask.choices.is_empty() { ask.kind.word().to_owned() } else { format!("choice: {}", ask.choices.join(", ")) };
    let _ = writeln!(text, "| `{}` | {kind} | {reader} | {repeats} | {void} | {} |", ask.id, ask.says);
}
