//! Levelling (tramming) two pads with the rotary: the move, whether it answered, and how good is good enough.

use super::Calculation;

/// The calculations of this topic that are built, in the order of the catalogue.
pub(super) static CALCULATIONS: &[&Calculation] = &[];
