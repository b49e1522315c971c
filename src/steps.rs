//! The steps of the checklist, in their order: each a pure question, one a file.

mod bore;
mod brief;
mod capture;
mod first_run;
mod fixture_fit;
mod hand_over;
mod index_table;
mod levelling;
mod linear_pickup;
mod load_piece;
mod piece_check;
mod reference;
mod rotary_tram;
mod voids;

use crate::checklist::{Checklist, Step};

pub use reference::permanent_ids;

static STEPS: &[&dyn Step] = &[
    &brief::Brief,
    &fixture_fit::FixtureFit,
    &linear_pickup::LinearPickup,
    &rotary_tram::RotaryTram,
    &first_run::FirstRun,
    &piece_check::PieceCheck,
    &hand_over::HandOver,
];

/// Returns the checklist: brief, fixture fit, linear pickup, rotary tram with the capture of the zero, first run, piece
/// check, hand over.
pub fn checklist() -> Checklist {
    Checklist { steps: STEPS }
}
