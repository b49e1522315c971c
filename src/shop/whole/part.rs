//! The part: bores cut to size, the holes where they landed, the batch.

use crate::shop::Chance;
use crate::shop::whole::{Moment, Shop};

/// Rounds of different bores are this far apart.
const ROUNDS_APART: u32 = 100;

impl Shop {
    pub(super) fn bore(&mut self, at: &Moment<'_>) -> Option<String> {
        let feature = self.card.features.get(usize::try_from(at.ask.round / ROUNDS_APART).ok()?)?.clone();
        let bore = feature.bore.as_ref()?;
        let place = at.ask.round / ROUNDS_APART;
        let step = bore.pin_gauge_step;
        let now = self.bores.get(&place).copied();
        Some(match at.ask.id {
            "run.bore-programmed" => {
                let wanted = at.answer.machine_move.as_ref().filter(|to| to.axis == "bore");
                let programmed = wanted.map_or(bore.target.mm() * 0.988, |to| to.to.unit.to_base(to.to.value));
                let mut chance = Chance::named(self.seed, &format!("spring/{place}"));
                let spring = bore.target.mm() * chance.between(0.000_5, 0.001_5);
                let scatter = self.chance(at).normal(0.000_3);
                self.bores.insert(place, programmed - spring + scatter);
                self.on_control(programmed)
            }
            "run.bore-go" => self.length((now? / step.mm()).floor() * step.mm(), step),
            "run.bore-no-go" => self.length(((now? / step.mm()).floor() + 1.0) * step.mm(), step),
            "run.bore-gauge" => self.read(at, &self.card.instruments.bore_gauge.clone(), now?),
            "run.press-force" => {
                let find = |id: &str| at.answer.findings.iter().find(|finding| finding.id == id);
                let (low, high) = (find("run.press-force-low")?, find("run.press-force-high")?);
                let share = Chance::named(self.seed, "friction").between(0.25, 0.75);
                format!("{:.0}", low.shown.value + share * (high.shown.value - low.shown.value))
            }
            _ => return None,
        })
    }

    pub(super) fn pieces(&mut self, at: &Moment<'_>) -> Option<String> {
        let instruments = self.card.instruments.clone();
        Some(match at.ask.id {
            "check.along-error" | "check.across-error" => {
                let error = self.position_error(at)?;
                self.read(at, &instruments.inspection, error)
            }
            "check.bore" => {
                let (place, _) = (0_u32..).zip(&self.card.features).find(|(_, feature)| feature.bore.is_some())?;
                let now = self.bores.get(&place).copied()?;
                self.read(at, &instruments.bore_gauge, now)
            }
            "check.broken-drill" => "out-and-sound".to_owned(),
            "check.wear-correction" | "over.scrap" => "0".to_owned(),
            "check.temperature" => format!("{:.1} degC", 21.0 + self.chance(at).normal(0.3)),
            "check.y-touch" | "over.y-touch" => self.read(at, &instruments.edge_finder, self.truth.y),
            "check.next" => if at.piece < self.card.part.batch { "next-piece" } else { "hand-over" }.to_owned(),
            "over.good" => at.progress.run().piece.to_string(),
            "over.a-check" => {
                let off = self.chance(at).normal(self.card.machine.rotary_repeat_deg);
                self.angle(self.truth.level_of(at.progress.run().piece) + off)
            }
            "over.register" => "cleared".to_owned(),
            _ => return None,
        })
    }

    /// Where a hole landed: what the zero is off, and how the tool wandered.
    fn position_error(&self, at: &Moment<'_>) -> Option<f64> {
        let feature = self.card.features.get(usize::try_from(at.ask.round).ok()?)?;
        let (lengths, a) = self.control.written?;
        let wander = self.truth.positioning.hypot(feature.hole_wander.mm());
        let own = Chance::named(self.seed, &format!("{}/{}", at.ask.id, feature.id)).normal(wander);
        if at.ask.id == "check.along-error" {
            return Some(own + self.card.machine.top_faces.sign() * (lengths[0] - self.truth.x));
        }
        let turned = (a - self.truth.level_of(1) + 180.0).rem_euclid(360.0) - 180.0;
        Some(own + lengths[1] - self.truth.y + feature.radius.mm() * turned.to_radians())
    }
}
