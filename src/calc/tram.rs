//! Levelling (tramming) two pads with the rotary: the move, whether it answered, and how good is good enough.

use super::Calculation;

mod angle_error_at_radius;
mod brake_shift;
mod least_increment_rounding;
mod level_line;
mod level_now;
mod next_index;
mod next_step;
mod pad_difference_uncertainty;
mod reading_noise;
mod rotary_play;
mod tram_budget;
mod tram_capability;
mod tram_correction;
mod tram_fit;
mod tram_gain;
mod tram_next_move;
mod tram_resolution;
mod tram_tolerance;
#[cfg(test)]
mod trials;

/// The calculations of this topic, in the order of the catalogue; those that only steps need come last.
pub(super) static CALCULATIONS: &[&Calculation] = &[
    &tram_correction::CALCULATION,
    &tram_gain::CALCULATION,
    &least_increment_rounding::CALCULATION,
    &brake_shift::CALCULATION,
    &tram_tolerance::CALCULATION,
    &angle_error_at_radius::CALCULATION,
    &tram_resolution::CALCULATION,
    &next_index::CALCULATION,
    &pad_difference_uncertainty::CALCULATION,
    &rotary_play::CALCULATION,
    &tram_budget::CALCULATION,
    &tram_capability::CALCULATION,
    &tram_fit::CALCULATION,
    &tram_next_move::CALCULATION,
];
