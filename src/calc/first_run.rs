//! The first run: how fast a move may be, how low the dials may stand.

use super::Calculation;

/// The calculations of this topic that are built, in the order of the catalogue.
pub(super) static CALCULATIONS: &[&Calculation] = &[];
