//! The first article and what to correct after it.

use super::Calculation;

mod conformity;
mod position_zone;
mod probability;

/// The calculations of this topic that are built, in the order of the catalogue.
pub(super) static CALCULATIONS: &[&Calculation] = &[&conformity::CALCULATION, &position_zone::CALCULATION];
