//! What a program is compared with: the job card, and what a session has measured.

use crate::job::{JobCard, WorkTurns};

/// The setup that a program is walked against.
#[derive(Debug, Clone)]
pub struct Setup<'a> {
    /// The job card.
    pub card: &'a JobCard,
    /// What a session has found at the machine; `None` when only the card is known.
    pub found: Option<Found>,
}

/// What a session has found at the machine. Lengths in millimetres, angles in degrees.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Found {
    /// X, Y and Z of the claimed register as written.
    pub register: Option<[f64; 3]>,
    /// A of the claimed register as written.
    pub register_a: Option<f64>,
    /// The turning sense as tested.
    pub work_turns: Option<WorkTurns>,
    /// Off-centre of the fixture at the part's zero, Y and Z.
    pub off_centre: Option<(f64, f64)>,
    /// Slope of the rotary axis in Y and Z.
    pub axis_slope: (f64, f64),
    /// Largest radius that swings.
    pub swing: Option<f64>,
    /// Tool lengths read off the screen, by tool number; the card's hold for the others.
    pub lengths: Vec<(u32, f64)>,
}

impl<'a> Setup<'a> {
    /// Compares with a card alone: machine coordinates stay unknown.
    pub const fn of_card(card: &'a JobCard) -> Self {
        Self { card, found: None }
    }

    /// Returns the claimed register as written: X, Y, Z and A.
    pub fn register(&self) -> Option<[f64; 4]> {
        let found = self.found.as_ref()?;
        let ([x, y, z], a) = (found.register?, found.register_a?);
        Some([x, y, z, a])
    }

    /// Returns the turning sense: tested, or else the card's; `None` when neither is known.
    pub fn work_turns(&self) -> Option<WorkTurns> {
        self.found.as_ref().and_then(|found| found.work_turns).or(self.card.machine.work_turns)
    }

    /// Returns the off-centre at the part's zero: measured, or else what the card expects from last time.
    pub fn off_centre(&self) -> (f64, f64) {
        let (y, z) = self.card.fixture.off_centre_expected;
        self.found.as_ref().and_then(|found| found.off_centre).unwrap_or((y.mm(), z.mm()))
    }

    /// Returns the length of a tool: read off the screen, or else the card's.
    pub fn length(&self, tool: u32) -> Option<f64> {
        let read = self.found.as_ref().and_then(|found| found.lengths.iter().rev().find(|(number, _)| *number == tool));
        let on_card = || self.card.tools.iter().find(|known| known.number == tool).map(|known| known.length.mm());
        read.map(|(_, length)| *length).or_else(on_card)
    }
}
