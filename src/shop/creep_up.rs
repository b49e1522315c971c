//! Slots opened pass by pass, through the engine: an operator who knows the hidden truth only by gauge and hand follows what
//! the fixture fit advises. Beside it the rule of fixed steps.
//!
//! The truth model is that of the project's algorithms study, in micrometres: a cutter takes a share of its engagement and
//! leaves the rest to the next pass (or nothing, when it leaves no metal); below 5 um it rubs; gauges scatter and disagree;
//! a hand says will-not-start, binds, slides, rocks at -2, 5, 20 um. All figures are assumptions.

use std::sync::Arc;

use crate::checklist::{
    Ask, Command, Consultation, Event, Fact, FactValue, GateKind, GateState, Progress, Refusal, Stamp, Verdict,
};
use crate::job::{self, Depth, JobCard};
use crate::quantity::Length;
use crate::shop::Chance;
use crate::steps;

/// The window of play of the study, micrometres; a slot wider than its end is scrap.
pub const WINDOW_UM: (f64, f64) = (5.0, 20.0);
const FEEL_UM: [f64; 3] = [-2.0, 5.0, 20.0];
const LEAST_ENGAGEMENT_UM: f64 = 5.0;
const JAW_MM: f64 = 16.0;
/// Step of the rule of fixed steps, a wall.
const FIXED_STEP_UM: f64 = 12.7;
/// Passes and asks after which a run is given up.
const MOST_PASSES: u32 = 20;
const MOST_ASKS: u32 = 1000;

/// What the slots are gauged with.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SlotGauge {
    /// Scatter 5 to 12 um, disagreement up to 10 um, five readings.
    Caliper,
    /// Scatter 2 to 3 um, disagreement up to 3 um, three readings.
    MicrometerAndBoreGauge,
}

impl SlotGauge {
    const fn scatter_um(self) -> (f64, f64) {
        match self {
            Self::Caliper => (5.0, 12.0),
            Self::MicrometerAndBoreGauge => (2.0, 3.0),
        }
    }

    /// What the card states: the root mean square of the class.
    const fn stated_um(self) -> f64 {
        match self {
            Self::Caliper => 8.7,
            Self::MicrometerAndBoreGauge => 2.5,
        }
    }

    const fn disagreement_um(self) -> f64 {
        match self {
            Self::Caliper => 10.0,
            Self::MicrometerAndBoreGauge => 3.0,
        }
    }

    const fn repeats(self) -> u32 {
        match self {
            Self::Caliper => 5,
            Self::MicrometerAndBoreGauge => 3,
        }
    }
}

/// What a creep-up is tried under.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct CreepUpSetting {
    /// Whether what the cutter springs away from stays for a later pass; `None`: it does in three jobs of four.
    pub leaves_metal: Option<bool>,
    /// The gauge.
    pub gauge: SlotGauge,
    /// Whether the fixture comes back to the vise up to 5 to 10 um (one standard deviation) elsewhere.
    pub relocates: bool,
    /// Whether the two slots start apart; otherwise they are one clearance, as in the study.
    pub slots_differ: bool,
}

/// How a creep-up ended.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct CreepUpEnd {
    /// Passes cut.
    pub passes: u32,
    /// Looks without a cut, the first not counted.
    pub more_looks: u32,
    /// Whether a slot became wider than the window.
    pub scrapped: bool,
    /// Whether every slot ended inside the window.
    pub inside: bool,
    /// Whether it was gone on with although the readings could not decide.
    pub conceded: bool,
    /// Slots whose true play lies within the stated 95 % of the estimate, and how many were stated.
    pub covered: (u32, u32),
}

/// Opens the slots of one job by what the fixture fit advises.
///
/// # Errors
/// Says what stood in the way that no operator can answer: a fault of this program.
pub fn creep_up(setting: CreepUpSetting, seed: u64) -> Result<CreepUpEnd, String> {
    Run::new(setting, seed)?.until_open()
}

/// Opens the slot of one job by the rule of fixed steps: a bulk cut to one step short of the measured play, then 12.7 um a
/// wall until it slides.
pub fn fixed_steps(setting: CreepUpSetting, seed: u64) -> CreepUpEnd {
    let mut truth = Truth::draw(setting, &mut Chance::new(seed));
    let mut end = CreepUpEnd::default();
    let bulk = -truth.gauged_um(0) / 2.0 - FIXED_STEP_UM;
    truth.pass([bulk, bulk]);
    end.passes = 1;
    while truth.feel() < 2 && end.passes < MOST_PASSES {
        truth.pass([FIXED_STEP_UM; 2]);
        end.passes += 1;
    }
    end.scrapped = truth.scrapped;
    end.inside = truth.is_inside();
    end
}

struct Slot {
    clearance: f64,
    leftover: [f64; 2],
}

struct Truth {
    setting: CreepUpSetting,
    leaves_metal: bool,
    share: f64,
    slots: [Slot; 2],
    scatter: f64,
    disagreement: f64,
    hand: f64,
    relocation: f64,
    stood: f64,
    scrapped: bool,
    chance: Chance,
}

impl Truth {
    fn draw(setting: CreepUpSetting, chance: &mut Chance) -> Self {
        let leaves_metal = setting.leaves_metal.unwrap_or_else(|| chance.happens(0.75));
        let share = chance.between(0.3, 1.0);
        let mut slot = || {
            let left = if leaves_metal { (1.0 - share) * chance.between(0.0, 60.0) } else { 0.0 };
            Slot { clearance: -chance.between(40.0, 200.0), leftover: [left; 2] }
        };
        let slots = [slot(), slot()];
        let (low, high) = setting.gauge.scatter_um();
        let most = setting.gauge.disagreement_um();
        let relocation = if setting.relocates { chance.between(5.0, 10.0) } else { 0.0 };
        Self {
            setting,
            leaves_metal,
            share,
            slots,
            scatter: chance.between(low, high),
            disagreement: chance.between(-most, most),
            hand: chance.normal(1.5),
            relocation,
            stood: chance.normal(relocation),
            scrapped: false,
            chance: chance.clone(),
        }
    }

    /// Returns the slots that there really are.
    fn real(&self) -> &[Slot] {
        self.slots.get(..if self.setting.slots_differ { 2 } else { 1 }).unwrap_or(&self.slots)
    }

    fn clearance(&self, slot: usize) -> f64 {
        self.real().get(slot).or(self.slots.first()).map_or(0.0, |slot| slot.clearance)
    }

    fn is_inside(&self) -> bool {
        self.real().iter().all(|slot| WINDOW_UM.0 <= slot.clearance && slot.clearance <= WINDOW_UM.1)
    }

    fn reading_um(&mut self, slot: usize) -> f64 {
        self.clearance(slot) + self.disagreement + self.chance.normal(self.scatter)
    }

    fn gauged_um(&mut self, slot: usize) -> f64 {
        let repeats = self.setting.gauge.repeats();
        (0..repeats).map(|_| self.reading_um(slot)).sum::<f64>() / f64::from(repeats)
    }

    /// Returns how many of the bounds of the hand the tighter slot has passed.
    fn feel(&mut self) -> usize {
        let tighter = self.real().iter().map(|slot| slot.clearance).fold(f64::INFINITY, f64::min);
        let felt = tighter - self.hand + self.chance.normal(2.0);
        FEEL_UM.iter().filter(|bound| felt >= **bound).count()
    }

    /// Cuts each slot with this much more off each of its walls; `NAN` leaves a slot alone.
    fn pass(&mut self, offsets: [f64; 2]) {
        let stands = self.chance.normal(self.relocation);
        let moved = stands - self.stood;
        self.stood = stands;
        for (slot, offset) in self.slots.iter_mut().zip(offsets).filter(|(_, offset)| !offset.is_nan()) {
            let [front, back] = slot.leftover;
            let engaged = [offset + front + moved, offset + back - moved];
            let off = taken(&mut self.chance, self.share, engaged);
            slot.clearance += off.iter().sum::<f64>();
            if self.leaves_metal {
                slot.leftover = [engaged[0] - off[0], engaged[1] - off[1]];
            }
        }
        self.scrapped |= self.real().iter().any(|slot| slot.clearance > WINDOW_UM.1);
    }
}

fn taken(chance: &mut Chance, share: f64, [front, back]: [f64; 2]) -> [f64; 2] {
    if front >= LEAST_ENGAGEMENT_UM && back >= LEAST_ENGAGEMENT_UM {
        let both = front + back;
        let off = (share * both * (1.0 + chance.normal(0.07)) + chance.normal(1.5 * std::f64::consts::SQRT_2))
            .clamp(0.0, both);
        return [off * front / both, off * back / both];
    }
    [front, back].map(|engaged| {
        if engaged >= LEAST_ENGAGEMENT_UM {
            (share * engaged * (1.0 + chance.normal(0.07)) + chance.normal(1.5)).clamp(0.0, engaged)
        } else if chance.happens(0.6) {
            0.0
        } else {
            engaged.max(0.0) * chance.share()
        }
    })
}

/// What the operator has commanded in the pass under way.
struct Run {
    progress: Progress,
    truth: Truth,
    seq: u64,
    allowance_um: [f64; 2],
    offsets_um: [f64; 2],
    /// The readings of the first slot at this look.
    gauged: Vec<String>,
    end: CreepUpEnd,
}

const SLOT_ASKS: [&str; 2] = ["fit.slot-1", "fit.slot-2"];
const ALLOWANCE_ASKS: [&str; 2] = ["fit.slot-1-allowance", "fit.slot-2-allowance"];

impl Run {
    fn new(setting: CreepUpSetting, seed: u64) -> Result<Self, String> {
        let truth = Truth::draw(setting, &mut Chance::new(seed));
        let progress = Progress::new(steps::checklist(), Arc::new(card_for(setting)?));
        let (allowance_um, offsets_um) = ([0.0; 2], [f64::NAN; 2]);
        let end = CreepUpEnd::default();
        let mut run = Self { progress, truth, seq: 0, allowance_um, offsets_um, gauged: Vec::new(), end };
        let half_width = Fact {
            id: "brief.tram-half-width",
            about: String::new(),
            value: FactValue::Number(1.0),
            uncertainty: None,
        };
        run.record(&Event::StepClosed {
            step: "brief",
            piece: None,
            verdict: Verdict::Within,
            facts: vec![half_width],
        });
        Ok(run)
    }

    fn record(&mut self, event: &Event) {
        self.seq += 1;
        self.progress.apply(&Stamp { seq: self.seq, by: "OP".to_owned() }, event);
    }

    fn until_open(mut self) -> Result<CreepUpEnd, String> {
        for _ in 0..MOST_ASKS {
            let (_, answer) = self.progress.consult().ok_or("nothing is left to do")?;
            let Some(ask) = &answer.next else {
                let gate = answer.gates.iter().find(|gate| gate.state == GateState::Fail);
                let gate = gate.ok_or("nothing is asked and nothing failed")?;
                if gate.kind == GateKind::Stop {
                    return Ok(self.finish(&answer));
                }
                self.end.conceded |= gate.id == "fit.play-window";
                let why = "counted as it is".to_owned();
                self.take(&Command::Concede { gate: gate.id.to_owned(), why, by: "OP".to_owned() })?;
                continue;
            };
            let Some(text) = self.answer(ask, &answer) else { return Ok(self.finish(&answer)) };
            if self.end.passes >= MOST_PASSES {
                return Ok(self.finish(&answer));
            }
            self.take(&Command::Enter { text, sure: Some("that is what it shows".to_owned()) })?;
        }
        Err("too many asks".to_owned())
    }

    fn take(&mut self, command: &Command) -> Result<(), String> {
        let events = self.progress.decide(command, "OP").map_err(|refusal| match refusal {
            Refusal::Refused(why) => why,
            Refusal::Doubt(doubt) => doubt.question,
        })?;
        for event in &events {
            self.record(event);
        }
        Ok(())
    }

    /// Answers what the creep-up asks; `None` once the slots are open and something else is asked.
    fn answer(&mut self, ask: &Ask, answer: &Consultation) -> Option<String> {
        if let Some(slot) = SLOT_ASKS.iter().position(|id| *id == ask.id) {
            return Some(self.gauge(slot, ask));
        }
        if let Some(slot) = ALLOWANCE_ASKS.iter().position(|id| *id == ask.id) {
            return self.command(slot, answer);
        }
        match ask.id {
            "fit.clean" | "fit.in-the-vise" => Some("yes".to_owned()),
            "fit.jaw-1" | "fit.jaw-2" => Some(JAW_MM.to_string()),
            "fit.allowance-before" => Some("0".to_owned()),
            "fit.feel" => {
                self.cut(ask.round);
                ask.choices.get(self.truth.feel()).map(|word| (*word).to_owned())
            }
            _ => None,
        }
    }

    /// Slots that are one clearance are read as one.
    fn gauge(&mut self, slot: usize, ask: &Ask) -> String {
        let place = usize::try_from(ask.repeat.saturating_sub(1)).unwrap_or(0);
        if slot == 1 && !self.truth.setting.slots_differ {
            return self.gauged.get(place).cloned().unwrap_or_default();
        }
        let reading = format!("{:.3}", JAW_MM + self.truth.reading_um(slot) / 1000.0);
        self.gauged.truncate(place);
        self.gauged.push(reading.clone());
        reading
    }

    fn command(&mut self, slot: usize, answer: &Consultation) -> Option<String> {
        let to = &answer.machine_move.as_ref()?.to;
        let allowance_um = 1000.0 * to.unit.to_base(to.value);
        if let (Some(before), Some(offset)) = (self.allowance_um.get_mut(slot), self.offsets_um.get_mut(slot)) {
            *offset = *before - allowance_um;
            *before = allowance_um;
        }
        Some(format!("{:.3}", allowance_um / 1000.0))
    }

    /// Makes the pass that was commanded since the last look, before the fixture is offered up again.
    fn cut(&mut self, round: u32) {
        let offsets = std::mem::replace(&mut self.offsets_um, [f64::NAN; 2]);
        if offsets.iter().any(|offset| !offset.is_nan()) {
            self.truth.pass(offsets);
            self.end.passes += 1;
        } else if round > 0 {
            self.end.more_looks += 1;
        }
    }

    fn finish(mut self, answer: &Consultation) -> CreepUpEnd {
        for finding in answer.findings.iter().filter(|finding| finding.id == "fit.play-estimate") {
            let slot = usize::from(finding.about == "slot-2");
            let Some(standard) = finding.uncertainty.filter(|_| slot < self.truth.real().len()) else { continue };
            let to_um = |value: f64| 1000.0 * finding.shown.unit.to_base(value);
            let off = (to_um(finding.shown.value) - self.truth.clearance(slot)).abs();
            self.end.covered.1 += 1;
            self.end.covered.0 += u32::from(off <= to_um(2.0 * standard));
        }
        self.end.scrapped = self.truth.scrapped;
        self.end.inside = self.truth.is_inside();
        self.end
    }
}

/// The first practice card with the window and the gauges of the study.
fn card_for(setting: CreepUpSetting) -> Result<JobCard, String> {
    let um = |value: f64| Length::from_mm(value / 1000.0).unwrap_or(Length::ZERO);
    let [(_, text), _] = job::practice_cards();
    let mut card = job::read(text).map_err(|faults| faults.to_string())?;
    card.depth = Depth::Quick;
    card.fixture.play_window = (um(WINDOW_UM.0), um(WINDOW_UM.1));
    card.fixture.gauge_disagreement = um(setting.gauge.disagreement_um());
    card.fixture.relocation = um(if setting.relocates { 7.5 } else { 0.0 });
    card.instruments.bore_gauge.repeatability = um(setting.gauge.stated_um());
    card.instruments.bore_gauge.resolution = um(1.0);
    card.instruments.bore_gauge.repeats = setting.gauge.repeats();
    card.instruments.micrometer.repeatability = Length::ZERO;
    card.instruments.micrometer.resolution = um(0.1);
    card.instruments.micrometer.repeats = 1;
    Ok(card)
}
