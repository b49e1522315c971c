//! The operator: answers every ask from the truth, and makes at most one slip.

use crate::checklist::{Ask, AskKind, Consultation, Window};
use crate::job::XMethod;
use crate::shop::Chance;
use crate::shop::pickup::slips::{self, PickupSlip, TENTH_MM};
use crate::shop::pickup::truth::{Face, PICKUP_A_DEG, Truth, rounded};
use crate::shop::pickup::{PickupSetting, SlipOn};

/// What the register that is live before the capture holds on A, degrees.
const LIVE_A_DEG: f64 = 12.25;
/// Length of the tool that is in at the capture, millimetres.
const TOOL_MM: f64 = 107.588;
/// Machine position at which the display is read back.
const READ_AT: [f64; 3] = [-252.405, -170.25, -150.0];

/// What the control holds once it was written.
#[derive(Debug, Clone, Copy)]
struct Control {
    lengths: [f64; 3],
    angle: f64,
    wanted_angle: f64,
}

/// The operator of one pickup.
pub(super) struct Operator {
    /// What is true.
    pub(super) truth: Truth,
    slip: Option<(PickupSlip, SlipOn)>,
    /// Face and visit on which a slip of touching falls, and which repeat.
    falls_on: (Face, u32, u32),
    pick: f64,
    chip: f64,
    sign: f64,
    axis: usize,
    inches: bool,
    /// How much the datum moves with the mean of one face.
    weight: f64,
    radius_matters: bool,
    injected: f64,
    control: Option<Control>,
    chance: Chance,
}

impl Operator {
    /// Gives an operator a truth and perhaps a slip.
    pub(super) fn new(
        truth: Truth,
        setting: &PickupSetting,
        slip: Option<(PickupSlip, SlipOn)>,
        mut chance: Chance,
    ) -> Self {
        let on_x = slip.is_some_and(|(_, on)| on == SlipOn::X);
        let face = match (on_x, chance.happens(0.5)) {
            (true, _) => Face::Back,
            (false, true) => Face::Front,
            (false, false) => Face::Rear,
        };
        let visit = u32::from(!on_x && chance.happens(0.5));
        let (first, pick, chip, sign) = (chance.share(), chance.share(), slips::chip(&mut chance), chance.sign());
        let axis = usize::from(!on_x);
        let repeat = if first < 0.5 { 1 } else { 2 };
        let falls_on = (face, visit, repeat);
        Self {
            truth,
            slip,
            falls_on,
            pick,
            chip,
            sign,
            axis,
            inches: setting.inches,
            weight: match (on_x, setting.x) {
                (true, XMethod::TwoFaces) => 0.5,
                (true, _) => 1.0,
                (false, _) => 0.5 / f64::from(setting.angles),
            },
            radius_matters: on_x && setting.x != XMethod::TwoFaces,
            injected: 0.0,
            control: None,
            chance,
        }
    }

    /// Returns X, Y and Z that the control holds, once it was written.
    pub(super) fn control(&self) -> Option<[f64; 3]> {
        self.control.map(|control| control.lengths)
    }

    /// Returns how far A in the control is off, degrees.
    pub(super) fn register_a_error(&self) -> Option<f64> {
        self.control.map(|control| control.angle - control.wanted_angle)
    }

    /// Returns by how much the slip would put the register wrong, millimetres or degrees.
    pub(super) fn injected(&self) -> f64 {
        self.injected
    }

    fn inject(&mut self, shift: f64) {
        self.injected = self.injected.max(shift.abs());
    }

    fn has(&self, slip: PickupSlip) -> bool {
        self.slip.is_some_and(|(own, _)| own == slip)
    }

    /// Answers an ask as it would be typed.
    pub(super) fn answer(&mut self, ask: &Ask, answer: &Consultation) -> Result<String, String> {
        if let Some(text) = self.pickup(ask, answer) {
            return Ok(text);
        }
        if let Some(text) = self.capture(ask, answer) {
            return Ok(text);
        }
        match ask.kind {
            AskKind::YesNo => Ok("yes".to_owned()),
            AskKind::Choice => word(ask).ok_or_else(|| format!("no word for {}", ask.id)),
            AskKind::Angle => Ok(middle_of(ask.expected).unwrap_or(PICKUP_A_DEG).to_string()),
            AskKind::Length if ask.id == "tram.known-jog" => Ok("0.1 mm".to_owned()),
            AskKind::Length => Ok("0".to_owned()),
            AskKind::Text => Ok("SN-1".to_owned()),
            _ => Err(format!("the operator cannot answer {}", ask.id)),
        }
    }

    fn pickup(&mut self, ask: &Ask, answer: &Consultation) -> Option<String> {
        match ask.id {
            "pickup.machine-a" => Some(PICKUP_A_DEG.to_string()),
            "pickup.tip-radius" => {
                let diameter = self.has(PickupSlip::DiameterForRadius);
                if diameter && self.radius_matters {
                    self.inject(3.0);
                }
                Some(self.length(if diameter { 6.0 } else { 3.0 }, None))
            }
            "pickup.touch-height" => Some(format!("{}", self.truth.touch_height)),
            "pickup.x-side" => Some("minus-side".to_owned()),
            "pickup.x" => Some(self.touch(Face::Back, ask)),
            "pickup.x-opposite" => Some(self.touch(Face::Opposite, ask)),
            "pickup.y-front" => Some(self.touch(Face::Front, ask)),
            "pickup.y-back" => Some(self.touch(Face::Rear, ask)),
            "pickup.tip-clear" => {
                if let Some(to) = answer.machine_move.as_ref().filter(|to| to.axis == "A") {
                    let turned = (to.to.value - PICKUP_A_DEG).rem_euclid(360.0);
                    self.truth.turn_to((turned * 1e6).round() / 1e6, &mut self.chance);
                }
                Some("yes".to_owned())
            }
            "pickup.edge-rear" => {
                if ask.repeat == 1 {
                    self.truth.turn_back(&mut self.chance);
                }
                let shown = self.truth.edge(true, &mut self.chance);
                Some(format!("{shown:.4}"))
            }
            "pickup.edge-front" => Some(format!("{:.4}", self.truth.edge(false, &mut self.chance))),
            "pickup.setter-touch" => {
                let shown = self.truth.setter((ask.id, ask.round), &mut self.chance);
                Some(self.length(shown, None))
            }
            "pickup.z-top" => Some(self.plain(Truth::top)),
            "pickup.y-turn-plus" => Some(self.plain(|truth, chance| truth.quarter(true, chance))),
            "pickup.y-turn-minus" => Some(self.plain(|truth, chance| truth.quarter(false, chance))),
            _ => None,
        }
    }

    fn plain(&mut self, read: impl FnOnce(&mut Truth, &mut Chance) -> f64) -> String {
        let shown = read(&mut self.truth, &mut self.chance);
        self.length(shown, None)
    }

    /// Touches a face and types what the display shows, with the slip where it falls.
    fn touch(&mut self, face: Face, ask: &Ask) -> String {
        let slip = self.slip_here(face, ask);
        let chip = match slip {
            Some(PickupSlip::ChipOnce | PickupSlip::ChipStays) => self.chip,
            _ => 0.0,
        };
        let shown = self.truth.touch(face, (ask.id, ask.round), chip, &mut self.chance);
        let moved = match slip {
            Some(PickupSlip::TenthOnce | PickupSlip::TenthOnFace) => shown + self.sign * TENTH_MM,
            Some(PickupSlip::RadiusTakenOff) => {
                shown + if matches!(face, Face::Back | Face::Front) { 3.0 } else { -3.0 }
            }
            _ => shown,
        };
        let typed = self.length(moved, slip);
        if let Some(slip) = slip {
            let share = if slip.is_once() { self.weight / f64::from(ask.of) } else { self.weight };
            let clean = shown - if is_pushed_down(face) { -chip } else { chip };
            self.inject((meant(&typed) - clean) * share);
        }
        typed
    }

    fn slip_here(&self, face: Face, ask: &Ask) -> Option<PickupSlip> {
        let (slip, _) = self.slip?;
        let (on_face, visit, repeat) = self.falls_on;
        let here = slip.is_on_touches() && face == on_face && ask.round == visit;
        let this_one = !slip.is_once() || ask.repeat == repeat.min(ask.of);
        (here && this_one).then_some(slip)
    }

    /// Types a length in the unit of the display.
    fn length(&self, mm: f64, slip: Option<PickupSlip>) -> String {
        let number = if self.inches { format!("{:.4}", mm / 25.4) } else { format!("{mm:.3}") };
        let number = match slip {
            Some(PickupSlip::DigitsOnce | PickupSlip::DigitsOnFace) => slips::digits_swapped(&number, self.pick),
            _ => number,
        };
        let wrong_unit = matches!(slip, Some(PickupSlip::UnitOnce | PickupSlip::UnitOnFace));
        match (self.inches, wrong_unit) {
            (true, false) | (false, true) => format!("{number} in"),
            (true, true) | (false, false) => format!("{number} mm"),
        }
    }

    fn capture(&mut self, ask: &Ask, answer: &Consultation) -> Option<String> {
        let machine_a = rounded(PICKUP_A_DEG, 0.001);
        match ask.id {
            "capture.registers-before" => Some(format!("G56 X0 Y0 Z0 A0; G54 X-250 Y-150 Z-300 A{LIVE_A_DEG}")),
            "capture.machine-a" if self.has(PickupSlip::DisplayedAngle) => {
                self.inject(LIVE_A_DEG);
                Some(format!("{:.3}", machine_a - LIVE_A_DEG))
            }
            "capture.machine-a" => Some(format!("{machine_a:.3}")),
            "capture.displayed-a" => Some(format!("{:.3}", machine_a - LIVE_A_DEG)),
            "capture.live-a" => Some(LIVE_A_DEG.to_string()),
            "capture.registers-after" => {
                self.write(answer, machine_a);
                let control = self.control?;
                let [x, y, z] = control.lengths;
                Some(format!("G56 X{x:.3} Y{y:.3} Z{z:.3} A{:.3}", control.angle))
            }
            "capture.work-a" => Some(format!("{:.3}", machine_a - self.control?.angle)),
            "capture.tool-length" => Some(TOOL_MM.to_string()),
            "capture.common-shift" => Some("0".to_owned()),
            "capture.return-x" => self.return_touch(),
            _ => self.read_back(ask.id),
        }
    }

    fn read_back(&self, id: &str) -> Option<String> {
        let axis = ["x", "y", "z"].iter().position(|axis| id.ends_with(&format!("-{axis}")))?;
        let at = *READ_AT.get(axis)?;
        if id.starts_with("capture.machine-") {
            return Some(format!("{at:.3}"));
        }
        let length = if axis == 2 { TOOL_MM } else { 0.0 };
        id.starts_with("capture.work-").then_some(())?;
        Some(format!("{:.3}", at - self.control?.lengths.get(axis)? - length))
    }

    /// The face is wiped first, so a chip is gone; the display is in work coordinates.
    fn return_touch(&mut self) -> Option<String> {
        let shown = self.truth.touch(Face::Back, ("capture.return-x", 0), 0.0, &mut self.chance);
        let work = shown - self.control?.lengths.first()?;
        Some(self.length(work, None))
    }

    /// Types what the workbook says into the control.
    fn write(&mut self, answer: &Consultation, machine_a: f64) {
        let mut lengths = [0.0; 3];
        for (slot, id) in lengths.iter_mut().zip(["capture.x", "capture.y", "capture.z"]) {
            let fact = answer.hands_on.iter().find(|fact| fact.id == id);
            if let Some(crate::checklist::FactValue::Number(number)) = fact.map(|fact| &fact.value) {
                *slot = *number;
            }
        }
        let told_lengths = lengths;
        let told = answer.findings.iter().find(|finding| finding.id == "tram.a").map(|finding| finding.shown.value);
        let (pick, sign) = (self.pick, self.sign);
        if let Some(slot) = lengths.get_mut(self.axis) {
            match self.slip {
                Some((PickupSlip::RegisterTenth, _)) => *slot += sign * TENTH_MM,
                Some((PickupSlip::RegisterDigits, _)) => {
                    *slot = slips::digits_swapped(&format!("{slot:.3}"), pick).parse().unwrap_or(*slot);
                }
                _ => {}
            }
        }
        for (written, told) in lengths.iter().zip(told_lengths) {
            self.inject(written - told);
        }
        self.control = Some(Control { lengths, angle: told.unwrap_or(machine_a), wanted_angle: machine_a });
    }
}

/// Tells whether a chip on a face makes the spindle stop at a smaller number.
const fn is_pushed_down(face: Face) -> bool {
    matches!(face, Face::Back | Face::Front)
}

/// A word that an operator with a level part and the machine of the practice card would say.
fn word(ask: &Ask) -> Option<String> {
    const LIKELY: [&str; 5] = ["accept", "falls", "from-below", "as-on-card", "plus-x"];
    let likely = LIKELY.iter().find(|likely| ask.choices.contains(likely));
    likely.or_else(|| ask.choices.first()).map(|word| (*word).to_owned())
}

/// The middle of a window that says where a number must lie within a degree.
fn middle_of(window: Option<Window>) -> Option<f64> {
    window.filter(|window| window.high - window.low < 1.0).map(|window| f64::midpoint(window.low, window.high))
}

/// Reads a length as it was typed, millimetres.
fn meant(typed: &str) -> f64 {
    let mut words = typed.split_whitespace();
    let number: f64 = words.next().and_then(|number| number.parse().ok()).unwrap_or(f64::NAN);
    if words.next() == Some("in") { number * 25.4 } else { number }
}
