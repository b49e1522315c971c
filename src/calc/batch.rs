//! The batch: drift, charts, coolant, times, tool life.

use super::Calculation;

mod bore_drift;

/// The calculations of this topic, in the order of the catalogue; those that only steps need come last.
pub(super) static CALCULATIONS: &[&Calculation] = &[&bore_drift::CALCULATION];
