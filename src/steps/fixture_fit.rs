//! Fixture fit: slots on jaws, corner relief, seat, the right way round, swing, and the first piece in the ring.

mod asks;
mod corner_relief;
mod creep_up;
mod holding;
mod pictures;
mod seat;
mod slots;
mod swing;

use crate::checklist::{AskSpec, Consultation, Happening, Question, Scope, Situation, Step, Worksheet};
use crate::job::Depth;
use crate::steps::load_piece::{self, LoadingAsks};
use crate::steps::voids::SWING;

static LOADING: LoadingAsks = LoadingAsks {
    seen_down: &asks::SEEN_DOWN,
    ring_gap: &asks::RING_GAP,
    expected_gap: "fit.expected-gap",
    gap_gate: "fit.ring-gap",
};

/// Fixture fit.
pub(super) struct FixtureFit;

impl Step for FixtureFit {
    fn id(&self) -> &'static str {
        "fixture-fit"
    }

    fn title(&self) -> &'static str {
        "fixture fit"
    }

    fn scope(&self) -> Scope {
        Scope::Setup
    }

    fn needs(&self) -> &'static [&'static str] {
        &["brief"]
    }

    fn shaken_by(&self) -> &'static [Happening] {
        SWING
    }

    fn asks(&self) -> &'static [&'static AskSpec] {
        asks::ASKS
    }

    fn names(&self) -> &'static [(&'static str, &'static str)] {
        asks::NAMES
    }

    fn consult(&self, at: &Situation<'_>) -> Consultation {
        Worksheet::walk(at, procedure)
    }
}

fn procedure(sheet: &mut Worksheet<'_>) -> Option<()> {
    sheet.caution("Spindle off, rotary power held or brake on, before hands go between jaws and fixture.");
    sheet.caution("Take the key out of the jaw and the screws before turning anything.");
    sheet.trap("A fixture that stands on a corner fillet or a chip looks seated and is not.");
    sheet.tick(Question::of(&asks::CLEAN), "Stone off every burr and wipe: a chip of 0.1 mm tilts the fixture.")?;
    let feel = sheet.answer(Question::of(&asks::FEEL))?;
    let slid_on_before = feel.word() == "slides" && sheet.card().depth == Depth::Quick;
    if !slid_on_before {
        slots::slots(sheet)?;
    }
    corner_relief::corner_relief(sheet)?;
    seat::seat(sheet)?;
    swing::right_way_round(sheet)?;
    swing::swing(sheet)?;
    load_piece::load(sheet, &LOADING)?;
    holding::holding(sheet)
}
