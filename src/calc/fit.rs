//! How the fixture sits and holds: slots, corners, swing, ring, chips, brake.

use super::Calculation;

mod slot_next_wall;
mod slot_response;

/// The calculations of this topic that are built, in the order of the catalogue; those that only steps need come last.
pub(super) static CALCULATIONS: &[&Calculation] = &[&slot_response::CALCULATION, &slot_next_wall::CALCULATION];
