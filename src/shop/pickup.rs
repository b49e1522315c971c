//! One linear pickup with its capture, through the engine: an operator who knows the hidden truth only by touching it
//! answers what the workbook asks, with scatter, chips and slips (decide, apply, consult; no log and no screen).
//!
//! The truth model is that of the project's algorithms study: edges, tip radius, machine position, display steps, chips,
//! slips of typing, a half turn with play. All figures are assumptions, not measurements of a machine.

mod operator;
mod slips;
mod truth;

use std::sync::Arc;

pub use slips::PickupSlip;

use crate::checklist::{
    Command, Consultation, Event, Fact, FactValue, GateKind, GateState, Progress, Refusal, Stamp, Verdict,
};
use crate::job::{self, Depth, JobCard, XMethod};
use crate::quantity::Length;
use crate::shop::Chance;
use crate::steps;
use operator::Operator;
use truth::Truth;

/// Asks after which a pickup is no longer worth its while.
const MOST_ASKS: u32 = 400;
/// What harms: millimetres in X, Y or Z, degrees in A.
const HARMFUL: f64 = 0.01;

/// Which datum a slip falls on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SlipOn {
    /// The back face in X.
    X,
    /// Front and back face in Y.
    Y,
}

/// What a pickup is tried under. Lengths in millimetres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PickupSetting {
    /// Scatter of one touch, drawn between these two.
    pub scatter_mm: (f64, f64),
    /// Repeatability of a touch as the card states it.
    pub stated_mm: f64,
    /// Step of the display.
    pub step_mm: f64,
    /// Touches a place.
    pub touches: u32,
    /// Standard uncertainty of the tip's radius.
    pub tip_mm: f64,
    /// Standard uncertainty of the machine's own position at a touched place.
    pub machine_mm: f64,
    /// Standard uncertainty of the fixture's width, and of its length where that is touched.
    pub width_mm: f64,
    /// How X is picked up.
    pub x: XMethod,
    /// Whether the opposite face in X can be touched.
    pub opposite: bool,
    /// Height over the centreline at which the Y faces are touched.
    pub height_mm: f64,
    /// Angles of the flip.
    pub angles: u32,
    /// Play that comes into every second turn because the approach is mixed, degrees; 0 for an operator who finishes from
    /// the same side.
    pub mixed_play_deg: f64,
    /// Whether numbers are typed in inches.
    pub inches: bool,
}

impl PickupSetting {
    /// An honest card: the scatter is what it says.
    pub const fn honest() -> Self {
        Self {
            scatter_mm: (0.002, 0.002),
            stated_mm: 0.002,
            step_mm: 0.001,
            touches: 3,
            tip_mm: 0.001,
            machine_mm: 0.0,
            width_mm: 0.003,
            x: XMethod::SingleFace,
            opposite: false,
            height_mm: 10.0,
            angles: 2,
            mixed_play_deg: 0.0,
            inches: false,
        }
    }

    /// The midpoint of the algorithms study: two touches a face, typed in inches, the width known to 10 um.
    pub const fn midpoint_study() -> Self {
        Self {
            scatter_mm: (0.002, 0.005),
            stated_mm: 0.004_25,
            step_mm: 0.002_54,
            touches: 2,
            tip_mm: 0.003,
            machine_mm: 0.002,
            width_mm: 0.01,
            x: XMethod::TwoFaces,
            opposite: true,
            height_mm: 0.0,
            angles: 2,
            mixed_play_deg: 0.0,
            inches: true,
        }
    }

    /// The same with a single face in X, which the return touch has to prove.
    pub const fn single_face_study() -> Self {
        Self { x: XMethod::SingleFace, opposite: false, ..Self::midpoint_study() }
    }
}

/// How one axis came out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AxisEnd {
    /// What the pickup found less the truth.
    pub error_mm: f64,
    /// The half width that the workbook states for 95 %.
    pub stated_95_mm: f64,
    /// What stands in the register less the truth, once it was written; A in degrees has its own field.
    pub register_error_mm: Option<f64>,
}

impl AxisEnd {
    /// Returns whether the truth lies inside what was stated.
    pub fn is_covered(&self) -> bool {
        self.error_mm.abs() <= self.stated_95_mm
    }
}

/// What stopped a pickup.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Catch {
    /// An entry was doubted before it was taken.
    Doubt,
    /// A gate, by its id.
    Gate(&'static str),
}

/// How a pickup ended.
#[derive(Debug, Clone, PartialEq)]
pub struct PickupEnd {
    /// X, Y and Z, where the pickup was closed.
    pub axes: Option<[AxisEnd; 3]>,
    /// Error of the A register, degrees, where it was written.
    pub register_a_error_deg: Option<f64>,
    /// What stopped it, when something did.
    pub caught: Option<Catch>,
    /// Whether the slip made would put the register wrong by more than 10 um or 0.01 degree if nothing stopped it.
    pub would_harm: bool,
}

impl PickupEnd {
    /// Returns whether anything in the register is wrong by more than 10 um or 0.01 degree.
    pub fn is_harmful(&self) -> bool {
        let lengths = self.axes.iter().flatten().filter_map(|axis| axis.register_error_mm);
        let harmful = lengths.map(f64::abs).fold(0.0, f64::max) > HARMFUL;
        harmful || self.register_a_error_deg.is_some_and(|error| error.abs() > HARMFUL)
    }
}

/// Picks up a datum set through the engine, up to the closed pickup. Doubts are confirmed and ask gates passed with a reason,
/// so that what comes out can be counted; a stop gate ends it, and then there are no axes.
///
/// # Errors
/// Says what stood in the way that no operator can answer: a fault of this program.
pub fn pick_up(setting: &PickupSetting, seed: u64) -> Result<PickupEnd, String> {
    Run::new(setting, seed, None)?.until_closed("linear-pickup", true)
}

/// Picks up, captures the zero and reads it back, with one slip on the way. Stops at the first doubt or failed gate.
///
/// # Errors
/// As [`pick_up`].
pub fn pick_up_with_slip(
    setting: &PickupSetting,
    slip: Option<(PickupSlip, SlipOn)>,
    seed: u64,
) -> Result<PickupEnd, String> {
    Run::new(setting, seed, slip)?.until_closed("rotary-tram", false)
}

struct Run {
    progress: Progress,
    operator: Operator,
    seq: u64,
    stated: [f64; 3],
}

impl Run {
    fn new(setting: &PickupSetting, seed: u64, slip: Option<(PickupSlip, SlipOn)>) -> Result<Self, String> {
        let mut chance = Chance::new(seed);
        let card = card_for(setting)?;
        let truth = Truth::draw(setting, &card, &mut chance);
        let operator = Operator::new(truth, setting, slip, chance);
        let mut run =
            Self { progress: Progress::new(steps::checklist(), Arc::new(card)), operator, seq: 0, stated: [0.0; 3] };
        run.close(
            "brief",
            &[("brief.tram-limit", 0.06), ("brief.tram-half-width", 0.06), ("brief.angle-uncertainty", 0.03)],
        );
        run.close("fixture-fit", &[("fit.swing", 64.7), ("fit.play-angle", 0.01)]);
        Ok(run)
    }

    fn record(&mut self, event: &Event) {
        self.seq += 1;
        self.progress.apply(&Stamp { seq: self.seq, by: "OP".to_owned() }, event);
    }

    fn close(&mut self, step: &'static str, facts: &[(&'static str, f64)]) {
        let fact = |(id, value): &(&'static str, f64)| Fact {
            id,
            about: String::new(),
            value: FactValue::Number(*value),
            uncertainty: None,
        };
        let facts = facts.iter().map(fact).collect();
        self.record(&Event::StepClosed { step, piece: None, verdict: Verdict::Within, facts });
    }

    fn until_closed(mut self, last: &str, goes_on: bool) -> Result<PickupEnd, String> {
        for _ in 0..MOST_ASKS {
            let (slot, answer) = self.progress.consult().ok_or("nothing is left to do")?;
            self.note_stated(&answer);
            if answer.complete {
                for event in self.progress.owed() {
                    self.record(&event);
                }
                if slot.step.id() == last {
                    return Ok(self.end(None));
                }
                continue;
            }
            let Some(ask) = &answer.next else {
                let gate = answer.gates.iter().find(|gate| gate.state == GateState::Fail);
                let gate = gate.ok_or("nothing is asked and nothing failed")?;
                if !goes_on || gate.kind == GateKind::Stop {
                    return Ok(self.end(Some(Catch::Gate(gate.id))));
                }
                self.pass_over(gate.id)?;
                continue;
            };
            let text = self.operator.answer(ask, &answer)?;
            match self.enter(&text, goes_on)? {
                None => {}
                Some(caught) => return Ok(self.end(Some(caught))),
            }
        }
        Err("too many asks".to_owned())
    }

    fn enter(&mut self, text: &str, goes_on: bool) -> Result<Option<Catch>, String> {
        let sure = goes_on.then(|| "that is what it shows".to_owned());
        match self.progress.decide(&Command::Enter { text: text.to_owned(), sure }, "OP") {
            Ok(events) => {
                for event in &events {
                    self.record(event);
                }
                Ok(None)
            }
            Err(Refusal::Doubt(_)) => Ok(Some(Catch::Doubt)),
            Err(Refusal::Refused(why)) => Err(format!("{text}: {why}")),
        }
    }

    /// Goes on past an ask gate; a coverage run counts what comes out, not what would be read again.
    fn pass_over(&mut self, gate: &str) -> Result<(), String> {
        let command =
            Command::Concede { gate: gate.to_owned(), why: "counted as it is".to_owned(), by: "OP".to_owned() };
        match self.progress.decide(&command, "OP") {
            Ok(events) => {
                for event in &events {
                    self.record(event);
                }
                Ok(())
            }
            Err(Refusal::Refused(why)) => Err(why),
            Err(Refusal::Doubt(doubt)) => Err(doubt.question),
        }
    }

    fn note_stated(&mut self, answer: &Consultation) {
        for finding in answer.findings.iter().filter(|finding| finding.id == "pickup.expanded") {
            let axis = ["x", "y", "z"].iter().position(|axis| *axis == finding.about);
            if let Some(stated) = axis.and_then(|axis| self.stated.get_mut(axis)) {
                *stated = finding.shown.unit.to_base(finding.shown.value);
            }
        }
    }

    fn end(&self, caught: Option<Catch>) -> PickupEnd {
        let handed = self.progress.handed();
        let truth = self.operator.truth.datums();
        let control = self.operator.control();
        let axis = |axis: usize, id: &str| -> Option<AxisEnd> {
            let truth = *truth.get(axis)?;
            Some(AxisEnd {
                error_mm: handed.number(id)? - truth,
                stated_95_mm: *self.stated.get(axis)?,
                register_error_mm: control.and_then(|control| control.get(axis).map(|held| held - truth)),
            })
        };
        let axes = match (axis(0, "pickup.x"), axis(1, "pickup.y"), axis(2, "pickup.z")) {
            (Some(x), Some(y), Some(z)) => Some([x, y, z]),
            _ => None,
        };
        let would_harm = self.operator.injected() > HARMFUL;
        PickupEnd { axes, register_a_error_deg: self.operator.register_a_error(), caught, would_harm }
    }
}

/// The first practice card, with the setting's instruments and ways.
fn card_for(setting: &PickupSetting) -> Result<JobCard, String> {
    let mm = |value: f64| Length::from_mm(value).unwrap_or(Length::ZERO);
    let [(_, text), _] = job::practice_cards();
    let mut card = job::read(text).map_err(|faults| faults.to_string())?;
    card.depth = Depth::Normal;
    for instrument in [&mut card.instruments.edge_finder, &mut card.instruments.setter] {
        instrument.resolution = mm(setting.step_mm);
        instrument.repeatability = mm(setting.stated_mm);
        instrument.repeats = setting.touches;
    }
    card.instruments.tip_radius_uncertainty = mm(setting.tip_mm);
    card.fixture.width_tolerance = mm(3.0 * setting.width_mm);
    card.fixture.off_centre_tolerance = mm(0.3);
    card.fixture.touch_height = mm(setting.height_mm);
    card.budget.y_pickup = mm(0.05);
    card.datums.x.by = setting.x;
    card.datums.x.opposite = setting.opposite.then(|| mm(truth::LENGTH_MM));
    card.datums.x.opposite_tolerance = mm(3.0 * setting.width_mm);
    card.datums.y.angles = setting.angles;
    card.datums.machine_uncertainty = mm(setting.machine_mm);
    Ok(card)
}
