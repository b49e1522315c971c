//! The point of a drill: a cone.

use crate::calc::degrees;

/// Returns the height of the cone that has this diameter at its base and this full angle in degrees at its tip.
pub(super) fn length(diameter: f64, full_angle: f64) -> f64 {
    let (sine, cosine) = degrees::sine_and_cosine(full_angle / 2.0);
    diameter / 2.0 * (cosine / sine)
}

#[cfg(test)]
mod tests {
    use super::*;

    // Table of drill point lengths over diameter in an engineering handbook; a flat drill has none.
    #[test]
    fn lengths_are_those_of_the_table() {
        for (full_angle, printed) in [
            (60.0, 0.866),
            (82.0, 0.5752),
            (90.0, 0.5),
            (100.0, 0.4195),
            (118.0, 0.3004),
            (120.0, 0.2887),
            (135.0, 0.2071),
            (142.0, 0.1722),
            (180.0, 0.0),
        ] {
            let found = length(1.0, full_angle);
            assert!((found - printed).abs() <= 0.000_051, "{full_angle}: {found}");
        }
    }
}
