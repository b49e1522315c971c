//! Readings and what they are worth: touches, repeats, uncertainty, temperature, slips of typing, best fits.

use super::Calculation;

mod best_circle;
mod circle_fit;
mod first_harmonic;
mod indicator_travel;
mod lever_indicator_cosine;
mod line_fit;
mod plane_fit;
mod readings_summary;
mod repeat_agreement;
mod repeat_range_limit;
mod repeated_reading;
mod soak_time;
mod statistics;
mod student_t;
mod student_t_quantile;
mod sweep_centre_offset;
mod thermal_length;
mod touched_face;
mod typing_slip;
mod typing_transposition;
mod uncertainty_combine;

/// The calculations of this topic, in the order of the catalogue; those that only steps need come last.
pub(super) static CALCULATIONS: &[&Calculation] = &[
    &touched_face::CALCULATION,
    &lever_indicator_cosine::CALCULATION,
    &readings_summary::CALCULATION,
    &uncertainty_combine::CALCULATION,
    &student_t_quantile::CALCULATION,
    &thermal_length::CALCULATION,
    &soak_time::CALCULATION,
    &repeat_agreement::CALCULATION,
    &sweep_centre_offset::CALCULATION,
    &typing_slip::CALCULATION,
    &typing_transposition::CALCULATION,
    &indicator_travel::CALCULATION,
    &line_fit::CALCULATION,
    &circle_fit::CALCULATION,
    &plane_fit::CALCULATION,
    &first_harmonic::CALCULATION,
    &repeat_range_limit::CALCULATION,
    &repeated_reading::CALCULATION,
];
