//! Readings and what they are worth: touches, repeats, uncertainty, temperature, slips of typing, best fits.

use super::Calculation;

mod best_circle;
mod circle_centre_uncertainty;
mod circle_fit;
mod corner_from_edges;
mod edge_from_touches;
mod first_harmonic;
mod halving_way;
mod indicator_factor;
mod indicator_travel;
mod lever_indicator_cosine;
mod line_fit;
mod plane_fit;
mod plane_fit_uncertainty;
mod pooled_touches;
mod readings_summary;
mod repeat_agreement;
mod repeat_range_limit;
mod repeated_reading;
mod round_diameter;
mod second_harmonic;
mod soak_time;
pub(super) mod statistics;
mod student_t;
mod student_t_quantile;
mod suspect_reading;
mod sweep_centre_offset;
mod thermal_length;
mod touched_face;
mod typing_slip;
mod typing_transposition;
mod uncertainty_budget;
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
    &suspect_reading::CALCULATION,
    &pooled_touches::CALCULATION,
    &uncertainty_budget::CALCULATION,
    &halving_way::CALCULATION,
    &circle_centre_uncertainty::CALCULATION,
    &edge_from_touches::CALCULATION,
    &corner_from_edges::CALCULATION,
    &round_diameter::CALCULATION,
    &second_harmonic::CALCULATION,
    &indicator_factor::CALCULATION,
    &plane_fit_uncertainty::CALCULATION,
];
