//! Cutting: drilling loads, speeds, depths, pecks, bending of the tool.

use super::Calculation;

mod drill_loads;
mod entry_slope;
mod peck_schedule;
mod spindle_power_available;
mod spindle_speed;

/// The calculations of this topic, in the order of the catalogue; those that only steps need come last.
pub(super) static CALCULATIONS: &[&Calculation] = &[
    &drill_loads::CALCULATION,
    &spindle_speed::CALCULATION,
    &spindle_power_available::CALCULATION,
    &entry_slope::CALCULATION,
    &peck_schedule::CALCULATION,
];
