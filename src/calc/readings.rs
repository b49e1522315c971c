//! Readings and what they are worth: touches, repeats, uncertainty, temperature, slips of typing, best fits.

use super::Calculation;

mod repeat_range_limit;
mod repeated_reading;
mod statistics;

/// The calculations of this topic that are built, in the order of the catalogue; those that only steps need come last.
pub(super) static CALCULATIONS: &[&Calculation] = &[&repeat_range_limit::CALCULATION, &repeated_reading::CALCULATION];
