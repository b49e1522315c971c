//! How far a milling tooth is engaged, and how thick its chip grows.
//!
//! Both follow from the cut share, (1 - cos of the engagement angle)/2: on a straight wall the width of cut over the
//! cutter diameter, 1/2 at half the cutter and 1 at a full slot.

use std::f64::consts::FRAC_PI_2;

/// Returns the angle over which a tooth cuts, in radians.
///
/// The same as acos(1 - 2 share), but without loss of digits in a light cut.
pub(in crate::calc) fn angle(cut_share: f64) -> f64 {
    2.0 * half_angle(cut_share)
}

/// Returns the largest chip thickness over the feed per tooth: the sine of the angle, or 1 from a quarter turn on.
pub(in crate::calc) fn largest_chip(cut_share: f64) -> f64 {
    angle(cut_share).min(FRAC_PI_2).sin()
}

fn half_angle(cut_share: f64) -> f64 {
    // A share that noise has carried beyond a full slot is a full slot; one that is no number stays none.
    if cut_share > 1.0 { FRAC_PI_2 } else { cut_share.sqrt().asin() }
}

#[cfg(test)]
mod tests {
    use super::*;

    // Geometry of a straight tooth, 2 sqrt(share (1 - share)); textbooks of machining print its form for light cuts.
    #[test]
    fn a_light_cut_thins_the_chip() {
        for (cut_share, thinned) in
            [(1.0, 1.0), (0.5, 1.0), (0.25, 0.866_025_403_8), (0.1, 0.6), (0.05, 0.435_889_894_4), (1e-20, 2e-10)]
        {
            let found = largest_chip(cut_share);
            assert!((found - thinned).abs() <= 1e-9 * thinned, "{cut_share}: {found}");
        }
    }

    #[test]
    fn angles_go_up_to_half_a_turn() {
        for (cut_share, degrees) in [(0.25, 60.0), (0.5, 90.0), (0.75, 120.0), (1.0, 180.0), (1.0 + 1e-15, 180.0)] {
            assert!((angle(cut_share).to_degrees() - degrees).abs() < 1e-12, "{cut_share}");
        }
        assert!(angle(f64::NAN).is_nan());
    }
}
