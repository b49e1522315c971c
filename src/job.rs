//! The job card: part, features, machine, instruments, fixture, tools and limits, read from a JSON file and checked.
//!
//! One table of fields (`fields`) says of every key what it is, in which unit a bare number is meant, which range is
//! believed and what stands in when it is left out. Reading, the published schema and the reference come from that table.

mod building;
mod card;
mod checks;
mod cut;
mod datums;
mod draft;
mod faults;
mod fields;
mod json;
mod learned;
mod node;
pub mod pictures;
mod practice;
mod quick;
mod reading;
mod reference;
mod registers;
mod schema;
mod spelling;

pub use card::*;
pub use cut::*;
pub use datums::*;
pub use draft::{Draft, DraftRow, about};
pub use faults::{CardFault, CardFaults};
pub use learned::Learned;
pub use practice::practice_cards;
pub use quick::quick_card;
pub use reference::{FieldRow, field_rows};
pub use registers::{REGISTER_NAMES, register_number};
pub use schema::schema;

/// The longest card, in bytes: it is embedded whole in a log line of at most 64 KiB.
pub const LONGEST_CARD: usize = 48 * 1024;
/// The most features on a card.
pub const MOST_FEATURES: usize = 200;

/// Reads a job card and checks it; nothing of it is used unless all of it holds.
///
/// # Errors
/// Lists every fault that was found, each with its path in the file and what would be right.
pub fn read(text: &str) -> Result<JobCard, CardFaults> {
    if text.len() > LONGEST_CARD {
        let what = format!("the card has {} bytes, and {LONGEST_CARD} are the most", text.len());
        return Err(CardFault::new("card", what, "Shorten the notes, or split the job into two cards.").into());
    }
    if let Some(quick) = quick::read_quick(text) {
        return quick;
    }
    let json = json::parse(text)?;
    let (root, mut faults) = reading::read(&json);
    faults.extend(checks::faults(&root));
    if !faults.is_empty() {
        return Err(CardFaults::from(faults));
    }
    building::card(&root, text).map_err(CardFaults::from)
}

#[cfg(test)]
mod tests;
