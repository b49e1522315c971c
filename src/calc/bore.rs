//! Bores cut to size by interpolation.

use super::Calculation;

mod bore_engagement;
mod bore_next_pass;
mod bore_wear_correction;
mod helical_feed;
mod pin_gauge_bracket;

/// The calculations of this topic, in the order of the catalogue.
pub(super) static CALCULATIONS: &[&Calculation] = &[
    &helical_feed::CALCULATION,
    &bore_engagement::CALCULATION,
    &bore_next_pass::CALCULATION,
    &bore_wear_correction::CALCULATION,
    &pin_gauge_bracket::CALCULATION,
];
