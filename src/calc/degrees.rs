//! Angles in degrees: exact quarter turns, and bringing an angle round the circle.

/// Returns sine and cosine of an angle in degrees; exact at every quarter turn, however many.
pub(super) fn sine_and_cosine(degrees: f64) -> (f64, f64) {
    let turned = degrees % 360.0;
    let quarters = (turned / 90.0).round();
    let (sine, cosine) = (turned - 90.0 * quarters).to_radians().sin_cos();
    if quarters.abs() >= 3.5 {
        (sine, cosine)
    } else if quarters.abs() >= 2.5 {
        (-cosine * quarters.signum(), sine * quarters.signum())
    } else if quarters.abs() >= 1.5 {
        (-sine, -cosine)
    } else if quarters.abs() >= 0.5 {
        (cosine * quarters.signum(), -sine * quarters.signum())
    } else {
        (sine, cosine)
    }
}

/// Returns the tangent of an angle in degrees.
pub(super) fn tangent(degrees: f64) -> f64 {
    degrees.to_radians().tan()
}

/// Brings an angle into 0 (included) to 360 (excluded) degrees.
pub(super) fn into_full_turn(degrees: f64) -> f64 {
    let turned = degrees.rem_euclid(360.0);
    if turned < 360.0 { turned } else { 0.0 }
}

/// Brings an angle into -180 (excluded) to 180 (included) degrees.
pub(super) fn into_half_turns(degrees: f64) -> f64 {
    let turned = degrees % 360.0;
    if turned > 180.0 {
        turned - 360.0
    } else if turned <= -180.0 {
        turned + 360.0
    } else {
        turned
    }
}

/// Counts angles that differ from each other by more than 1e-6 degrees round the circle, and stops at `enough`.
pub(super) fn different_angles(degrees: &[f64], enough: usize) -> usize {
    const SAME_WITHIN: f64 = 1e-6;
    let mut different: Vec<f64> = Vec::with_capacity(enough);
    for angle in degrees {
        if different.len() == enough {
            break;
        }
        if different.iter().all(|other| into_half_turns(angle - other).abs() > SAME_WITHIN) {
            different.push(*angle);
        }
    }
    different.len()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn quarter_turns_are_exact() {
        for (degrees, sine, cosine) in [(0.0, 0, 1), (90.0, 1, 0), (180.0, 0, -1), (270.0, -1, 0), (360.0, 0, 1)] {
            for turns in [-720.0, 0.0, 3600.0] {
                let (s, c) = sine_and_cosine(degrees + turns);
                assert_eq!(
                    (s + 0.0, c + 0.0).partial_cmp(&(f64::from(sine), f64::from(cosine))),
                    Some(std::cmp::Ordering::Equal)
                );
            }
        }
    }

    #[test]
    fn other_angles_agree_with_radians() {
        for tenths in -7300_i32..7300 {
            let degrees = f64::from(tenths) / 10.0;
            let (sine, cosine) = sine_and_cosine(degrees);
            let radians = degrees.to_radians();
            assert!((sine - radians.sin()).abs() < 4e-15 && (cosine - radians.cos()).abs() < 4e-15, "{degrees}");
        }
    }

    #[test]
    fn angles_are_brought_round_the_circle() {
        for (degrees, full, half) in
            [(-72.5, 287.5, -72.5), (540.0, 180.0, 180.0), (-180.0, 180.0, 180.0), (359.0, 359.0, -1.0)]
        {
            assert!((into_full_turn(degrees) - full).abs() < 1e-12);
            assert!((into_half_turns(degrees) - half).abs() < 1e-12);
        }
        assert!(into_full_turn(-1e-20) < 360.0);
    }

    #[test]
    fn angles_that_meet_at_zero_are_the_same() {
        assert_eq!(different_angles(&[0.0, 360.0, 720.0, -0.000_000_5, 359.999_999_5], 3), 1);
        assert_eq!(different_angles(&[0.0, 0.000_002, 90.0, 180.0], 3), 3);
    }
}
