//! Readings and what they are worth: touches, repeats, uncertainty, temperature, slips of typing, best fits.

use super::Calculation;

mod plane_fit;
mod readings_summary;
mod repeat_agreement;
mod repeat_range_limit;
mod repeated_reading;
mod statistics;
mod student_t;
mod student_t_quantile;
mod touched_face;
mod typing_slip;
mod typing_transposition;
mod uncertainty_combine;

pub(super) use statistics::Statistics;

/// The calculations of this topic, in the order of the catalogue; those that only steps need come last.
pub(super) static CALCULATIONS: &[&Calculation] = &[
    &touched_face::CALCULATION,
    &readings_summary::CALCULATION,
    &uncertainty_combine::CALCULATION,
    &student_t_quantile::CALCULATION,
    &repeat_agreement::CALCULATION,
    &typing_slip::CALCULATION,
    &typing_transposition::CALCULATION,
    &plane_fit::CALCULATION,
    &repeat_range_limit::CALCULATION,
    &repeated_reading::CALCULATION,
];
