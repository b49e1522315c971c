//! The fixture on its jaws: slots that may still be tight, the seat, the ring.

use crate::job::JobCard;
use crate::shop::Chance;
use crate::shop::whole::{Moment, Shop};

/// Width of a jaw when nobody said another, millimetres.
const JAW_MM: f64 = 16.0;
/// What a seat corner is off the plane, one standard deviation, millimetres.
const CORNER_MM: f64 = 0.000_5;
/// A chip under one edge, millimetres.
const CHIP_MM: f64 = 0.1;

/// A slot and its jaw.
#[derive(Debug, Clone)]
pub(super) struct Slot {
    jaw_mm: f64,
    play_mm: f64,
    /// Share of a cut that comes off; the rest springs away and is still there.
    response: f64,
    leftover_mm: f64,
    passes: u32,
}

/// Draws both slots: the fixture goes on freely, with the play that the card wants.
pub(super) fn draw_slots(card: &JobCard, seed: u64) -> [Slot; 2] {
    let mut chance = Chance::named(seed, "slots");
    let (low, high) = (card.fixture.play_window.0.mm(), card.fixture.play_window.1.mm());
    let mut slot = || Slot {
        jaw_mm: JAW_MM + chance.normal(0.001),
        play_mm: chance.between(low + 0.35 * (high - low), low + 0.65 * (high - low)),
        response: chance.between(0.5, 1.0),
        leftover_mm: 0.0,
        passes: 0,
    };
    [slot(), slot()]
}

impl Shop {
    pub(super) fn fixture(&mut self, at: &Moment<'_>) -> Option<String> {
        let instruments = self.card.instruments.clone();
        let place = usize::from(at.ask.id.contains('2'));
        let slot = self.slots.get(place)?.clone();
        let chip = self.is_planted("chip-under-fixture");
        Some(match at.ask.id {
            "fit.feel" => self.feel().to_owned(),
            "fit.jaw-1" | "fit.jaw-2" => self.read(at, &instruments.micrometer, slot.jaw_mm),
            "fit.slot-1" | "fit.slot-2" | "fit.slot-1-near" | "fit.slot-1-far" | "fit.slot-2-near"
            | "fit.slot-2-far" => self.read(at, &instruments.bore_gauge, slot.jaw_mm + slot.play_mm),
            "fit.slot-1-wall" | "fit.slot-2-wall" | "fit.slot-1-allowance" | "fit.slot-2-allowance" => {
                self.cut(at, place)?
            }
            "fit.allowance-before" => self.length(0.0, self.card.machine.least_length),
            "fit.walls" => "both-slots-grip".to_owned(),
            "fit.slot-spacing" | "fit.slot-depth" => {
                let window = at.ask.expected?;
                self.read(at, &instruments.bore_gauge, f64::midpoint(window.low, window.high))
            }
            // Tightened as the card says: the window that is shown reaches up to twice of it.
            "fit.ring-torque" => format!("{:.2}", at.ask.expected_shown?.high / 2.0),
            "fit.seat-corner" | "fit.seat-corner-again" => {
                let corner = self.card.fixture.seat_corners.get(usize::try_from(at.ask.round).ok()?)?;
                let reach = self.card.fixture.seat_corners.iter().map(|(u, _)| u.mm().abs()).fold(1.0, f64::max);
                let wedge = if chip { CHIP_MM * corner.0.mm() / reach } else { 0.0 };
                let off = Chance::named(self.seed, &format!("corner/{}", at.ask.round)).normal(CORNER_MM);
                self.read(at, &instruments.seat_indicator, off + wedge)
            }
            "fit.mark-flat" => {
                let way = if self.is_planted("fixture-half-round") { -1.0 } else { 1.0 };
                let flat = way * self.card.fixture.mark_flat_y.mm() + self.chance(at).normal(0.003);
                self.length(flat, instruments.edge_finder.resolution)
            }
            "fit.obstacles" | "fit.sticks-out" => "as-on-card".to_owned(),
            "fit.ring-gap" => self.ring_gap(at),
            _ => return None,
        })
    }

    fn feel(&self) -> &'static str {
        let tightest = self.slots.iter().map(|slot| slot.play_mm).fold(f64::INFINITY, f64::min);
        let high = self.card.fixture.play_window.1.mm();
        match tightest {
            play if play < -0.002 => "will-not-start",
            play if play < self.card.fixture.play_window.0.mm() => "binds",
            play if play <= high => "slides",
            _ => "rocks",
        }
    }

    /// Cuts both walls as the workbook says; what springs away is left for the next pass.
    fn cut(&mut self, at: &Moment<'_>, place: usize) -> Option<String> {
        let to = at.answer.machine_move.as_ref()?.to.clone();
        let wall = to.unit.to_base(to.value);
        let slot = self.slots.get_mut(place)?;
        if slot.passes <= at.ask.round {
            let engaged = wall + slot.leftover_mm;
            let taken = slot.response * engaged;
            slot.play_mm += 2.0 * taken;
            slot.leftover_mm = engaged - taken;
            slot.passes = at.ask.round + 1;
        }
        Some(self.length(wall, self.card.machine.least_length))
    }

    /// The gap that the part's diameter leaves at the split of the ring (a thin ring opens by pi times the diameter).
    pub(super) fn ring_gap(&self, at: &Moment<'_>) -> String {
        let fixture = &self.card.fixture;
        let smaller = if self.is_planted("wrong-piece") { 0.2 } else { 0.0 };
        let part = self.card.part.diameter.mm() - smaller;
        let gap = fixture.free_gap.mm() - std::f64::consts::PI * (fixture.ring_bore.mm() - part);
        self.read(at, &self.card.instruments.feeler, gap)
    }
}
