//! Chance that is the same on every run: a counter stirred into uniform and normal numbers, from a fixed start.

/// A stream of chance numbers.
pub(super) struct Chance {
    state: u64,
    spare: Option<f64>,
}

impl Chance {
    /// Begins a stream; the same start gives the same stream.
    pub(super) fn from(start: u64) -> Self {
        Self { state: start, spare: None }
    }

    /// Returns a number between 0 and 1, never either of them (a 64-bit counter mixed by multiply and shift).
    #[expect(clippy::cast_precision_loss, reason = "53 bits fit a double")]
    pub(super) fn uniform(&mut self) -> f64 {
        self.state = self.state.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mixed = (self.state ^ (self.state >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        let mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        let bits = (mixed ^ (mixed >> 31)) >> 11;
        (bits as f64 + 0.5) / 9_007_199_254_740_992.0
    }

    /// Returns a number between two others.
    pub(super) fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.uniform()
    }

    /// Returns a normal number with mean 0 and standard deviation 1 (Box and Muller).
    pub(super) fn normal(&mut self) -> f64 {
        if let Some(spare) = self.spare.take() {
            return spare;
        }
        let radius = (-2.0 * self.uniform().ln()).sqrt();
        let (sine, cosine) = (std::f64::consts::TAU * self.uniform()).sin_cos();
        self.spare = Some(radius * sine);
        radius * cosine
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    // Theory: mean 0, variance 1, fourth moment 3 of the normal distribution; four standard errors of 100,000 draws.
    #[test]
    fn normal_numbers_have_the_moments_of_the_normal_distribution() {
        let mut chance = Chance::from(1);
        let draws: Vec<f64> = (0..100_000).map(|_| chance.normal()).collect();
        let moment = |power: i32| draws.iter().map(|draw| draw.powi(power)).sum::<f64>() / 100_000.0;
        assert!(moment(1).abs() < 0.013 && (moment(2) - 1.0).abs() < 0.018 && (moment(4) - 3.0).abs() < 0.13);
    }
}
