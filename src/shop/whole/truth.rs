//! What is true of machine, fixture and instruments, and what nobody at the machine knows.

use crate::job::{JobCard, WorkTurns};
use crate::quantity::Length;
use crate::shop::Chance;

/// Fixture roll at the pickup, and how far a part is clocked by hand in its ring (one standard deviation), degrees.
const ROLL_DEG: f64 = 0.25;
const CLOCKING_DEG: f64 = 0.25;
/// How well a part is levelled by eye before the first try, degrees.
const BY_EYE_DEG: f64 = 0.2;
/// Turn of the part when the brake goes on, degrees.
const BRAKE_DEG: f64 = 0.001;
/// Most play of the rotary, degrees.
const PLAY_DEG: f64 = 0.02;
/// Slope of the rotary axis against the table, one standard deviation.
const SLOPE: f64 = 0.000_04;

/// The hidden truth of a setup. Lengths in millimetres, angles in degrees.
#[derive(Debug, Clone)]
pub(super) struct Truth {
    seed: u64,
    /// +1 when the work turns right-handed about +X for A plus.
    pub(super) sense: f64,
    /// Machine X of the back face.
    pub(super) x: f64,
    /// Machine Y of the rotary axis.
    pub(super) y: f64,
    /// Z register that puts zero on the axis.
    pub(super) z: f64,
    /// Height of the axis over the table.
    pub(super) centre_height: f64,
    /// Radius of the edge finder's tip.
    pub(super) tip: f64,
    /// Machine A at which the fixture itself is level.
    pub(super) level_a: f64,
    /// Machine A of the pickup.
    pub(super) pickup_a: f64,
    /// The fixture off the axis, Y and Z, where it is level.
    pub(super) off_centre: (f64, f64),
    /// Half of its width and of its height.
    pub(super) half: (f64, f64),
    /// Slope of the axis, Y and Z.
    pub(super) slope: (f64, f64),
    /// Slope of the bar, Y and Z.
    pub(super) bar: (f64, f64),
    /// Play of the rotary.
    pub(super) play_deg: f64,
    /// What the brake turns.
    pub(super) brake_deg: f64,
    /// How much a drilled hole is off along and across.
    pub(super) positioning: f64,
}

impl Truth {
    /// Draws a truth around what the card says.
    pub(super) fn draw(card: &JobCard, seed: u64) -> Self {
        let mut chance = Chance::named(seed, "truth");
        let (machine, fixture) = (&card.machine, &card.fixture);
        let [travel_x, travel_y, travel_z] = machine.travel.map(Length::mm);
        let sense = match machine.work_turns {
            Some(WorkTurns::RightHand) => 1.0,
            Some(WorkTurns::LeftHand) => -1.0,
            None => chance.sign(),
        };
        let level_a = chance.between(20.0, 340.0);
        let least = machine.least_angle_deg;
        let pickup_a = ((level_a + chance.normal(ROLL_DEG)) / least).round() * least;
        let off = fixture.off_centre_tolerance.mm() / 4.0;
        let expected = fixture.off_centre_expected;
        Self {
            seed,
            sense,
            x: -travel_x * chance.between(0.48, 0.54),
            y: -travel_y * chance.between(0.44, 0.5),
            z: -travel_z * chance.between(0.80, 0.84),
            centre_height: machine.centre_height.mm() + chance.normal(machine.centre_height_uncertainty.mm()),
            tip: card.instruments.tip_radius.mm() + chance.normal(card.instruments.tip_radius_uncertainty.mm()),
            level_a,
            pickup_a,
            off_centre: (expected.0.mm() + chance.normal(off), expected.1.mm() + chance.normal(off)),
            half: (
                fixture.width.mm() / 2.0 + chance.normal(fixture.width_tolerance.mm() / 10.0),
                fixture.half_height.mm() + chance.normal(0.000_5),
            ),
            slope: (chance.normal(SLOPE), chance.normal(SLOPE)),
            bar: (chance.normal(SLOPE), chance.normal(SLOPE)),
            brake_deg: chance.normal(BRAKE_DEG),
            play_deg: chance.between(0.0, PLAY_DEG),
            positioning: card.budget.positioning.mm(),
        }
    }

    /// Returns the machine A at which a piece is level: each is clocked by hand against the fixture.
    pub(super) fn level_of(&self, piece: u32) -> f64 {
        let clocking = Chance::named(self.seed, &format!("clocking/{piece}")).normal(CLOCKING_DEG);
        self.level_a - self.sense * clocking
    }

    /// Returns the machine A to which a piece is brought by eye before the first try.
    pub(super) fn by_eye(&self, piece: u32) -> f64 {
        self.level_of(piece) + Chance::named(self.seed, &format!("by-eye/{piece}")).normal(BY_EYE_DEG)
    }

    /// Returns how far the fixture is rolled at a machine A, radians.
    pub(super) fn fixture_roll(&self, machine_a: f64) -> f64 {
        (self.sense * (machine_a - self.level_a)).to_radians()
    }
}
