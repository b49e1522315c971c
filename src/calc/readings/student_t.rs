//! Quantiles of Student's t and of the normal distribution.
//!
//! The library's distribution functions are used, but not its inverse of Student's t, which is wrong in the eighth digit
//! for thousands of degrees of freedom, panics far out in the tails and never ends for millions.

use statrs::distribution::{Continuous, StudentsT};
use statrs::function::beta::checked_beta_reg;
use statrs::function::erf::{erf_inv, erfc_inv};
use statrs::function::gamma::ln_gamma;

/// Above this many degrees of freedom the series about the normal quantile is used.
const MANY: f64 = 1e4;

/// Returns the value of t that is not passed with a probability between 0 and 1 (both excluded).
///
/// Degrees of freedom may be fractional, at least 1; infinitely many give the normal quantile. Good to 1e-10 of its size
/// or better.
pub(super) fn quantile(probability: f64, degrees_of_freedom: f64) -> f64 {
    let inside = (2.0 * probability - 1.0).abs();
    let beyond = probability.min(1.0 - probability);
    (probability - 0.5).signum() * two_sided(inside, beyond, degrees_of_freedom)
}

/// Returns the factor k for which |t| ≤ k has the coverage probability.
pub(super) fn coverage_factor(coverage_probability: f64, degrees_of_freedom: f64) -> f64 {
    two_sided(coverage_probability, (1.0 - coverage_probability) / 2.0, degrees_of_freedom)
}

/// Finds t from the probability inside ±t and that beyond +t; near the middle only the first, far out only the second
/// says it precisely.
fn two_sided(inside: f64, beyond: f64, degrees_of_freedom: f64) -> f64 {
    if inside <= 0.0 {
        return 0.0;
    }
    let near_the_middle = inside < 0.5;
    let normal = std::f64::consts::SQRT_2 * if near_the_middle { erf_inv(inside) } else { erfc_inv(2.0 * beyond) };
    match StudentsT::new(0.0, 1.0, degrees_of_freedom) {
        _ if degrees_of_freedom > MANY => about_normal(normal, degrees_of_freedom),
        Ok(distribution) if near_the_middle => from_inside(&distribution, inside, normal),
        Ok(distribution) => from_beyond(&distribution, beyond, normal),
        Err(_no_degrees_of_freedom) => f64::NAN,
    }
}

/// Sums the series about the normal quantile, Abramowitz and Stegun 26.7.5, and the next term (Fisher and Cornish 1960).
///
/// Two terms serve every day; the others keep the far tails.
fn about_normal(z: f64, degrees_of_freedom: f64) -> f64 {
    let square = z * z;
    let terms = [
        (square + 1.0) / 4.0,
        ((5.0 * square + 16.0) * square + 3.0) / 96.0,
        (((3.0 * square + 19.0) * square + 17.0) * square - 15.0) / 384.0,
        ((((79.0 * square + 776.0) * square + 1482.0) * square - 1920.0) * square - 945.0) / 92_160.0,
        (((((27.0 * square + 339.0) * square + 930.0) * square - 1782.0) * square - 765.0) * square + 17_955.0)
            / 368_640.0,
    ];
    z + z * terms.iter().rev().fold(0.0, |sum, term| (sum + term) / degrees_of_freedom)
}

fn from_inside(distribution: &StudentsT, inside: f64, start: f64) -> f64 {
    const STRAIGHT: f64 = 1e-8;
    if inside < STRAIGHT {
        return inside / 2.0 / distribution.pdf(0.0);
    }
    let freedom = distribution.freedom();
    newton(start, |t| {
        let reached = checked_beta_reg(0.5, freedom / 2.0, t * t / (freedom + t * t)).unwrap_or(f64::NAN);
        let slope = (2.0_f64.ln() + t.ln() + distribution.ln_pdf(t) - reached.ln()).exp();
        (reached.ln() - inside.ln(), slope)
    })
}

fn from_beyond(distribution: &StudentsT, beyond: f64, start: f64) -> f64 {
    const FAR: f64 = 1e9;
    let freedom = distribution.freedom();
    let far = power_law(beyond, freedom);
    if far > FAR * freedom {
        return far;
    }
    newton(start, |t| {
        let reached = checked_beta_reg(freedom / 2.0, 0.5, freedom / (freedom + t * t)).unwrap_or(f64::NAN) / 2.0;
        let slope = -(t.ln() + distribution.ln_pdf(t) - reached.ln()).exp();
        (reached.ln() - beyond.ln(), slope)
    })
}

/// Finds t far out, where the probability beyond it falls with the power of the degrees of freedom.
fn power_law(beyond: f64, freedom: f64) -> f64 {
    let density =
        ln_gamma(f64::midpoint(freedom, 1.0)) - ln_gamma(freedom / 2.0) - 0.5 * (freedom * std::f64::consts::PI).ln()
            + f64::midpoint(freedom, 1.0) * freedom.ln();
    ((density - freedom.ln() - beyond.ln()) / freedom).exp()
}

/// Goes to the zero of a function of ln t by Newton's steps; it must bend one way, as both logarithms here do.
fn newton(start: f64, mismatch_and_slope: impl Fn(f64) -> (f64, f64)) -> f64 {
    const MOST_STEPS: usize = 60;
    const SMALL: f64 = 1e-13;
    let mut t = start;
    for _ in 0..MOST_STEPS {
        let (mismatch, slope) = mismatch_and_slope(t);
        let step = mismatch / slope;
        if !step.is_finite() {
            break;
        }
        t *= (-step).exp();
        if step.abs() < SMALL {
            break;
        }
    }
    t
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn quantiles_from_the_middle_to_the_far_tails() {
        for (freedom, probability, wanted) in GOLDEN {
            let found = quantile(probability, freedom);
            assert!((found - wanted).abs() <= 2e-11 * wanted.abs(), "{freedom} {probability}: {found}, not {wanted}");
        }
    }

    // JCGM 100 table G.2: t for 95.45 % and 99 %.
    #[test]
    fn coverage_factors_of_the_gum() {
        for (freedom, coverage, printed) in
            [(4.0, 0.9545, 2.87), (10.0, 0.9545, 2.28), (16.0, 0.99, 2.92), (f64::INFINITY, 0.9973, 3.0)]
        {
            assert!((coverage_factor(coverage, freedom) - printed).abs() < 0.0051, "{freedom}");
        }
    }

    // The series and Newton's steps must meet where one takes over from the other.
    #[test]
    fn there_is_no_step_at_ten_thousand_degrees_of_freedom() {
        for probability in [1e-12, 0.01, 0.4, 0.500_001, 0.9, 0.975, 0.999_999] {
            let below = quantile(probability, MANY);
            let above = quantile(probability, MANY * (1.0 + 1e-13));
            assert!((below - above).abs() < 2e-11 * below.abs(), "{probability}: {below} {above}");
        }
    }

    #[test]
    fn every_probability_ends_in_a_number() {
        for freedom in [1.0, 1.000_001, 2.5, 77.0, 9999.9, 1e5, 1e300, f64::INFINITY] {
            let mut before = f64::NEG_INFINITY;
            for probability in [5e-324, 1e-310, 1e-200, 1e-17, 0.1, 0.5 - 1e-16, 0.5, 0.5 + 2e-16, 0.75, 1.0 - 1.2e-16]
            {
                let found = quantile(probability, freedom);
                assert!(!found.is_nan() && found >= before, "{freedom} {probability}: {found} after {before}");
                before = found;
            }
        }
    }

    /// Degrees of freedom, probability and quantile, made with mpmath 1.3 at 50 digits from the incomplete beta function.
    const GOLDEN: [(f64, f64, f64); 96] = [
        (1.0, 1e-300, -3.183_098_861_837_906_6e299),
        (1.0, 1e-20, -3.183_098_861_837_906_7e19),
        (1.0, 1e-06, -318_309.886_182_743_5),
        (1.0, 0.025, -12.706_204_736_174_705),
        (1.0, 0.3, -0.726_542_528_005_360_9),
        (1.0, 0.499_999_9, -3.141_592_653_680_235e-07),
        (1.0, 0.6, 0.324_919_696_232_906_23),
        (1.0, 0.9, 3.077_683_537_175_254),
        (1.0, 0.9986, 227.362_738_338_537_98),
        (1.0, 0.999_999_999_9, 3_183_098_598.467_148),
        (1.5, 1e-300, -5.219_469_427_344_636e199),
        (1.5, 1e-20, -11_245_005_997_832.137),
        (1.5, 1e-06, -5_219.469_324_706_946),
        (1.5, 0.025, -6.016_663_104_427_931_5),
        (1.5, 0.3, -0.651_795_482_602_357_1),
        (1.5, 0.499_999_9, -2.934_832_215_485_126e-07),
        (1.5, 0.6, 0.300_745_392_569_795_4),
        (1.5, 0.9, 2.196_398_417_565_537_6),
        (1.5, 0.9986, 41.694_030_938_174_215),
        (1.5, 0.999_999_999_9, 2_422_662.967_499_707_4),
        (3.125, 1e-300, -1.070_517_070_071_895_5e96),
        (3.125, 1e-20, -2_689_017.303_012_517_3),
        (3.125, 1e-06, -89.027_606_832_604_43),
        (3.125, 0.025, -3.111_629_322_874_718_3),
        (3.125, 0.3, -0.581_840_480_072_76),
        (3.125, 0.499_999_9, -2.712_052_910_457_307_5e-07),
        (3.125, 0.6, 0.275_715_731_702_796_73),
        (3.125, 0.9, 1.620_220_124_564_851_5),
        (3.125, 0.9986, 8.622_401_653_545_813),
        (3.125, 0.999_999_999_9, 1_696.654_430_612_024_5),
        (30.0, 1e-300, -50_178_575_360.505_08),
        (30.0, 1e-20, -22.658_878_371_940_183),
        (30.0, 1e-06, -5.871_117_120_418_883),
        (30.0, 0.025, -2.042_272_456_301_238),
        (30.0, 0.3, -0.530_019_003_906_504_5),
        (30.0, 0.499_999_9, -2.527_600_226_196_069_5e-07),
        (30.0, 0.6, 0.255_605_364_951_912_7),
        (30.0, 0.9, 1.310_415_025_391_395_8),
        (30.0, 0.9986, 3.256_290_553_766_430_4),
        (30.0, 0.999_999_999_9, 9.377_489_746_079_775),
        (100.5, 1e-300, -9_380.253_891_667_14),
        (100.5, 1e-20, -11.680_196_366_522_928),
        (100.5, 1e-06, -5.047_283_988_218_428),
        (100.5, 0.025, -1.983_850_655_335_799_7),
        (100.5, 0.3, -0.526_067_912_583_561_1),
        (100.5, 0.499_999_9, -2.512_871_327_185_078_7e-07),
        (100.5, 0.6, 0.254_018_818_657_350_2),
        (100.5, 0.9, 1.290_032_072_213_86),
        (100.5, 0.9986, 3.064_446_837_200_193),
        (100.5, 0.999_999_999_9, 7.079_452_758_485_082),
        (6223.45, 1e-20, -9.294_728_062_203_987),
        (6223.45, 1e-06, -4.757_933_469_556_78),
        (6223.45, 0.025, -1.960_345_240_085_234_6),
        (6223.45, 0.3, -0.524_427_372_239_703_8),
        (6223.45, 0.499_999_9, -2.506_728_969_599_467_6e-07),
        (6223.45, 0.6, 0.253_357_933_743_792_9),
        (6223.45, 0.9, 1.281_687_611_709_666),
        (6223.45, 0.9986, 2.990_075_364_505_328_6),
        (6223.45, 0.999_999_999_9, 6.371_952_381_709_73),
        (10_000.0, 1e-20, -9.282_474_153_254_304),
        (10_000.0, 1e-06, -4.756_229_685_056_779),
        (10_000.0, 0.025, -1.960_201_239_890_626_3),
        (10_000.0, 0.3, -0.524_417_228_345_466_8),
        (10_000.0, 0.499_999_9, -2.506_690_941_193_197_3e-07),
        (10_000.0, 0.6, 0.253_353_843_445_726_8),
        (10_000.0, 0.9, 1.281_636_229_730_477_7),
        (10_000.0, 0.9986, 2.989_624_682_379_231),
        (10_000.0, 0.999_999_999_9, 6.367_941_338_737_229_5),
        (10_001.0, 1e-20, -9.282_472_136_356_851),
        (10_001.0, 1e-06, -4.756_229_404_402_680_5),
        (10_001.0, 0.025, -1.960_201_216_164_641_2),
        (10_001.0, 0.3, -0.524_417_226_674_027_7),
        (10_001.0, 0.499_999_9, -2.506_690_934_927_097e-07),
        (10_001.0, 0.6, 0.253_353_842_771_752_55),
        (10_001.0, 0.9, 1.281_636_221_264_334_9),
        (10_001.0, 0.9986, 2.989_624_608_128_178_5),
        (10_001.0, 0.999_999_999_9, 6.367_940_678_172_021),
        (1_000_000.0, 1e-20, -9.262_541_065_291_659),
        (1_000_000.0, 1e-06, -4.753_452_348_279_681),
        (1_000_000.0, 0.025, -1.959_966_356_814_107),
        (1_000_000.0, 0.3, -0.524_400_679_860_208_9),
        (1_000_000.0, 0.499_999_9, -2.506_628_901_360_253_4e-07),
        (1_000_000.0, 0.6, 0.253_347_170_537_841_6),
        (1_000_000.0, 0.9, 1.281_552_412_129_938_6),
        (1_000_000.0, 0.9986, 2.988_889_689_786_403_5),
        (1_000_000.0, 0.999_999_999_9, 6.361_406_836_169_72),
        (f64::INFINITY, 1e-300, -37.047_096_299_361_2),
        (f64::INFINITY, 1e-20, -9.262_340_089_798_407),
        (f64::INFINITY, 1e-06, -4.753_424_308_822_899),
        (f64::INFINITY, 0.025, -1.959_963_984_540_054_3),
        (f64::INFINITY, 0.3, -0.524_400_512_708_040_8),
        (f64::INFINITY, 0.499_999_9, -2.506_628_274_703_106_3e-07),
        (f64::INFINITY, 0.6, 0.253_347_103_135_799_7),
        (f64::INFINITY, 0.9, 1.281_551_565_544_600_6),
        (f64::INFINITY, 0.9986, 2.988_882_267_315_8),
        (f64::INFINITY, 0.999_999_999_9, 6.361_340_889_697_422),
    ];
}
