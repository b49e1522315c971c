//! The batch: drift, charts, coolant, times, tool life.

use super::Calculation;

mod batch_time;
mod bore_drift;
mod coolant_top_up;
mod drill_cycle_time;
mod ewma_chart;
mod pieces_to_start;
mod tool_life_pieces;

/// The calculations of this topic, in the order of the catalogue.
pub(super) static CALCULATIONS: &[&Calculation] = &[
    &bore_drift::CALCULATION,
    &ewma_chart::CALCULATION,
    &pieces_to_start::CALCULATION,
    &coolant_top_up::CALCULATION,
    &drill_cycle_time::CALCULATION,
    &batch_time::CALCULATION,
    &tool_life_pieces::CALCULATION,
];
