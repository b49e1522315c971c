//! Random identifiers: session ids, boot ids and the tail of a file name.

use std::fs::File;
use std::hash::{BuildHasher, RandomState};
use std::io::Read;

use sha2::{Digest, Sha256};

/// Gives identifiers that no two sessions share.
pub trait Ids: Send {
    /// Gives the next 128 bits.
    fn next_bits(&mut self) -> u128;
}

/// Identifiers from the operating system's source of randomness.
#[derive(Debug, Default, Clone, Copy)]
pub struct RandomIds;

impl Ids for RandomIds {
    fn next_bits(&mut self) -> u128 {
        let mut bytes = [0; 16];
        match File::open("/dev/urandom").and_then(|mut source| source.read_exact(&mut bytes)) {
            Ok(()) => u128::from_le_bytes(bytes),
            // Where there is no such file, the hasher that the standard library seeds at random serves.
            Err(_) => (u128::from(hashed_at_random()) << 64) | u128::from(hashed_at_random()),
        }
    }
}

fn hashed_at_random() -> u64 {
    RandomState::new().hash_one(std::process::id())
}

/// Identifiers for tests and sample logs: the same seed gives the same row of identifiers.
#[derive(Debug, Clone)]
pub struct FixedIds {
    seed: String,
    given: u64,
}

impl FixedIds {
    /// Starts a row of identifiers from a seed, as in `SETWRIGHT_TEST_IDS=s1`.
    pub fn new(seed: &str) -> Self {
        Self { seed: seed.to_owned(), given: 0 }
    }
}

impl Ids for FixedIds {
    fn next_bits(&mut self) -> u128 {
        let digest = Sha256::digest(format!("{}:{}", self.seed, self.given));
        self.given += 1;
        digest.iter().take(16).fold(0, |bits, byte| (bits << 8) | u128::from(*byte))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn random_ids_differ_and_fixed_ids_repeat() {
        let mut random = RandomIds;
        assert_ne!(random.next_bits(), random.next_bits());
        assert_ne!(hashed_at_random(), hashed_at_random());
        let row = |seed: &str| {
            let mut ids = FixedIds::new(seed);
            [ids.next_bits(), ids.next_bits()]
        };
        assert_eq!(row("s1"), row("s1"));
        assert_ne!(row("s1"), row("s2"));
        assert_ne!(row("s1")[0], row("s1")[1]);
    }
}
