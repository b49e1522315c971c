//! The control: where the axes stand, what its registers hold, what its screen shows; and the tram, which turns A.

use crate::checklist::{Approach, Consultation, FactValue};
use crate::job::{CardUnit, DrawnDirection, Feature, JobCard, Tool};
use crate::shop::Chance;
use crate::shop::whole::truth::Truth;
use crate::shop::whole::{Moment, Shop};

/// Where the axes are parked for the read-back, as a share of travel.
const PARKED: [f64; 3] = [0.42, 0.46, 0.33];
/// Shift common to all registers that somebody left in, millimetres.
const LEFT_IN_MM: f64 = 5.0;
/// Where a spot at axis height would put the Z display when the needle stands on zero, as a share of travel.
const Z_OVER_AXIS: f64 = 0.5;

/// Where the tip stands over the centreline after the air pass, millimetres.
const HIGH_UP_MM: f64 = 100.0;

/// What the control holds.
#[derive(Debug, Clone)]
pub(super) struct Control {
    shown_deg: f64,
    table_deg: f64,
    /// Registers of other jobs: name, X, Y, Z, A.
    others: Vec<(String, [f64; 3], f64)>,
    /// The claimed register once it was written.
    pub(super) written: Option<([f64; 3], f64)>,
    /// Its Z as it stands now.
    pub(super) register_z: f64,
}

impl Control {
    /// Starts a control with the registers of other jobs in it.
    pub(super) fn new(card: &JobCard, truth: &Truth, seed: u64) -> Self {
        let mut chance = Chance::named(seed, "registers");
        let least = card.machine.least_length.mm();
        let mut length = |low: f64, high: f64| (chance.between(low, high) / least).round() * least;
        let others = card
            .register
            .protected
            .iter()
            .map(|name| {
                let lengths =
                    [length(truth.x / 2.0, -30.0), length(truth.y / 2.0, -30.0), length(truth.z / 2.0, -30.0)];
                (name.clone(), lengths, 12.25)
            })
            .collect();
        Self { shown_deg: truth.pickup_a, table_deg: truth.pickup_a, others, written: None, register_z: 0.0 }
    }

    /// Turns A to a number; the table stands off it by the rotary's own error.
    pub(super) const fn turn(&mut self, to_deg: f64, error_deg: f64) {
        self.shown_deg = to_deg;
        self.table_deg = to_deg + error_deg;
    }

    /// Returns where the table really stands.
    pub(super) const fn table_deg(&self) -> f64 {
        self.table_deg
    }

    /// Returns A of the register that is live before the claimed one is called.
    fn live_a(&self) -> f64 {
        self.others.first().map_or(0.0, |(_, _, a)| *a)
    }
}

impl Shop {
    // ----- the tram -----

    pub(super) fn tram(&mut self, at: &Moment<'_>) -> Option<String> {
        let lever = self.card.instruments.lever.clone();
        let (half, brake) = (self.pad_half(at.piece, 0.0), self.pad_half(at.piece, self.truth.brake_deg));
        // From the other side the table stands one play further on.
        let played = self.pad_half(at.piece, self.truth.sense * self.truth.play_deg);
        Some(match at.ask.id {
            "tram.sense" => {
                let reversed = if self.is_planted("turns-the-other-way") { -1.0 } else { 1.0 };
                if self.truth.sense * reversed > 0.0 { "rises" } else { "falls" }.to_owned()
            }
            "tram.ring-gap" => self.ring_gap(at),
            "tram.machine-a" => {
                self.obey(at);
                self.angle(self.control.shown_deg)
            }
            "tram.approach" => at
                .answer
                .machine_move
                .as_ref()
                .and_then(|to| to.approach)
                .map_or("from-below", Approach::word)
                .to_owned(),
            "tram.way" => "z-null".to_owned(),
            "tram.accept" => "accept".to_owned(),
            "tram.rear" => self.z_over_pad(at, half),
            "tram.front" => self.z_over_pad(at, -half),
            "tram.serial" => format!("N-{}", at.piece),
            "tram.play-rear" => self.z_over_pad(at, played),
            "tram.play-front" => self.z_over_pad(at, -played),
            "tram.preload" => self.length(self.card.instruments.lever_travel.mm() / 4.0, lever.resolution),
            "tram.known-jog" => self.read(at, &lever, if self.card.unit == CardUnit::Inch { 0.127 } else { 0.1 }),
            "tram.brake-rear" => self.read(at, &lever, brake),
            "tram.brake-front" => self.read(at, &lever, -brake),
            _ => return None,
        })
    }

    /// Z is jogged down until the needle stands on zero over a pad: what the display then shows.
    fn z_over_pad(&self, at: &Moment<'_>, height: f64) -> String {
        let lever = &self.card.instruments.lever;
        let over_axis = -Z_OVER_AXIS * self.card.machine.travel.last().map_or(0.0, |travel| travel.mm());
        let spread = lever.repeatability.mm().hypot(0.15 * lever.resolution.mm());
        self.on_control(over_axis + height + self.chance(at).normal(spread))
    }

    /// Half of rear less front for a piece, with A where it stands, turned a little further.
    fn pad_half(&self, piece: u32, further_deg: f64) -> f64 {
        let tilt = self.truth.sense * (self.control.table_deg - self.truth.level_of(piece)) + further_deg;
        f64::midpoint(self.card.fixture.pad_span.mm() * tilt.to_radians().tan(), self.card.fixture.pad_step.mm())
    }

    /// Brings A where the workbook says, or to level by eye before the first try.
    fn obey(&mut self, at: &Moment<'_>) {
        let least = self.card.machine.least_angle_deg;
        let wanted = at.answer.machine_move.as_ref().filter(|to| to.axis == "A").map(|to| to.to.value);
        let to = wanted.unwrap_or_else(|| (self.truth.by_eye(at.piece) / least).round() * least);
        let turn = (to - self.control.shown_deg + 180.0).rem_euclid(360.0) - 180.0;
        if turn.abs() < least / 2.0 {
            return;
        }
        self.tries += u32::from(wanted.is_some());
        let error = self.chance(at).normal(self.card.machine.rotary_repeat_deg);
        self.control.turn(self.control.shown_deg + turn, error);
    }

    // ----- the capture -----

    pub(super) fn capture(&mut self, at: &Moment<'_>) -> Option<String> {
        let (shown, live) = (self.control.shown_deg, self.control.live_a());
        let shift = if self.is_planted("common-shift-left-in") { LEFT_IN_MM } else { 0.0 };
        Some(match at.ask.id {
            "capture.registers-before" => self.registers_before(),
            "capture.machine-a" if self.is_planted("displayed-for-machine") => self.angle(shown - live),
            "capture.machine-a" => self.angle(shown),
            "capture.displayed-a" => self.angle(shown - live),
            "capture.live-a" => self.angle(live),
            "capture.registers-after" => {
                self.write(at.answer)?;
                let (lengths, a) = self.control.written?;
                self.register(&self.card.register.name, &lengths, a)
            }
            "capture.work-a" => {
                if at.piece > 1 {
                    self.write(at.answer)?;
                }
                self.angle(shown - self.control.written?.1)
            }
            "capture.tool-length" => self.on_control(self.tool_length()),
            "capture.common-shift" => self.on_control(shift),
            "capture.return-x" => {
                let edge = self.card.instruments.edge_finder.clone();
                self.read(at, &edge, self.x_at_touch() - self.control.written?.0.first()?)
            }
            id => return self.parked(id, shift),
        })
    }

    fn parked(&self, id: &str, shift: f64) -> Option<String> {
        let axis = ["x", "y", "z"].iter().position(|axis| id.ends_with(&format!("-{axis}")))?;
        let least = self.card.machine.least_length.mm();
        let machine = -PARKED.get(axis)? * self.card.machine.travel.get(axis)?.mm();
        let machine = (machine / least).round() * least;
        if id.starts_with("capture.machine-") {
            return Some(self.on_control(machine));
        }
        let length = match axis {
            2 if self.is_planted("length-compensation-off") => shift,
            2 if self.card.machine.display_includes_length => shift + self.tool_length(),
            2 => shift,
            _ => 0.0,
        };
        let lengths = self.control.written?.0;
        id.starts_with("capture.work-")
            .then(|| self.on_control(machine - lengths.get(axis).copied().unwrap_or(0.0) - length))
    }

    fn tool_length(&self) -> f64 {
        let number = self.card.features.first().map_or(0, |feature| feature.tool);
        self.card.tools.iter().find(|tool| tool.number == number).map_or(0.0, |tool| tool.length.mm())
    }

    fn registers_before(&self) -> String {
        let claimed = if self.is_planted("register-in-use") {
            self.register(&self.card.register.name, &[-101.6, -50.8, -76.2], 3.5)
        } else {
            self.register(&self.card.register.name, &[0.0; 3], 0.0)
        };
        let others = self.control.others.iter().map(|(name, lengths, a)| self.register(name, lengths, *a));
        std::iter::once(claimed).chain(others).collect::<Vec<_>>().join("; ")
    }

    fn register(&self, name: &str, [x, y, z]: &[f64; 3], a: f64) -> String {
        let [x, y, z] = [*x, *y, *z].map(|value| self.on_control(value));
        format!("{name} X{x} Y{y} Z{z} A{}", self.angle(a))
    }

    /// Types what the workbook says into the claimed register.
    fn write(&mut self, answer: &Consultation) -> Option<()> {
        let number = |id: &str| {
            answer.hands_on.iter().find(|fact| fact.id == id).and_then(|fact| match fact.value {
                FactValue::Number(number) => Some(number),
                FactValue::Word(_) => None,
            })
        };
        let mut lengths = self.control.written.map_or([0.0; 3], |(lengths, _)| lengths);
        for (slot, id) in lengths.iter_mut().zip(["capture.x", "capture.y", "capture.z"]) {
            *slot = number(id).unwrap_or(*slot);
        }
        let a = answer.findings.iter().find(|finding| finding.id == "tram.a")?.shown.value;
        self.control.written = Some((lengths, a));
        self.control.register_z = lengths[2];
        Some(())
    }

    // ----- the first run, as the screen shows it -----

    pub(super) fn first_run(&mut self, at: &Moment<'_>) -> Option<String> {
        let first = self.card.features.first()?.clone();
        Some(match at.ask.id {
            "run.unit-mode" => {
                let inch = (self.card.unit == CardUnit::Inch) != self.is_planted("wrong-unit-mode");
                if inch { "g20" } else { "g21" }.to_owned()
            }
            "run.distance-mode" => "g90".to_owned(),
            "run.register-call" => self.card.register.name.to_lowercase(),
            "run.length-call" if self.is_planted("wrong-length-called") => (first.tool + 1).to_string(),
            "run.tool-call" | "run.length-call" => first.tool.to_string(),
            "run.plane" => "g17".to_owned(),
            "run.first-a" => {
                let a = at.progress.handed().number_about(Some(1), "index.a-program", &first.id)?;
                self.angle(a)
            }
            "run.z-before-turn" => {
                let swing = at.progress.handed().number("fit.swing")?;
                self.on_control((swing + self.card.machine.swing_margin.mm()) * 1.1)
            }
            "run.tool-length" => self.on_control(self.tool_of(at.ask.round)?.length.mm()),
            "run.tool-diameter" => self.on_control(self.tool_of(at.ask.round)?.diameter.mm()),
            "run.turn-way" => "shortest".to_owned(),
            "run.dots-seen" => self.dots(),
            "run.common-shift" => "0".to_owned(),
            "run.lowered-machine-z" => self.on_control(self.control.register_z + self.tool_length() + HIGH_UP_MM),
            "run.lowered-work-z" => {
                let length = if self.card.machine.display_includes_length { 0.0 } else { self.tool_length() };
                self.on_control(HIGH_UP_MM + length)
            }
            "run.lifted-z" => {
                if let Some(to) = &at.answer.machine_move {
                    self.control.register_z = to.to.unit.to_base(to.to.value);
                }
                self.on_control(self.control.register_z)
            }
            "run.lowered-z" => {
                if !self.is_planted("lift-left-in") {
                    self.control.register_z = self.control.written?.0[2];
                }
                self.on_control(self.control.register_z)
            }
            "run.rapid-dial" => self.card.machine.rapid_dial_percent.first()?.to_string(),
            "run.last-approach" => "feed-move".to_owned(),
            "run.to-go" | "run.machine-z" => return self.at_a_stop(at),
            "run.feed-dial" | "run.spindle-dial" => "100".to_owned(),
            _ => return self.bore(at),
        })
    }

    /// The tools in the order in which the features first need them.
    fn tool_of(&self, round: u32) -> Option<&Tool> {
        let mut numbers: Vec<u32> = Vec::new();
        for feature in &self.card.features {
            if !numbers.contains(&feature.tool) {
                numbers.push(feature.tool);
            }
        }
        let number = numbers.get(usize::try_from(round).ok()?)?;
        self.card.tools.iter().find(|tool| tool.number == *number)
    }

    /// The dots on the part, numbered by the drawing, in the order in which the program brings them up.
    fn dots(&self) -> String {
        let angle = |feature: &Feature| {
            let sense = if feature.drawn_direction == DrawnDirection::Clockwise { -1.0 } else { 1.0 };
            (sense * feature.drawing_angle_deg).rem_euclid(360.0)
        };
        let mut sides: Vec<f64> = self.card.features.iter().map(angle).collect();
        sides.sort_by(f64::total_cmp);
        sides.dedup();
        let number = |feature| sides.iter().position(|side| *side >= angle(feature)).map_or(0, |place| place + 1);
        let mut order: Vec<usize> = self.card.features.iter().map(number).collect();
        order.dedup();
        order.iter().map(usize::to_string).collect::<Vec<_>>().join(" ")
    }

    fn at_a_stop(&self, at: &Moment<'_>) -> Option<String> {
        let first = self.card.features.first()?;
        let (_, height) = self.card.first_run.stops.get(usize::try_from(at.ask.round).ok()?)?;
        let least = self.card.machine.least_length.mm();
        let surface = at.progress.handed().number_about(Some(1), "index.z-program", &first.id)?;
        let now = (surface / least).round() * least + height.mm();
        if at.ask.id == "run.to-go" {
            return Some(self.on_control(-height.mm() - first.tip_depth.mm()));
        }
        Some(self.on_control(now + self.control.register_z + self.tool_length()))
    }
}
