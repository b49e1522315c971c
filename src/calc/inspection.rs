//! The first article and what to correct after it.

use super::Calculation;

/// The calculations of this topic that are built, in the order of the catalogue.
pub(super) static CALCULATIONS: &[&Calculation] = &[];
