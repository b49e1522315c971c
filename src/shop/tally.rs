//! Counting how often something came out of many trials.

/// How often something came out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Share {
    /// How often it did.
    pub hits: u32,
    /// How often it could have.
    pub of: u32,
}

impl Share {
    /// Counts one more.
    pub fn count(&mut self, hit: bool) {
        self.of += 1;
        self.hits += u32::from(hit);
    }

    /// Returns the share itself; 0 when nothing was counted.
    pub fn value(self) -> f64 {
        if self.of == 0 { 0.0 } else { f64::from(self.hits) / f64::from(self.of) }
    }

    /// Returns the two ends between which the true share lies with 95 % confidence, by Wilson's score interval
    /// (E. B. Wilson, 1927; the form is from memory and checked in the test against its defining equation).
    pub fn wilson(self) -> (f64, f64) {
        const NORMAL_975: f64 = 1.959_963_984_540_054;
        if self.of == 0 {
            return (0.0, 1.0);
        }
        let (count, share, z2) = (f64::from(self.of), self.value(), NORMAL_975 * NORMAL_975);
        let middle = (share + z2 / (2.0 * count)) / (1.0 + z2 / count);
        let half =
            NORMAL_975 / (1.0 + z2 / count) * (share * (1.0 - share) / count + z2 / (4.0 * count * count)).sqrt();
        ((middle - half).max(0.0), (middle + half).min(1.0))
    }
}

/// Returns the count below which this share of all counts lies (the nearest rank), or 0 when there are none.
pub fn at_rank(counts: &mut [u32], share: f64) -> u32 {
    counts.sort_unstable();
    let last = counts.len().saturating_sub(1);
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        clippy::cast_precision_loss,
        reason = "a rank among fewer than 2^32 counts"
    )]
    let rank = (share * counts.len() as f64).ceil() as usize;
    counts.get(rank.saturating_sub(1).min(last)).copied().unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn wilson_solves_its_equation() {
        // Both ends p0 solve |p - p0| = z sqrt(p0 (1 - p0) / n), from which the interval is defined.
        for (hits, of) in [(1, 100), (50, 100), (207, 1000), (3, 10)] {
            let share = Share { hits, of };
            let (low, high) = share.wilson();
            for end in [low, high] {
                let spread = 1.959_963_984_540_054 * (end * (1.0 - end) / f64::from(of)).sqrt();
                assert!(((share.value() - end).abs() - spread).abs() < 1e-12, "{hits} of {of}");
            }
        }
        assert!(Share { hits: 0, of: 100 }.wilson().0.abs() < 1e-15);
    }

    #[test]
    fn ranks_are_the_nearest() {
        let mut counts = vec![5, 1, 4, 2, 3];
        assert_eq!(at_rank(&mut counts, 0.5), 3);
        assert_eq!(at_rank(&mut counts, 0.95), 5);
        assert_eq!(at_rank(&mut [], 0.5), 0);
    }
}
