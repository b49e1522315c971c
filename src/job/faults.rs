//! What is wrong with a card, where, and what would be right.

use std::fmt;

/// One fault of a card.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{path}: {what}. {hint}")]
pub struct CardFault {
    /// Where it is in the file: `features[2].radius`; `card` when it concerns the whole file.
    pub path: String,
    /// What is wrong.
    pub what: String,
    /// What would be right.
    pub hint: String,
}

impl CardFault {
    pub(super) fn new(path: impl Into<String>, what: impl Into<String>, hint: impl Into<String>) -> Self {
        Self { path: path.into(), what: what.into(), hint: hint.into() }
    }
}

/// All faults of a card, in the order of the file; never empty.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CardFaults {
    /// The faults, the first one first.
    pub faults: Vec<CardFault>,
}

impl From<CardFault> for CardFaults {
    fn from(fault: CardFault) -> Self {
        Self { faults: vec![fault] }
    }
}

impl From<Vec<CardFault>> for CardFaults {
    fn from(faults: Vec<CardFault>) -> Self {
        Self { faults }
    }
}

impl fmt::Display for CardFaults {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        let count = self.faults.len();
        write!(formatter, "the card has {count} {}:", if count == 1 { "fault" } else { "faults" })?;
        self.faults.iter().try_for_each(|fault| write!(formatter, "\n  {fault}"))
    }
}

impl std::error::Error for CardFaults {}
