//! The modes of a control: what stays in force from block to block.

use crate::program::place::Place;

/// The plane of arcs and cycles.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Plane {
    /// G17.
    Xy,
    /// G18.
    Zx,
    /// G19.
    Yz,
}

/// How F is meant.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum FeedMode {
    /// G93: one over the minutes of a move.
    InverseTime,
    /// G94.
    PerMinute,
    /// G95.
    PerTurn,
}

/// What axis words do.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Motion {
    /// G0.
    Rapid,
    /// G1.
    Feed,
    /// G2 (`true`) and G3.
    Arc(bool),
    /// A canned cycle, by its code in tenths.
    Cycle(u32),
    /// G80: nothing may move.
    None,
}

/// Which way the spindle turns.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Spindle {
    Off,
    Right,
    Left,
}

/// Tool length compensation.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Length {
    /// Not called since the tool change, or G49.
    Off,
    /// G43 with this H.
    Called(u32),
}

/// Cutter compensation.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Side {
    /// G40.
    Off,
    /// G41.
    Left,
    /// G42.
    Right,
}

/// The words of a canned cycle that stay in force.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(super) struct CycleWords {
    pub(super) bottom: Option<f64>,
    pub(super) retract: Option<f64>,
    pub(super) peck: Option<f64>,
    pub(super) dwell: Option<f64>,
}

/// Everything that stays in force.
#[derive(Debug, Clone)]
pub(super) struct Modes {
    pub(super) inch: Option<bool>,
    pub(super) plane: Plane,
    pub(super) incremental: Option<bool>,
    pub(super) register: Option<usize>,
    pub(super) feed_mode: FeedMode,
    pub(super) motion: Motion,
    pub(super) cycle: CycleWords,
    /// The height at which the cycle was called: where G98 goes back to.
    pub(super) initial: Place,
    /// G99: back to R only.
    pub(super) to_retract: bool,
    /// F as written, in the unit in force.
    pub(super) feed: f64,
    pub(super) speed: f64,
    pub(super) spindle: Spindle,
    pub(super) coolant: bool,
    pub(super) length: Length,
    pub(super) tool: Option<u32>,
    pub(super) next_tool: Option<u32>,
    pub(super) side: Side,
}

impl Modes {
    /// What is in force before the first block: nothing that a program should rely on.
    pub(super) const fn at_start() -> Self {
        Self {
            inch: None,
            plane: Plane::Xy,
            incremental: None,
            register: None,
            feed_mode: FeedMode::PerMinute,
            motion: Motion::Feed,
            cycle: CycleWords { bottom: None, retract: None, peck: None, dwell: None },
            initial: Place::Unknown,
            to_retract: false,
            feed: 0.0,
            speed: 0.0,
            spindle: Spindle::Off,
            coolant: false,
            length: Length::Off,
            tool: None,
            next_tool: None,
            side: Side::Off,
        }
    }

    /// Returns whether moves are incremental.
    pub(super) fn is_incremental(&self) -> bool {
        self.incremental == Some(true)
    }
}
