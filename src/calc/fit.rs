//! How the fixture sits and holds: slots, corners, swing, ring, chips, brake.

use super::Calculation;

mod brake_moment;
mod chip_under_edge;
mod corner_plan_gap;
mod corner_relief_hole;
mod corner_standoff;
mod creep_up_estimate;
mod forbidden_index_range;
mod holding_use;
mod reversed_fixture_check;
mod ring_clamp_hold;
mod ring_gap;
mod ring_gap_chip;
mod seat_repeat;
mod slot_next_wall;
mod slot_response;
mod slot_rotation_play;
mod slot_seating;
mod slot_taper;
mod stick_out_needed;
mod swing_past_obstacle;
mod swing_radius;

/// The calculations of this topic, in the order of the catalogue; those that only steps need come last.
pub(super) static CALCULATIONS: &[&Calculation] = &[
    &slot_rotation_play::CALCULATION,
    &corner_standoff::CALCULATION,
    &corner_plan_gap::CALCULATION,
    &corner_relief_hole::CALCULATION,
    &swing_radius::CALCULATION,
    &forbidden_index_range::CALCULATION,
    &chip_under_edge::CALCULATION,
    &ring_gap::CALCULATION,
    &ring_gap_chip::CALCULATION,
    &ring_clamp_hold::CALCULATION,
    &brake_moment::CALCULATION,
    &stick_out_needed::CALCULATION,
    &reversed_fixture_check::CALCULATION,
    &slot_response::CALCULATION,
    &slot_next_wall::CALCULATION,
    &creep_up_estimate::CALCULATION,
    &slot_taper::CALCULATION,
    &slot_seating::CALCULATION,
    &seat_repeat::CALCULATION,
    &swing_past_obstacle::CALCULATION,
    &holding_use::CALCULATION,
];
