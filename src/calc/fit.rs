//! How the fixture sits and holds: slots, corners, swing, ring, chips, brake.

use super::Calculation;

/// The calculations of this topic that are built, in the order of the catalogue.
pub(super) static CALCULATIONS: &[&Calculation] = &[];
