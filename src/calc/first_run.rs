//! The first run: how fast a move may be, how low the dials may stand.

use super::Calculation;

mod dial_step;
mod distance_to_go;
mod feed_floor;
mod feed_floor_drill;
mod feed_floor_mill;
mod feed_per_rev_from_dials;
mod index_turns;
mod marker_dots;
mod rapid_ceiling;
mod stopping_distance;
mod tip_height_for_turn;

/// The calculations of this topic, in the order of the catalogue.
pub(super) static CALCULATIONS: &[&Calculation] = &[
    &rapid_ceiling::CALCULATION,
    &stopping_distance::CALCULATION,
    &distance_to_go::CALCULATION,
    &feed_floor_drill::CALCULATION,
    &feed_floor_mill::CALCULATION,
    &feed_per_rev_from_dials::CALCULATION,
    &dial_step::CALCULATION,
    &index_turns::CALCULATION,
    &marker_dots::CALCULATION,
    &tip_height_for_turn::CALCULATION,
];
