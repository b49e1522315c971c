//! Readings and what they are worth: touches, repeats, uncertainty, temperature, slips of typing, best fits.

use super::Calculation;

/// The calculations of this topic that are built, in the order of the catalogue.
pub(super) static CALCULATIONS: &[&Calculation] = &[];
