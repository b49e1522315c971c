//! Limits and fits, press fits and shrink fits.

use super::Calculation;

mod bore_window_for_pin;
mod iso_286_fit;
mod iso_286_tolerance;
mod joint;
mod limits_of_size;
mod press_fit_elastic_limit;
mod press_fit_pressure;
mod service_interference;
mod shrink_heating;

/// The calculations of this topic, in the order of the catalogue.
pub(super) static CALCULATIONS: &[&Calculation] = &[
    &iso_286_tolerance::CALCULATION,
    &iso_286_fit::CALCULATION,
    &press_fit_pressure::CALCULATION,
    &press_fit_elastic_limit::CALCULATION,
    &shrink_heating::CALCULATION,
    &service_interference::CALCULATION,
    &bore_window_for_pin::CALCULATION,
];
