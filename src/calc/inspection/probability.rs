//! How likely a standardised value lies below a limit or between two: Student's t, and the normal distribution as its
//! limit for infinitely many degrees of freedom.

use std::f64::consts::SQRT_2;

use statrs::distribution::{ContinuousCDF, StudentsT};
use statrs::function::beta::checked_beta_reg;
use statrs::function::erf::erfc;

/// Above this many degrees of freedom the incomplete beta function loses digits and the normal distribution with a
/// correction takes over.
const MOST_FREEDOM_BY_BETA: f64 = 1e4;

/// Returns the probability that Student's t with at least one degree of freedom lies below `t`.
pub(in crate::calc) fn below(t: f64, freedom: f64) -> f64 {
    if freedom > MOST_FREEDOM_BY_BETA {
        normal_below(as_normal(t, freedom))
    } else if t.abs() < 1.0 {
        0.5 + share_around_middle(t, freedom).copysign(t) / 2.0
    } else {
        StudentsT::new(0.0, 1.0, freedom).map_or(f64::NAN, |student| student.cdf(t))
    }
}

/// Returns the probability that it lies between `low` and `high`, small ones with full accuracy.
pub(in crate::calc) fn between(low: f64, high: f64, freedom: f64) -> f64 {
    let inside = if low > 0.0 {
        below(-low, freedom) - below(-high, freedom)
    } else if high < 0.0 {
        below(high, freedom) - below(low, freedom)
    } else {
        1.0 - below(low, freedom) - below(-high, freedom)
    };
    inside.clamp(0.0, 1.0)
}

/// Returns the probability of lying between -t and t; accurate near the middle, where the tails are not.
fn share_around_middle(t: f64, freedom: f64) -> f64 {
    let square = t * t;
    checked_beta_reg(0.5, freedom / 2.0, square / (freedom + square)).unwrap_or(f64::NAN)
}

fn normal_below(z: f64) -> f64 {
    0.5 * erfc(-z / SQRT_2)
}

/// Changes Student's t with many degrees of freedom into the normal value with the same probability (first correction
/// of Hill 1970: relative error of a tail below 1e-11 as far as t = 10, and far below 1e-30 in itself beyond).
fn as_normal(t: f64, freedom: f64) -> f64 {
    if freedom.is_infinite() || t.abs() > 1e6 {
        return t;
    }
    let fewer = freedom - 0.5;
    let square = fewer * (t * t / freedom).ln_1p();
    square.sqrt().copysign(t) * (1.0 + (square + 3.0) / (48.0 * fewer) / fewer)
}

#[cfg(test)]
mod tests {
    use super::*;

    // Golden numbers made with mpmath 1.3.0 at 40 digits (regularised incomplete beta function).
    #[test]
    fn it_agrees_with_forty_digit_arithmetic() {
        for (t, freedom, golden) in GOLDEN {
            let found = below(*t, *freedom);
            assert!((found / golden - 1.0).abs() < 1e-10, "{t} {freedom}: {found:e} {golden:e}");
        }
    }

    const GOLDEN: &[(f64, f64, f64)] = &[
        (-12.5, 1.0, 0.025_410_673_666_115_897),
        (-3.25, 1.0, 0.095_015_160_939_179_85),
        (-1.0, 1.0, 0.25),
        (-0.25, 1.0, 0.422_020_869_622_630_7),
        (-0.000_1, 1.0, 0.499_968_169_011_487_7),
        (-1e-6, 1.0, 0.499_999_681_690_113_83),
        (2.5, 1.0, 0.878_881_058_409_156_6),
        (-12.5, 1.5, 0.008_488_883_095_062_528),
        (-3.25, 1.5, 0.059_911_019_829_505_2),
        (-1.0, 1.5, 0.225_567_683_638_355_17),
        (-0.25, 1.5, 0.416_254_842_001_604_1),
        (-0.000_1, 1.5, 0.499_965_926_501_965_75),
        (-1e-6, 1.5, 0.499_999_659_265_018_7),
        (2.5, 1.5, 0.915_096_748_692_652),
        (-12.5, 4.0, 0.000_117_808_023_446_349_89),
        (-3.25, 4.0, 0.015_687_867_110_076_976),
        (-1.0, 4.0, 0.186_950_483_150_029_43),
        (-0.25, 4.0, 0.407_451_005_729_590_6),
        (-0.000_1, 4.0, 0.499_962_500_000_078_14),
        (-1e-6, 4.0, 0.499_999_625),
        (2.5, 4.0, 0.966_616_727_594_006),
        (-12.5, 30.0, 9.992_481_746_983_215e-14),
        (-3.25, 30.0, 0.001_423_016_400_433_395),
        (-1.0, 30.0, 0.162_654_307_713_014_95),
        (-0.25, 30.0, 0.402_145_704_540_287_53),
        (-0.000_1, 30.0, 0.499_960_436_781_578_75),
        (-1e-6, 30.0, 0.499_999_604_367_815_1),
        (2.5, 30.0, 0.990_942_175_465_966_6),
        (-12.5, 999.0, 1.021_001_328_833_981_1e-33),
        (-3.25, 999.0, 0.000_596_292_012_094_362_3),
        (-1.0, 999.0, 0.158_776_330_088_206_19),
        (-0.25, 999.0, 0.401_319_373_826_716_34),
        (-0.000_1, 999.0, 0.499_960_115_754_316_2),
        (-1e-6, 999.0, 0.499_999_601_157_542_5),
        (2.5, 999.0, 0.993_710_636_207_745_4),
        (-12.5, 10_000.0, 6.881_874_756_991_893e-36),
        (-3.25, 10_000.0, 0.000_578_933_091_764_001_5),
        (-1.0, 10_000.0, 0.158_667_352_165_214_58),
        (-0.25, 10_000.0, 0.401_296_242_001_412_5),
        (-0.000_1, 10_000.0, 0.499_960_106_769_369_6),
        (-1e-6, 10_000.0, 0.499_999_601_067_693_03),
        (2.5, 10_000.0, 0.993_782_390_224_708_2),
        (-12.5, 20_000.0, 5.076_236_983_482_125e-36),
        (-3.25, 20_000.0, 0.000_577_978_603_593_613_5),
        (-1.0, 20_000.0, 0.158_661_303_123_953_55),
        (-0.25, 20_000.0, 0.401_294_958_167_651_6),
        (-0.000_1, 20_000.0, 0.499_960_106_270_701_1),
        (-1e-6, 20_000.0, 0.499_999_601_062_706_36),
        (2.5, 20_000.0, 0.993_786_362_934_002_9),
        (-12.5, 10_000_000.0, 3.734_872_236_496_761e-36),
        (-3.25, 10_000_000.0, 0.000_577_026_948_588_158_9),
        (-1.0, 10_000_000.0, 0.158_655_266_029_992_97),
        (-0.25, 10_000_000.0, 0.401_293_676_884_794_2),
        (-0.000_1, 10_000_000.0, 0.499_960_105_773_023_7),
        (-1e-6, 10_000_000.0, 0.499_999_601_057_729_56),
        (2.5, 10_000_000.0, 0.993_790_326_731_710_7),
    ];

    // Student's table, two-sided 95 %: the usual printed figures.
    #[test]
    fn it_agrees_with_the_printed_table() {
        for (freedom, t) in [(1.0, 12.706), (2.0, 4.303), (4.0, 2.776), (10.0, 2.228), (30.0, 2.042), (120.0, 1.980)] {
            assert!((between(-t, t, freedom) - 0.95).abs() < 1e-4, "{freedom}");
        }
        assert!((between(-1.959_964, 1.959_964, f64::INFINITY) - 0.95).abs() < 1e-7);
    }

    // Algebra: the change of method at 10,000 degrees of freedom leaves no step.
    #[test]
    fn there_is_no_step_where_the_method_changes() {
        for t in [-8.0, -3.0, -1.5, -0.2, -1e-5, 0.0, 0.7, 2.5] {
            let (beta, normal) = (below(t, 1e4), below(t, 1e4 + 1e-7));
            assert!((beta / normal - 1.0).abs() < 1e-10, "{t}: {beta:e} {normal:e}");
        }
    }

    #[test]
    fn extreme_values_are_probabilities() {
        for freedom in [1.0, 1.5, 1e4, 1e5, 1e300, f64::MAX, f64::INFINITY] {
            for t in [0.0, 1e-300, 1e-9, 1.0, 50.0, 1e10, 1e200, f64::MAX, f64::INFINITY] {
                let (low, high) = (below(-t, freedom), below(t, freedom));
                assert!((0.0..=0.5).contains(&low) && (0.5..=1.0).contains(&high), "{t} {freedom}");
                assert!((low + high - 1.0).abs() < 1e-15, "{t} {freedom}");
            }
        }
    }
}
