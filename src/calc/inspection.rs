//! The first article and what to correct after it.

use super::Calculation;

mod conformity;
mod depth_error_split;
mod first_article_split;
mod position_register_correction;
mod position_zone;
pub(super) mod probability;
mod two_sided_bore_step;

/// The calculations of this topic, in the order of the catalogue.
pub(super) static CALCULATIONS: &[&Calculation] = &[
    &conformity::CALCULATION,
    &position_zone::CALCULATION,
    &two_sided_bore_step::CALCULATION,
    &first_article_split::CALCULATION,
    &depth_error_split::CALCULATION,
    &position_register_correction::CALCULATION,
];
