//! Cutting: drilling loads, speeds, depths, pecks, bending of the tool.

use super::Calculation;

mod cross_bore_breakout;
mod drill_loads;
mod drill_point;
mod entry_slope;
mod peck_schedule;
mod round_surface;
mod spindle_power_available;
mod spindle_speed;
mod spot_depth;
mod through_hole_depth;
mod tool_deflection;
pub(super) mod tooth_engagement;

/// The calculations of this topic, in the order of the catalogue.
pub(super) static CALCULATIONS: &[&Calculation] = &[
    &drill_loads::CALCULATION,
    &spindle_speed::CALCULATION,
    &spindle_power_available::CALCULATION,
    &through_hole_depth::CALCULATION,
    &spot_depth::CALCULATION,
    &entry_slope::CALCULATION,
    &cross_bore_breakout::CALCULATION,
    &peck_schedule::CALCULATION,
    &tool_deflection::CALCULATION,
];
