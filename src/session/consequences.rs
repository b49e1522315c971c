//! What an event does to the steps, and what crossing an entry out would do.

use std::path::Path;

use crate::checklist::{Event, Progress, SlotState, SlotStatus, Stamp};
use crate::session::{SessionError, replay_until};
use crate::session_log;

/// A step that stands otherwise than before.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Changed {
    /// Its title.
    pub step: &'static str,
    /// The piece, for steps done for each piece.
    pub piece: Option<u32>,
    /// How it stood.
    pub from: SlotState,
    /// How it stands.
    pub to: SlotState,
}

/// Tells which steps would stand otherwise if an entry were crossed out now.
pub fn if_crossed_out(progress: &Progress, seq: u64) -> Vec<Changed> {
    let before = progress.statuses();
    let mut after = progress.clone();
    let stamp = Stamp { seq: u64::MAX, by: String::new() };
    after.apply(&stamp, &Event::Struck { of: seq, why: String::new() });
    changes(&before, &after.statuses())
}

/// Tells which steps stand otherwise since one event of a log.
///
/// # Errors
/// An event before it that cannot be understood.
pub fn made_by(path: &Path, events: &[session_log::Event], seq: u64) -> Result<Vec<Changed>, SessionError> {
    let before = replay_until(path, events, seq)?;
    let after = replay_until(path, events, seq.saturating_add(1))?;
    Ok(changes(&before.statuses(), &after.statuses()))
}

fn changes(before: &[SlotStatus], after: &[SlotStatus]) -> Vec<Changed> {
    let same = |one: &SlotStatus, other: &SlotStatus| {
        one.slot.step.id() == other.slot.step.id() && one.slot.piece == other.slot.piece
    };
    let changed = |status: &SlotStatus| {
        let from = before.iter().find(|old| same(old, status)).map_or(SlotState::Waiting, |old| old.state);
        let slot = status.slot;
        (from != status.state).then(|| Changed { step: slot.step.title(), piece: slot.piece, from, to: status.state })
    };
    after.iter().filter_map(changed).collect()
}
