//! The hidden truth of a pickup: where axis and faces stand, the tip, the scatter, and what a touch shows.

use std::collections::HashMap;

use crate::job::{JobCard, TipSide, TopFaces, WorkTurns};
use crate::shop::Chance;
use crate::shop::pickup::PickupSetting;

/// Distance along X from the back face to the opposite one, as the card has it.
pub(super) const LENGTH_MM: f64 = 70.0;
/// Off-centre of the fixture scatters by this about what the card expects.
const OFF_CENTRE_MM: f64 = 0.05;
/// Where the rotary stands at the pickup, degrees.
pub(super) const PICKUP_A_DEG: f64 = 37.595;

/// One face of the fixture that can be touched.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(super) enum Face {
    /// The back face, along X.
    Back,
    /// The face opposite to it.
    Opposite,
    /// The face towards the person.
    Front,
    /// The face away from the person.
    Rear,
}

/// Everything that nobody at the machine knows.
#[derive(Debug, Clone)]
pub(super) struct Truth {
    /// Machine X of the back face.
    pub(super) x: f64,
    /// Machine Y of the axis.
    pub(super) y: f64,
    /// Register Z of the axis.
    pub(super) z: f64,
    off_centre: (f64, f64),
    width: f64,
    height: f64,
    length: f64,
    tip: f64,
    roll_deg: f64,
    scatter: f64,
    step: f64,
    machine: f64,
    lever: (f64, f64),
    reference: f64,
    setter: f64,
    /// Height over the axis at which the side faces are touched.
    pub(super) touch_height: f64,
    edge_span: f64,
    back_is_low: bool,
    tip_on_minus: bool,
    turns: f64,
    centre_height: f64,
    table: f64,
    repeat_deg: f64,
    mixed_play_deg: f64,
    /// Turn away from the pickup's own angle, degrees, with the rotary's own error in it.
    turned_deg: f64,
    rotary_error_deg: f64,
    turns_made: u32,
    places: HashMap<(String, u32), f64>,
}

impl Truth {
    /// Draws a truth that the card's uncertainties describe.
    pub(super) fn draw(setting: &PickupSetting, card: &JobCard, chance: &mut Chance) -> Self {
        let fixture = &card.fixture;
        let centre_height =
            card.machine.centre_height.mm() + chance.normal(card.machine.centre_height_uncertainty.mm());
        let table = -560.0 + chance.between(0.0, 40.0);
        let expected = (fixture.off_centre_expected.0.mm(), fixture.off_centre_expected.1.mm());
        let repeat_deg = card.machine.rotary_repeat_deg;
        Self {
            x: -chance.between(250.0, 350.0),
            y: -chance.between(150.0, 220.0),
            z: table + centre_height,
            off_centre: (expected.0 + chance.normal(OFF_CENTRE_MM), expected.1 + chance.normal(OFF_CENTRE_MM)),
            width: fixture.width.mm() + chance.normal(setting.width_mm),
            height: fixture.height.mm() + chance.normal(setting.width_mm),
            length: LENGTH_MM + chance.normal(setting.width_mm),
            tip: card.instruments.tip_radius.mm() + chance.normal(setting.tip_mm),
            roll_deg: chance.normal(0.3),
            scatter: chance.between(setting.scatter_mm.0, setting.scatter_mm.1),
            step: setting.step_mm,
            machine: setting.machine_mm,
            lever: (card.instruments.lever.repeatability.mm(), card.instruments.lever.resolution.mm()),
            reference: card.instruments.reference_tool_length.mm(),
            setter: card.instruments.setter_height.mm(),
            touch_height: setting.height_mm,
            edge_span: fixture.edge_span.mm(),
            back_is_low: card.machine.top_faces == TopFaces::PlusX,
            tip_on_minus: fixture.back_face_side == TipSide::Minus,
            turns: if card.machine.work_turns == Some(WorkTurns::LeftHand) { -1.0 } else { 1.0 },
            centre_height,
            table,
            repeat_deg,
            mixed_play_deg: setting.mixed_play_deg,
            turned_deg: 0.0,
            rotary_error_deg: chance.normal(repeat_deg),
            turns_made: 0,
            places: HashMap::new(),
        }
    }

    /// Returns X, Y and Z as the register should hold them.
    pub(super) fn datums(&self) -> [f64; 3] {
        [self.x, self.y, self.z]
    }

    /// Turns the rotary; every second turn of a mixed approach has the play in it.
    pub(super) fn turn_to(&mut self, turned_deg: f64, chance: &mut Chance) {
        self.turned_deg = turned_deg;
        self.turns_made += 1;
        let play = if self.turns_made % 2 == 1 { self.mixed_play_deg } else { 0.0 };
        self.rotary_error_deg = chance.normal(self.repeat_deg) + play;
    }

    /// Returns where the spindle truly stands at a touch on a face.
    fn spindle_at(&self, face: Face) -> f64 {
        let far = if self.back_is_low { self.x + self.length } else { self.x - self.length };
        let outward = |is_low: bool| if is_low { -self.tip } else { self.tip };
        match face {
            Face::Back => self.x + outward(self.tip_on_minus),
            Face::Opposite => far + outward(!self.back_is_low),
            Face::Front | Face::Rear => {
                let lean = (self.roll_deg + self.turns * self.rotary_error_deg).to_radians();
                let (sine, cosine) = (self.turns * self.turned_deg).to_radians().sin_cos();
                let middle =
                    self.y + self.off_centre.0 * cosine - self.off_centre.1 * sine - self.touch_height * lean.tan();
                let quarter = (self.turned_deg.rem_euclid(180.0) - 90.0).abs() < 1e-6;
                let half = if quarter { self.height } else { self.width } / 2.0 / lean.cos() + self.tip;
                if face == Face::Front { middle - half } else { middle + half }
            }
        }
    }

    /// Touches a face: what the display shows, before anything is typed.
    pub(super) fn touch(&mut self, face: Face, visit: (&str, u32), chip: f64, chance: &mut Chance) -> f64 {
        let pushed_out = match face {
            Face::Back => self.tip_on_minus,
            Face::Opposite => !self.back_is_low,
            Face::Front => true,
            Face::Rear => false,
        };
        let chip = if pushed_out { -chip } else { chip };
        let place = self.place(visit, chance);
        rounded(self.spindle_at(face) + place + chip + chance.normal(self.scatter), self.step)
    }

    /// Reads the setter on the table.
    pub(super) fn setter(&mut self, visit: (&str, u32), chance: &mut Chance) -> f64 {
        let place = self.place(visit, chance);
        rounded(self.table + self.setter + self.reference + place + chance.normal(self.scatter), self.step)
    }

    /// Returns the machine's own error at a touched place, the same for every touch of one visit.
    fn place(&mut self, (id, round): (&str, u32), chance: &mut Chance) -> f64 {
        let machine = self.machine;
        *self.places.entry((id.to_owned(), round)).or_insert_with(|| chance.normal(machine))
    }

    /// Touches the top face with the fixture level; Z of the tip.
    pub(super) fn top(&mut self, chance: &mut Chance) -> f64 {
        let place = self.place(("top", 0), chance);
        rounded(
            self.table
                + self.centre_height
                + self.off_centre.1
                + self.height / 2.0
                + place
                + chance.normal(self.scatter),
            self.step,
        )
    }

    /// Touches that face again, looking to the rear or to the front.
    pub(super) fn quarter(&mut self, rear: bool, chance: &mut Chance) -> f64 {
        let place = self.place(("quarter", u32::from(rear)), chance);
        let out = self.off_centre.1 + self.height / 2.0 + self.tip;
        rounded(self.y + if rear { out } else { -out } + place + chance.normal(self.scatter), self.step)
    }

    /// Reads the fixture's own edge, back at the pickup's angle.
    pub(super) fn edge(&self, rear: bool, chance: &mut Chance) -> f64 {
        let lean = (self.roll_deg + self.turns * self.rotary_error_deg).to_radians();
        let height = self.edge_span / 2.0 * lean.tan();
        rounded(if rear { height } else { -height } + chance.normal(self.lever.0), self.lever.1)
    }

    /// Turns back to the pickup's angle for the edge.
    pub(super) fn turn_back(&mut self, chance: &mut Chance) {
        self.turned_deg = 0.0;
        self.rotary_error_deg = chance.normal(self.repeat_deg);
    }
}

/// Rounds to a step of the display.
pub(super) fn rounded(value: f64, step: f64) -> f64 {
    (value / step).round() * step
}
