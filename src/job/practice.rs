//! The two practice cards.

/// Returns id and text of the practice cards: a body in millimetres and one in inches.
///
/// Nothing on them is taken from a real part; what they say is invented to be worked through.
pub const fn practice_cards() -> [(&'static str, &'static str); 2] {
    [
        ("flow-sensor-body", include_str!("../../assets/job-cards/flow-sensor-body.json")),
        ("metering-valve-body", include_str!("../../assets/job-cards/metering-valve-body.json")),
    ]
}
