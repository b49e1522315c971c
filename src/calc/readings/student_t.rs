//! The quantile of Student's t.

use statrs::distribution::{ContinuousCDF, Normal, StudentsT};

use crate::calc::inspection::below;

/// Above this many degrees of freedom the library's quantile loses digits and then hangs; a series takes over.
const LARGEST_FREEDOM: f64 = 1e4;
/// Newton steps that bring the library's quantile to full accuracy.
const STEPS: usize = 3;

/// Returns the value that Student's t stays below with a probability above 0 and below 1.
///
/// Up to 10,000 degrees of freedom from statrs, polished by Newton's method on an accurate distribution function; above,
/// the normal quantile with its two-term series z + (z³+z)/4ν + (5z⁵+16z³+3z)/96ν² (Abramowitz and Stegun 26.7.5).
pub(super) fn quantile(probability: f64, freedom: f64) -> f64 {
    if freedom > LARGEST_FREEDOM {
        return series(probability, freedom);
    }
    let Ok(distribution) = StudentsT::new(0.0, 1.0, freedom) else { return series(probability, freedom) };
    // The lower half by symmetry: small probabilities keep their digits.
    if probability > 0.5 {
        return -quantile(1.0 - probability, freedom);
    }
    let start = distribution.inverse_cdf(probability);
    (0..STEPS).fold(start, |t, _| polished(t, probability, freedom))
}

fn polished(t: f64, probability: f64, freedom: f64) -> f64 {
    let step = (below(t, freedom) - probability) / density(t, freedom);
    if step.is_finite() && step.abs() <= 0.1 * t.abs() { t - step } else { t }
}

/// Returns the density of Student's t.
fn density(t: f64, freedom: f64) -> f64 {
    use statrs::function::gamma::ln_gamma;
    let scale = ln_gamma(f64::midpoint(freedom, 1.0)) - ln_gamma(freedom / 2.0);
    let power = f64::midpoint(freedom, 1.0) * (t * t / freedom).ln_1p();
    (scale - power).exp() / (freedom * std::f64::consts::PI).sqrt()
}

fn series(probability: f64, freedom: f64) -> f64 {
    let z = Normal::standard().inverse_cdf(probability);
    let square = z * z;
    let first = z * (square + 1.0) / 4.0;
    let second = z * (5.0 * square * square + 16.0 * square + 3.0) / 96.0;
    z + first / freedom + second / freedom / freedom
}
