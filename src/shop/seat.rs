//! The seat of a fixture indicated at its four corners, through the engine: does the plane come out within what the fixture
//! fit states for it? The scatter of the indicator is that of the card; all figures are assumptions.

use std::sync::Arc;

use crate::checklist::{Command, Consultation, Event, Fact, FactValue, Progress, Refusal, Stamp, Verdict};
use crate::job::{self, Depth};
use crate::quantity::Length;
use crate::shop::{Chance, Share};
use crate::steps;

/// Largest true slope of the seat along either side, mm on a metre: well inside what the gate lets pass.
const SLOPE: f64 = 0.04;
/// Largest true height, millimetres.
const HEIGHT_MM: f64 = 0.05;
/// Asks up to the fourth corner, and a few more.
const MOST_ASKS: usize = 20;
/// What the fixture fit finds of the plane, in the order of [`SeatTruth::plane`].
const FINDINGS: [&str; 3] = ["fit.seat-height", "fit.seat-slope-u", "fit.seat-slope-v"];

/// What a seat is indicated with.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SeatSetting {
    /// Scatter of one reading, millimetres; the card states the same.
    pub scatter_mm: f64,
    /// Step of the indicator, millimetres.
    pub step_mm: f64,
}

struct SeatTruth {
    /// Height in millimetres, slopes in mm on a metre.
    plane: [f64; 3],
    chance: Chance,
}

/// Seats a fixture and indicates its four corners; counts for how many of height and slopes the truth lies inside twice the
/// standard uncertainty that is stated.
///
/// # Errors
/// Says what stood in the way that no operator can answer: a fault of this program.
pub fn indicate_seat(setting: SeatSetting, seed: u64) -> Result<Share, String> {
    let mut chance = Chance::new(seed);
    let mut between = |most: f64| chance.between(-most, most);
    let plane = [between(HEIGHT_MM), between(SLOPE), between(SLOPE)];
    let mut truth = SeatTruth { plane, chance };
    let mut progress = fresh(setting)?;
    let mut seq = 1;
    for _ in 0..MOST_ASKS {
        let (_, answer) = progress.consult().ok_or("nothing is left to do")?;
        let found = truth.counted(&answer);
        if found.of > 0 {
            return Ok(found);
        }
        let ask = answer.next.ok_or("nothing is asked and no plane is found")?;
        let text = match ask.id {
            "fit.clean" | "fit.seat-feeler" => "yes".to_owned(),
            "fit.feel" => "slides".to_owned(),
            "fit.seat-corner" => truth.reading(setting, &progress, ask.round),
            other => return Err(format!("{other} is asked before the seat is indicated")),
        };
        let command = Command::Enter { text, sure: Some("that is what it shows".to_owned()) };
        let events = progress.decide(&command, "OP").map_err(|refusal| match refusal {
            Refusal::Refused(why) => why,
            Refusal::Doubt(doubt) => doubt.question,
        })?;
        for event in &events {
            seq += 1;
            progress.apply(&Stamp { seq, by: "OP".to_owned() }, event);
        }
    }
    Err("too many asks".to_owned())
}

impl SeatTruth {
    fn reading(&mut self, setting: SeatSetting, progress: &Progress, corner: u32) -> String {
        let corners = &progress.card().fixture.seat_corners;
        let place = usize::try_from(corner).ok().and_then(|corner| corners.get(corner));
        let (u, v) = place.map_or((0.0, 0.0), |(u, v)| (u.mm(), v.mm()));
        let [height, along_u, along_v] = self.plane;
        let stands = height + (along_u * u + along_v * v) / 1000.0 + self.chance.normal(setting.scatter_mm);
        format!("{:.4} mm", (stands / setting.step_mm).round() * setting.step_mm)
    }

    fn counted(&self, answer: &Consultation) -> Share {
        let mut covered = Share::default();
        for (id, truth) in FINDINGS.into_iter().zip(self.plane) {
            let Some(finding) = answer.findings.iter().find(|finding| finding.id == id) else { continue };
            let Some(standard) = finding.uncertainty else { continue };
            let unit = finding.shown.unit;
            let off = (unit.to_base(finding.shown.value) - truth).abs();
            covered.count(off <= unit.to_base(2.0 * standard));
        }
        covered
    }
}

/// The first practice card, its fixture not yet seated.
fn fresh(setting: SeatSetting) -> Result<Progress, String> {
    let [(_, text), _] = job::practice_cards();
    let mut card = job::read(text).map_err(|faults| faults.to_string())?;
    let mm = |value: f64| Length::from_mm(value).unwrap_or(Length::ZERO);
    card.depth = Depth::Quick;
    card.instruments.seat_indicator.repeatability = mm(setting.scatter_mm);
    card.instruments.seat_indicator.resolution = mm(setting.step_mm);
    let mut progress = Progress::new(steps::checklist(), Arc::new(card));
    let half_width =
        Fact { id: "brief.tram-half-width", about: String::new(), value: FactValue::Number(1.0), uncertainty: None };
    let brief = Event::StepClosed { step: "brief", piece: None, verdict: Verdict::Within, facts: vec![half_width] };
    progress.apply(&Stamp { seq: 1, by: "OP".to_owned() }, &brief);
    Ok(progress)
}
