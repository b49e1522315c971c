//! Chance from a seed: the same seed gives the same shop on every machine.

use rand_distr::{Distribution, StandardNormal, StandardUniform};
use rand_pcg::Pcg64Mcg;
use rand_pcg::rand_core::SeedableRng;

/// A stream of random numbers that depends on its seed alone.
#[derive(Debug, Clone)]
pub struct Chance(Pcg64Mcg);

impl Chance {
    /// Begins a stream.
    pub fn new(seed: u64) -> Self {
        Self(Pcg64Mcg::seed_from_u64(seed))
    }

    /// Begins a stream of its own for something with a name, so that what is drawn elsewhere does not shift it.
    pub fn named(seed: u64, name: &str) -> Self {
        // FNV-1a: short, and the same everywhere for ever.
        let mixed = name.bytes().fold(0xcbf2_9ce4_8422_2325_u64 ^ seed, |hash, byte| {
            (hash ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01b3)
        });
        Self::new(mixed ^ seed.rotate_left(32))
    }

    /// Draws a number from 0 up to, but not including, 1.
    pub fn share(&mut self) -> f64 {
        StandardUniform.sample(&mut self.0)
    }

    /// Draws a number between two others, all equally likely.
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.share()
    }

    /// Draws a number between two others above zero, every factor equally likely.
    pub fn between_by_factor(&mut self, low: f64, high: f64) -> f64 {
        self.between(low.ln(), high.ln()).exp()
    }

    /// Draws from a normal distribution about zero with this standard deviation.
    pub fn normal(&mut self, deviation: f64) -> f64 {
        let standard: f64 = StandardNormal.sample(&mut self.0);
        standard * deviation
    }

    /// Draws whether something of this probability happens.
    pub fn happens(&mut self, probability: f64) -> bool {
        self.share() < probability
    }

    /// Draws plus or minus one.
    pub fn sign(&mut self) -> f64 {
        if self.happens(0.5) { 1.0 } else { -1.0 }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_seed_gives_the_same_stream_and_another_seed_or_name_another() {
        let draw = |mut chance: Chance| (0..8).map(|_| chance.share()).collect::<Vec<_>>();
        assert_eq!(draw(Chance::new(7)), draw(Chance::new(7)));
        assert_ne!(draw(Chance::new(7)), draw(Chance::new(8)));
        assert_eq!(draw(Chance::named(7, "rear")), draw(Chance::named(7, "rear")));
        assert_ne!(draw(Chance::named(7, "rear")), draw(Chance::named(7, "front")));
        assert_ne!(draw(Chance::named(7, "rear")), draw(Chance::named(8, "rear")));
    }

    #[test]
    fn the_normal_has_its_deviation() {
        let mut chance = Chance::new(1);
        let drawn: Vec<f64> = (0..40_000).map(|_| chance.normal(2.0)).collect();
        let mean = drawn.iter().sum::<f64>() / 40_000.0;
        let deviation = (drawn.iter().map(|one| (one - mean).powi(2)).sum::<f64>() / 39_999.0).sqrt();
        // Five standard errors of a mean and of a standard deviation of 40,000 normal numbers.
        assert!(mean.abs() < 5.0 * 2.0 / 200.0, "{mean}");
        assert!((deviation - 2.0).abs() < 5.0 * 2.0 / 80_000_f64.sqrt(), "{deviation}");
    }
}
