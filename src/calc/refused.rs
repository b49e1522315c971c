//! Why a calculation could not answer.

use serde_json::{Value, json};

/// A refusal: one plain sentence for the person at the machine, and the input that is to blame.
///
/// A refusal never stands beside a number.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{reason}")]
pub struct Refused {
    /// What is wrong and what would do.
    pub reason: String,
    /// The key of the input to blame; "name", "inputs" or "line" when it is no single one.
    pub input: String,
}

impl Refused {
    /// Blames an input.
    pub fn new(input: &str, reason: impl Into<String>) -> Self {
        Self { reason: reason.into(), input: input.to_owned() }
    }

    /// Returns `{"error": {"reason": …, "input": …}}`.
    pub fn to_json(&self) -> Value {
        json!({"error": {"reason": self.reason, "input": self.input}})
    }

    /// Says that a calculation asks for what it does not declare: a fault of the program, not of the person.
    pub(super) fn undeclared(key: &str) -> Self {
        Self::new("inputs", format!("This calculation is built wrongly around {key}: please report it."))
    }
}
