//! Audit: the chain, and every calculation made again from its inputs.

use std::path::{Path, PathBuf};

use serde_json::{Map, Value};

use crate::calc;
use crate::session::{SessionError, trail::text_of};
use crate::session_log::{self, Check, Class};

/// Differences up to this share are laid to another target's arithmetic (decisions 2).
const OTHER_TARGET: f64 = 1e-12;

/// A calculation that came out otherwise.
#[derive(Debug, Clone, PartialEq)]
pub struct Difference {
    /// Sequence number of the reckoning.
    pub seq: u64,
    /// The calculation.
    pub calculation: String,
    /// The output.
    pub key: String,
    /// What the log holds.
    pub logged: String,
    /// What comes out now.
    pub now: String,
}

/// What an audit found.
pub struct Audit {
    /// The log.
    pub path: PathBuf,
    /// What the chain says.
    pub check: Check,
    /// How many calculations were made again.
    pub reckoned: u64,
    /// Those that came out otherwise.
    pub differences: Vec<Difference>,
    /// The verdicts with which steps were closed, in order.
    pub verdicts: Vec<(String, String)>,
    /// Gates that were passed with a reason, and entries crossed out, in words.
    pub remarks: Vec<String>,
}

impl Audit {
    /// Returns whether the chain is whole.
    pub fn is_whole(&self) -> bool {
        matches!(self.check.class, Class::Clean | Class::Unterminated)
    }

    /// Returns whether every closed step was within.
    pub fn all_within(&self) -> bool {
        self.verdicts.iter().all(|(_, verdict)| verdict == "within")
    }
}

/// Audits a log: the chain from its bytes, and every calculation from its inputs. Memory does not grow with the log, only
/// with what there is to say of it.
pub fn audit(path: &Path) -> Result<Audit, SessionError> {
    let mut found = Findings::default();
    let check = session_log::walk(path, |event| found.take(&event))?;
    let Findings { reckoned, differences, verdicts, remarks, .. } = found;
    Ok(Audit { path: path.to_owned(), check, reckoned, differences, verdicts, remarks })
}

/// What the events of a log have shown so far.
#[derive(Default)]
struct Findings {
    same_target: bool,
    reckoned: u64,
    differences: Vec<Difference>,
    verdicts: Vec<(String, String)>,
    remarks: Vec<String>,
}

impl Findings {
    fn take(&mut self, event: &session_log::Event) {
        match event.kind.name() {
            "session.open" => {
                self.same_target = is_of_this_target(event);
            }
            "reckoning.add" => {
                self.reckoned += 1;
                again(event, self.same_target, &mut self.differences);
            }
            "step.close" => self.verdicts.push((closed_step(&event.data), text_of(&event.data, "verdict"))),
            "entry.strike" | "gate.concede" | "doubt.sure" => {
                let why = text_of(&event.data, "why");
                self.remarks.push(format!("{}: {} ({}: {why})", event.n, event.kind.name(), event.by));
            }
            _ => {}
        }
    }
}

fn is_this_build(app: &str) -> bool {
    app.ends_with(std::env::consts::ARCH) || app.contains(std::env::consts::ARCH)
}

fn closed_step(data: &Map<String, Value>) -> String {
    let step = text_of(data, "step");
    match data.get("piece").and_then(Value::as_u64) {
        Some(piece) => format!("{step}, piece {piece}"),
        None => step,
    }
}

fn again(event: &session_log::Event, same_target: bool, differences: &mut Vec<Difference>) {
    let name = text_of(&event.data, "id");
    let different = remade(event, same_target).into_iter().filter(|output| !output.same);
    differences.extend(different.map(|output| Difference {
        seq: event.n,
        calculation: name.clone(),
        key: output.key,
        logged: output.logged,
        now: output.now,
    }));
}

/// An output of a calculation in the log beside what comes out now.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Remade {
    /// The output; the input at fault when the calculation is refused now.
    pub key: String,
    /// What the log holds.
    pub logged: String,
    /// What comes out now.
    pub now: String,
    /// Whether both are the same, within what another target's arithmetic may change.
    pub same: bool,
}

/// Makes the calculation of a `reckoning.add` event again; empty for every other kind.
pub fn remade(event: &session_log::Event, same_target: bool) -> Vec<Remade> {
    if event.kind.name() != "reckoning.add" {
        return Vec::new();
    }
    let empty = Map::new();
    let inputs = event.data.get("inputs").and_then(Value::as_object).unwrap_or(&empty);
    let logged = event.data.get("outputs").and_then(Value::as_object).unwrap_or(&empty);
    let now = match calc::reckon(&text_of(&event.data, "id"), inputs) {
        Ok(outputs) => outputs,
        Err(refused) => {
            let logged = "an answer".to_owned();
            return vec![Remade { key: refused.input, logged, now: refused.reason, same: false }];
        }
    };
    let mut keys: Vec<&String> = logged.keys().chain(now.keys()).collect();
    keys.sort();
    keys.dedup();
    let output = |key: &String| {
        let (before, after) = (logged.get(key).unwrap_or(&Value::Null), now.get(key).unwrap_or(&Value::Null));
        let same = agree(before, after, same_target);
        Remade { key: key.clone(), logged: before.to_string(), now: after.to_string(), same }
    };
    keys.into_iter().map(output).collect()
}

/// Returns whether a log's header names a program for this very target, where every bit must agree.
pub(super) fn is_of_this_target(header: &session_log::Event) -> bool {
    header.data.get("app").and_then(Value::as_str).is_some_and(is_this_build)
}

/// Compares two outputs: to the bit on the same target, to a small share on another.
fn agree(before: &Value, after: &Value, same_target: bool) -> bool {
    match (before, after) {
        (Value::Number(before), Value::Number(after)) => {
            let (Some(one), Some(other)) = (before.as_f64(), after.as_f64()) else { return before == after };
            one.to_bits() == other.to_bits()
                || (!same_target && (one - other).abs() <= OTHER_TARGET * one.abs().max(other.abs()))
        }
        (Value::Array(before), Value::Array(after)) => {
            before.len() == after.len() && before.iter().zip(after).all(|(one, other)| agree(one, other, same_target))
        }
        (Value::Object(before), Value::Object(after)) => {
            before.len() == after.len()
                && before.iter().all(|(key, one)| after.get(key).is_some_and(|other| agree(one, other, same_target)))
        }
        (before, after) => before == after,
    }
}
