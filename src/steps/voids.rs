//! What makes which results void (job map 1D, shop-sense 18).

use crate::checklist::Happening::{
    self, Bump, DrillBroken, EmergencyStop, FixtureOff, LongPause, PartSlipped, PieceChanged, PieceReloaded, PowerCut,
    ProgramEdited, ReHome, RegisterEdited, RotaryMoved, ShiftHandover, TemperatureChanged, ToolTouched,
};

/// Nothing makes it void.
pub(super) static NOTHING: &[Happening] = &[];
/// The seat of the fixture on its jaws.
pub(super) static SEAT: &[Happening] = &[FixtureOff, Bump];
/// What swings and what stands.
pub(super) static SWING: &[Happening] = &[FixtureOff, Bump, RotaryMoved];
/// X, the centreline and the off-centre.
pub(super) static PLACE: &[Happening] = &[FixtureOff, Bump, RotaryMoved];
/// The turning sense.
pub(super) static SENSE: &[Happening] = &[RotaryMoved];
/// How the part sits in the ring.
pub(super) static LOADED: &[Happening] = &[PieceReloaded, PartSlipped, FixtureOff, Bump];
/// A piece that was checked.
pub(super) static CHECKED: &[Happening] = &[PieceReloaded, PartSlipped, FixtureOff, Bump, DrillBroken];
/// The rotary zero.
pub(super) static ZERO: &[Happening] =
    &[PowerCut, EmergencyStop, ReHome, Bump, RotaryMoved, FixtureOff, PieceChanged, PieceReloaded, PartSlipped];
/// Register read-backs.
pub(super) static REGISTERS: &[Happening] = &[
    PowerCut,
    EmergencyStop,
    ReHome,
    Bump,
    RotaryMoved,
    FixtureOff,
    PieceChanged,
    PieceReloaded,
    PartSlipped,
    RegisterEdited,
    ShiftHandover,
];
/// Modes, program and tool read-backs of the first run.
pub(super) static MODES: &[Happening] = &[PowerCut, EmergencyStop, ReHome, Bump, ProgramEdited, ShiftHandover];
/// The air pass and the staged approach.
pub(super) static PROVEN: &[Happening] = &[Bump, ProgramEdited, RegisterEdited];
/// The tool length.
pub(super) static TOOL: &[Happening] = &[ToolTouched, DrillBroken, Bump];
/// What asks for a check touch on X, Y and Z.
pub(super) static CHECK_TOUCH: &[Happening] =
    &[PowerCut, EmergencyStop, ReHome, TemperatureChanged, LongPause, ShiftHandover];
/// What shakes the pickup.
pub(super) static PICKUP: &[Happening] =
    &[PowerCut, EmergencyStop, ReHome, TemperatureChanged, LongPause, ShiftHandover, FixtureOff, Bump, RotaryMoved];
/// What shakes the first run.
pub(super) static RUN: &[Happening] =
    &[PowerCut, EmergencyStop, ReHome, Bump, ProgramEdited, ShiftHandover, RegisterEdited, ToolTouched, DrillBroken];
