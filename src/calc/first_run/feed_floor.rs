//! The feed floor that a chip leads to, for drills and mills alike.

use crate::calc::{Answer, Given, Refused, limits};

const MICROMETRES_IN_MILLIMETRE: f64 = 1000.0;

/// Adds the smallest chip that cuts, the lowest feed setting, and whether even the full feed is below it, for a chip in
/// millimetres at the programmed feed.
pub(super) fn add(answer: Answer, given: &Given, chip: f64) -> Result<Answer, Refused> {
    let minimum_chip = given.number("minimum_chip_ratio")? * given.number("edge_radius")? / MICROMETRES_IN_MILLIMETRE;
    let feed_floor = 100.0 * given.number("chip_margin")? * (minimum_chip / chip);
    Ok(answer
        .with("minimum_chip", minimum_chip)
        .with("feed_floor", feed_floor)
        .with("programmed_feed_rubs", !limits::within(feed_floor, 100.0)))
}
