//! The steps of the checklist, in their order: each a pure question, one a file.

mod bore;
mod brief;
mod capture;
mod first_run;
mod fixture_fit;
mod hand_over;
mod index_table;
mod level_now;
mod levelling;
mod linear_pickup;
mod load_piece;
mod piece_check;
mod reference;
mod resume;
mod rotary_tram;
mod run_out;
mod serial;
mod voids;

use std::sync::LazyLock;

use crate::checklist::{Checklist, Step};
use crate::job::{JobCard, Task};

pub use reference::permanent_ids;

/// The caution that holds for every step, always within reach (job map, section 3).
pub const GENERAL_CAUTION: &str = "This workbook does sums and asks questions. It does not control the machine. The machine manual, your shop rules and local law come first. If you are not competent and authorised on this machine, stop and get someone who is.";

static STEPS: &[&dyn Step] = &[
    &resume::Resume,
    &brief::Brief,
    &fixture_fit::FixtureFit,
    &linear_pickup::LinearPickup,
    &rotary_tram::RotaryTram,
    &first_run::FirstRun,
    &piece_check::PieceCheck,
    &hand_over::HandOver,
];

static LEVEL: &[&dyn Step] = &[&level_now::LevelNow];
static RUN_OUT: &[&dyn Step] = &[&run_out::RunOut];
static EVERY: LazyLock<Vec<&'static dyn Step>> = LazyLock::new(|| [STEPS, LEVEL, RUN_OUT].concat());

/// Returns every step of every checklist, for reading logs and listing ids.
pub fn every_step() -> Checklist {
    Checklist { steps: &EVERY }
}

/// Returns the checklist of what a card is for.
pub fn checklist_for(card: &JobCard) -> Checklist {
    match card.task {
        Task::Setup => checklist(),
        Task::Level => Checklist { steps: LEVEL },
        Task::RunOut => Checklist { steps: RUN_OUT },
    }
}

/// Returns the checklist: what is asked after a resume, then brief, fixture fit, linear pickup, rotary tram with the
/// capture of the zero, first run, piece check, hand over.
pub fn checklist() -> Checklist {
    Checklist { steps: STEPS }
}
