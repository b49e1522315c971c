//! The quantile of Student's t.

use std::f64::consts::PI;

use statrs::distribution::{ContinuousCDF, Normal};
use statrs::function::gamma::ln_gamma;

use crate::calc::inspection::below;

/// Above this many degrees of freedom a series takes over: the distribution function loses digits there.
const LARGEST_FREEDOM: f64 = 1e4;
/// Beyond this many units the tail is its leading power, to full accuracy; the square of `t` would overflow later.
const FAR: f64 = 1e60;

/// Returns the value that Student's t stays below with a probability above 0 and below 1.
///
/// Up to 10,000 degrees of freedom by inverting the distribution function of statrs (its own inverse fails far out);
/// above, the normal quantile with its two-term series z + (z³+z)/4ν + (5z⁵+16z³+3z)/96ν² (Abramowitz and Stegun 26.7.5).
pub(super) fn quantile(probability: f64, freedom: f64) -> f64 {
    if freedom > LARGEST_FREEDOM {
        return series(probability, freedom);
    }
    if probability > 0.5 {
        return -quantile(1.0 - probability, freedom);
    }
    if probability >= 0.5 {
        return 0.0;
    }
    -inverted(probability, freedom)
}

/// Halves the interval of ln t until it cannot be halved any more; the tail beyond t falls steadily.
fn inverted(tail: f64, freedom: f64) -> f64 {
    let (mut low, mut high) = (-700.0, 700.0);
    let wanted = tail.ln();
    loop {
        let middle: f64 = f64::midpoint(low, high);
        if middle <= low || middle >= high {
            return polished(middle.exp(), tail, freedom);
        }
        if ln_tail(middle.exp(), freedom) > wanted {
            low = middle;
        } else {
            high = middle;
        }
    }
}

/// One Newton step takes away what the logarithm cost.
fn polished(t: f64, tail: f64, freedom: f64) -> f64 {
    let step = (below(-t, freedom) - tail) / density(t, freedom);
    if t < FAR && step.is_finite() && step.abs() <= 1e-3 * t { t + step } else { t }
}

/// Returns the logarithm of the probability beyond t.
fn ln_tail(t: f64, freedom: f64) -> f64 {
    if t < FAR {
        below(-t, freedom).ln()
    } else {
        ln_scale(freedom) + (freedom / 2.0 - 0.5) * freedom.ln() - freedom * t.ln()
    }
}

/// Returns the density of Student's t.
fn density(t: f64, freedom: f64) -> f64 {
    let power = f64::midpoint(freedom, 1.0) * (t * t / freedom).ln_1p();
    (ln_scale(freedom) - power).exp() / freedom.sqrt()
}

/// Returns ln( Γ((ν+1)/2) / (Γ(ν/2) √π) ).
fn ln_scale(freedom: f64) -> f64 {
    ln_gamma(f64::midpoint(freedom, 1.0)) - ln_gamma(freedom / 2.0) - PI.ln() / 2.0
}

fn series(probability: f64, freedom: f64) -> f64 {
    let z = Normal::standard().inverse_cdf(probability);
    let square = z * z;
    let first = z * (square + 1.0) / 4.0;
    let second = z * (5.0 * square * square + 16.0 * square + 3.0) / 96.0;
    z + first / freedom + second / freedom / freedom
}
