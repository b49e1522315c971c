//! The list of every question, by its permanent id.

use serde_json::json;

use crate::cli::failure::Failure;
use crate::cli::print;
use crate::steps;

/// Prints every ask, and the ids of findings, gates and facts.
pub(super) fn list(as_json: bool) -> Result<u8, Failure> {
    let mut text = String::new();
    for step in steps::every_step().steps {
        for ask in step.asks() {
            let reader = ask.reader.map(crate::checklist::Reader::word);
            let line = if as_json {
                json!({
                    "step": step.id(), "ask": ask.id, "kind": ask.kind.word(), "choices": ask.choices, "read_by": reader,
                    "once": ask.once, "says": ask.says,
                })
                .to_string()
            } else {
                format!("{:<14} {:<26} {:<11} {}", step.id(), ask.id, ask.kind.word(), ask.says)
            };
            text.push_str(&line);
            text.push('\n');
        }
        for (name, what) in step.names() {
            let line = if as_json {
                json!({"step": step.id(), "name": name, "says": what}).to_string()
            } else {
                format!("{:<14} {name:<26} {:<11} {what}", step.id(), "-")
            };
            text.push_str(&line);
            text.push('\n');
        }
    }
    print(&text).map(|()| 0)
}
