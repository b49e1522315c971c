//! A round surface seen along its axis: how high and how steep it is to the side of its highest line.
//!
//! A distance to the side that noise has carried beyond the radius is taken as the radius.

/// Returns the height of the surface above its axis, at a distance to the side.
pub(super) fn height(radius: f64, aside: f64) -> f64 {
    let aside = aside.min(radius);
    // Two roots in place of one of a difference of squares: near the flank that keeps all digits.
    (radius - aside).sqrt() * (radius + aside).sqrt()
}

/// Returns how far the surface has fallen below its highest line.
pub(super) fn fall(radius: f64, aside: f64) -> f64 {
    let aside = aside.min(radius);
    aside / (radius + height(radius, aside)) * aside
}

/// Returns the slope of the surface in degrees: 0 on the highest line, 90 on the flank.
pub(super) fn slope(radius: f64, aside: f64) -> f64 {
    aside.atan2(height(radius, aside)).to_degrees()
}

#[cfg(test)]
mod tests {
    use super::*;

    // Schoolbook triangle 3-4-5, and a fall of a^2/(2 r) close to the highest line.
    #[test]
    fn a_round_surface_falls_away_from_its_highest_line() {
        assert!((height(5.0, 3.0) - 4.0).abs() < 1e-15 && (fall(5.0, 3.0) - 1.0).abs() < 1e-15);
        assert!((fall(5.0, 1e-9) / 1e-19 - 1.0).abs() < 1e-12);
        assert!((slope(5.0, 5.0) - 90.0).abs() < 1e-12 && fall(5.0, 5.0) <= 5.0);
        assert!(height(5.0, 5.000_001) <= 0.0 && (fall(1e-300, 1e-12) / 1e-300 - 1.0).abs() < 1e-15);
        assert!((slope(10.0, 5.0) - 30.0).abs() < 1e-13);
    }
}
