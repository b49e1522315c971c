//! Work-offset registers.

/// The names of the nine work coordinate systems in the order of their numbers (RS274/NGC: G54 is 1, G59.3 is 9).
pub const REGISTER_NAMES: [&str; 9] = ["G54", "G55", "G56", "G57", "G58", "G59", "G59.1", "G59.2", "G59.3"];

/// Returns the number that RS274/NGC gives a register, 1 to 9: what `G10 L2 P` takes.
pub fn register_number(name: &str) -> Option<usize> {
    REGISTER_NAMES.iter().position(|known| *known == name).map(|index| index + 1)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// NIST RS274/NGC interpreter, coordinate systems 1 to 9 (P number of G10 L2).
    #[test]
    fn registers_have_the_numbers_of_the_standard() {
        assert_eq!(register_number("G54"), Some(1));
        assert_eq!(register_number("G56"), Some(3));
        assert_eq!(register_number("G58"), Some(5));
        assert_eq!(register_number("G59.3"), Some(9));
        assert_eq!(register_number("G53"), None);
        assert_eq!(register_number("g54"), None);
    }
}
