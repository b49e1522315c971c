//! Slips on the way from the touch to the register.

use crate::shop::Chance;

/// One blunder. What it does is the same for every operator; where it falls is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PickupSlip {
    /// A tenth of an inch misread on one reading.
    TenthOnce,
    /// The same on every reading of one face.
    TenthOnFace,
    /// Two neighbouring digits swapped in one reading.
    DigitsOnce,
    /// The same two digits swapped in every reading of one face.
    DigitsOnFace,
    /// One reading typed as if inches were millimetres.
    UnitOnce,
    /// Every reading of one face typed so.
    UnitOnFace,
    /// The radius taken off already on one face.
    RadiusTakenOff,
    /// The tip's diameter typed for its radius.
    DiameterForRadius,
    /// A chip under one touch.
    ChipOnce,
    /// A chip that stays under every touch of one face, until it is wiped for the return touch.
    ChipStays,
    /// One axis of the register written with two digits swapped.
    RegisterDigits,
    /// One axis of the register written a tenth of an inch off.
    RegisterTenth,
    /// The displayed angle typed for the machine angle.
    DisplayedAngle,
}

impl PickupSlip {
    /// Every slip.
    pub const ALL: [Self; 13] = [
        Self::TenthOnce,
        Self::TenthOnFace,
        Self::DigitsOnce,
        Self::DigitsOnFace,
        Self::UnitOnce,
        Self::UnitOnFace,
        Self::RadiusTakenOff,
        Self::DiameterForRadius,
        Self::ChipOnce,
        Self::ChipStays,
        Self::RegisterDigits,
        Self::RegisterTenth,
        Self::DisplayedAngle,
    ];

    /// Returns whether it falls on one reading only.
    pub(super) const fn is_once(self) -> bool {
        matches!(self, Self::TenthOnce | Self::DigitsOnce | Self::UnitOnce | Self::ChipOnce)
    }

    /// Returns whether it falls on touches of a face.
    pub(super) const fn is_on_touches(self) -> bool {
        !matches!(self, Self::DiameterForRadius | Self::RegisterDigits | Self::RegisterTenth | Self::DisplayedAngle)
    }
}

/// A tenth of an inch, millimetres.
pub(super) const TENTH_MM: f64 = 2.54;

/// Swaps two neighbouring different digits of a number as typed; `pick` chooses which pair.
pub(super) fn digits_swapped(text: &str, pick: f64) -> String {
    let places: Vec<usize> =
        text.char_indices().filter(|(_, letter)| letter.is_ascii_digit()).map(|(at, _)| at).collect();
    let digit = |at: usize| text.as_bytes().get(at).copied().unwrap_or_default();
    let pairs: Vec<(usize, usize)> = places
        .iter()
        .zip(places.iter().skip(1))
        .map(|(first, second)| (*first, *second))
        .filter(|(first, second)| digit(*first) != digit(*second))
        .collect();
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        clippy::cast_precision_loss,
        reason = "a few digits"
    )]
    let chosen = (pick * pairs.len() as f64) as usize;
    let Some((first, second)) = pairs.get(chosen) else { return text.to_owned() };
    let mut letters = text.as_bytes().to_vec();
    letters.swap(*first, *second);
    String::from_utf8(letters).unwrap_or_else(|_| text.to_owned())
}

/// Draws the height of a chip, millimetres.
pub(super) fn chip(chance: &mut Chance) -> f64 {
    chance.between(0.02, 0.2)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn neighbouring_digits_are_swapped_and_equal_ones_left() {
        assert_eq!(digits_swapped("-12.34", 0.0), "-21.34");
        assert_eq!(digits_swapped("-12.34", 0.5), "-13.24");
        assert_eq!(digits_swapped("-12.34", 0.999), "-12.43");
        assert_eq!(digits_swapped("11.1", 0.5), "11.1");
    }
}
