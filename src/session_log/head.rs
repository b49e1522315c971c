//! The head of a chain: the hash of its last event.

use std::fmt;

use sha2::{Digest, Sha256};

const HEX: &[u8; 16] = b"0123456789abcdef";

/// The hash of a log's last event: 64 lower-case hexadecimal digits. Whoever remembers it can tell later whether
/// anything before it was changed.
#[derive(Clone, Copy, PartialEq, Eq, Hash)]
pub struct Head([u8; 64]);

impl Head {
    /// What stands before the first event: 64 zeros.
    pub const START: Self = Self([b'0'; 64]);

    /// Chains one more event: SHA-256 over this head's digits, a line feed, and the bytes of the event before its hash.
    #[must_use]
    pub fn after(&self, body: &[u8]) -> Self {
        let digest = Sha256::new().chain_update(self.0).chain_update(b"\n").chain_update(body).finalize();
        Self::of_digest(&digest)
    }

    pub(super) fn of_bytes(bytes: &[u8]) -> Self {
        Self::of_digest(&Sha256::digest(bytes))
    }

    pub(super) fn of_digest(digest: &[u8]) -> Self {
        let mut digits = [b'0'; 64];
        for (pair, byte) in digits.chunks_exact_mut(2).zip(digest) {
            for (digit, half) in pair.iter_mut().zip([byte >> 4, byte & 15]) {
                *digit = HEX.get(usize::from(half)).copied().unwrap_or(b'0');
            }
        }
        Self(digits)
    }

    /// Reads a head that a person types or a sheet holds: 64 hexadecimal digits, blanks between groups allowed.
    ///
    /// # Errors
    /// Says how many digits there should be.
    pub fn parse(text: &str) -> Result<Self, String> {
        let digits: Vec<u8> = text.bytes().filter(|byte| !byte.is_ascii_whitespace()).collect();
        let wrong = || "a head is 64 digits of 0 to 9 and a to f, blanks between groups allowed".to_owned();
        if !digits.iter().all(u8::is_ascii_hexdigit) {
            return Err(wrong());
        }
        <[u8; 64]>::try_from(digits.to_ascii_lowercase().as_slice()).map(Self).map_err(|_| wrong())
    }

    /// Gives the 64 digits.
    pub fn as_str(&self) -> &str {
        std::str::from_utf8(&self.0).unwrap_or_default()
    }

    pub(super) const fn digits(&self) -> &[u8; 64] {
        &self.0
    }
}

impl fmt::Display for Head {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.as_str())
    }
}

impl fmt::Debug for Head {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Head({self})")
    }
}

/// Writes a head for paper: 8 groups of 8 digits, all 256 bits.
pub fn witness(head: &Head) -> String {
    let groups: Vec<String> = head.0.chunks(8).map(|group| String::from_utf8_lossy(group).into_owned()).collect();
    groups.join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_chain_uses_the_published_hash() {
        // FIPS 180-4, example of SHA-256("abc").
        let abc = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
        assert_eq!(Head::of_bytes(b"abc").as_str(), abc);
        let whole = [&[b'0'; 64][..], b"\nbody"].concat();
        assert_eq!(Head::START.after(b"body"), Head::of_bytes(&whole));
    }

    #[test]
    fn a_witness_has_eight_groups_and_is_read_back() {
        let head = Head::of_bytes(b"abc");
        let paper = witness(&head);
        assert_eq!(paper, "ba7816bf 8f01cfea 414140de 5dae2223 b00361a3 96177a9c b410ff61 f20015ad");
        assert_eq!(Head::parse(&paper), Ok(head));
        assert_eq!(Head::parse(&paper.to_uppercase()), Ok(head));
        assert!(Head::parse("ba7816bf").unwrap_err().contains("64"));
        assert!(Head::parse(&paper.replace('b', "g")).is_err());
        assert!(Head::parse(&(paper + "0")).is_err());
    }
}
