//! A whole setup on the simulated shop: any job card gets a hidden truth drawn around it, and what the machine and the
//! instruments show follows from that truth.
//!
//! Readings depend on the seed and on what is read, not on the order of reading: the same seed shows the same numbers
//! again, and a reading that is taken once more scatters anew.

mod control;
mod fixture;
mod marked;
mod operator;
mod part;
mod plant;
mod report;
mod touches;
mod truth;

use crate::checklist::{Ask, AskKind, Consultation, Progress};
use crate::job::{CardUnit, Instrument, JobCard};
use crate::quantity::Length;
use crate::shop::Chance;

use control::Control;
use fixture::Slot;
pub use marked::rehearsal_card;
pub use operator::Typed;
pub use plant::{PLANTS, Plant};
use truth::Truth;

/// What is asked of the shop at one moment.
pub(super) struct Moment<'a> {
    progress: &'a Progress,
    piece: u32,
    ask: &'a Ask,
    answer: &'a Consultation,
}

/// A simulated shop that answers whatever the workbook asks about one job.
pub struct Shop {
    card: JobCard,
    seed: u64,
    truth: Truth,
    control: Control,
    slots: [Slot; 2],
    bores: std::collections::BTreeMap<u32, f64>,
    planted: Vec<plant::Planted>,
    tries: u32,
    again: std::collections::BTreeMap<String, u32>,
}

impl Shop {
    /// Opens a shop for a card; what is planted goes wrong once.
    pub fn open(card: &JobCard, seed: u64, plants: &[&'static Plant]) -> Self {
        let truth = Truth::draw(card, seed);
        let slots = fixture::draw_slots(card, seed);
        let control = Control::new(card, &truth, seed);
        let planted = plants.iter().map(|plant| plant::Planted::new(plant)).collect();
        Self {
            card: card.clone(),
            seed,
            truth,
            control,
            slots,
            bores: std::collections::BTreeMap::new(),
            planted,
            tries: 0,
            again: std::collections::BTreeMap::new(),
        }
    }

    /// Says what the machine or the instrument shows for the current ask; `None` when nothing is asked, or when this shop
    /// has nothing that would show it. What a failed gate has caught is put right.
    pub fn shows(&mut self, progress: &Progress) -> Option<String> {
        let (slot, answer) = progress.consult()?;
        let Some(ask) = answer.next.as_ref() else {
            let gate = answer.blocked_by().map_or("", |gate| gate.id);
            self.caught(&format!("gate {gate}"));
            return None;
        };
        let piece = slot.piece.unwrap_or(progress.run().piece);
        let moment = Moment { progress, piece, ask, answer: &answer };
        self.shown(&moment)
    }

    fn truthful(&mut self, at: &Moment<'_>) -> Option<String> {
        let known = match at.ask.id.split('.').next() {
            Some("fit") => self.fixture(at),
            Some("pickup") => self.touches(at),
            Some("tram") => self.tram(at),
            Some("capture") => self.capture(at),
            Some("run") => self.first_run(at),
            Some("check" | "over") => self.pieces(at),
            Some("brief") => self.brief(at),
            Some("resume") => self.resumed(at),
            _ => None,
        };
        known.or_else(|| (at.ask.kind == AskKind::YesNo).then(|| "yes".to_owned()))
    }

    fn brief(&self, at: &Moment<'_>) -> Option<String> {
        match at.ask.id {
            "brief.view" => Some("at-the-top".to_owned()),
            "brief.top-faces" => {
                let plus = (self.card.machine.top_faces.sign() > 0.0) != self.is_planted("turned-end-for-end");
                Some(if plus { "plus-x" } else { "minus-x" }.to_owned())
            }
            _ => None,
        }
    }

    fn resumed(&self, at: &Moment<'_>) -> Option<String> {
        match at.ask.id {
            "resume.fixture-mark" => Some(self.card.fixture.id.clone()),
            "resume.serial" => Some(format!("N-{}", at.piece)),
            "resume.what-happened" => Some("nothing".to_owned()),
            _ => None,
        }
    }

    /// The chance of one reading: its own stream, and a new one when it is taken again.
    fn chance(&self, at: &Moment<'_>) -> Chance {
        let same = |entry: &&crate::checklist::Entry| entry.spec.id == at.ask.id && entry.round == at.ask.round;
        let before = at.progress.entries().iter().filter(same).count();
        Chance::named(self.seed, &format!("{}/{}/{}/{before}", at.ask.id, at.ask.round, at.piece))
    }

    /// Reads something with an instrument: its scatter, its display step, the card's unit.
    fn read(&self, at: &Moment<'_>, instrument: &Instrument, true_mm: f64) -> String {
        let seen = true_mm + self.chance(at).normal(instrument.repeatability.mm());
        self.length(seen, instrument.resolution)
    }

    /// Writes a length in the card's unit with the decimals of a display.
    fn length(&self, mm: f64, step: Length) -> String {
        written(mm, step, self.card.unit)
    }

    /// Writes a length as the control shows it.
    fn on_control(&self, mm: f64) -> String {
        self.length(mm, self.card.machine.least_length)
    }

    /// Writes an angle as the control shows it, from 0 up to 360.
    fn angle(&self, degrees: f64) -> String {
        let step = self.card.machine.least_angle_deg;
        let shown = (degrees / step).round() * step;
        format!("{:.*}", decimals(step), shown.rem_euclid(360.0))
    }
}

/// Rounds a length to a display step and writes it in a unit.
fn written(mm: f64, step: Length, unit: CardUnit) -> String {
    let (value, step) = match unit {
        CardUnit::Millimetre => (mm, step.mm()),
        CardUnit::Inch => (mm / 25.4, step.inches()),
    };
    let shown = if step > 0.0 { (value / step).round() * step } else { value };
    let text = format!("{shown:.*}", decimals(step));
    if text.trim_start_matches('-').bytes().all(|byte| matches!(byte, b'0' | b'.')) {
        return text.trim_start_matches('-').to_owned();
    }
    text
}

/// How many decimals a display of this step has: as many as its step, six at most.
fn decimals(step: f64) -> usize {
    let text = format!("{step:.6}");
    text.trim_end_matches('0').split_once('.').map_or(0, |(_, part)| part.len())
}
