//! Limits and fits, press fits and shrink fits.

use super::Calculation;

mod joint;
mod press_fit_elastic_limit;
mod press_fit_pressure;

/// The calculations of this topic that are built, in the order of the catalogue.
pub(super) static CALCULATIONS: &[&Calculation] =
    &[&press_fit_pressure::CALCULATION, &press_fit_elastic_limit::CALCULATION];
