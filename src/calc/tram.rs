//! Levelling (tramming) two pads with the rotary: the move, whether it answered, and how good is good enough.

use super::Calculation;

mod next_index;
mod pad_difference_uncertainty;
mod tram_resolution;

/// The calculations of this topic that are built, in the order of the catalogue; those that only steps need come last.
pub(super) static CALCULATIONS: &[&Calculation] =
    &[&tram_resolution::CALCULATION, &next_index::CALCULATION, &pad_difference_uncertainty::CALCULATION];
