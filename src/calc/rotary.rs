//! Rotary geometry and work offsets: where a point stands, which index to command, which register to write.

use super::Calculation;

mod a_zero_readback;
mod a_zero_register;
mod angle_from_dms;
mod angle_identity;
mod axis_parallelism;
mod centre_below_top;
mod centreline_at_feature;
mod centreline_fit;
mod centreline_quarter_turn;
mod centreline_uncertainty;
mod circular_mean;
mod clocking;
mod coordinate_identity;
mod drawing_angle_to_index;
mod face_from_middle;
mod feature_at_index;
mod flip_centreline;
mod flip_centreline_four;
mod flip_from_above;
mod flip_weights;
mod index_for_normal;
mod lifted_register;
mod lowest_at_index;
mod measured_width;
mod midpoint_roll_correction;
mod nearest_increment;
mod off_centre_after_reclocking;
mod off_centre_from_quarter_turn;
mod off_centre_neglect;
mod off_centre_shift;
mod point_after_index;
mod travel_room;
mod z_register;

/// The calculations of this topic, in the order of the catalogue; those that only steps need come last.
pub(super) static CALCULATIONS: &[&Calculation] = &[
    &point_after_index::CALCULATION,
    &index_for_normal::CALCULATION,
    &drawing_angle_to_index::CALCULATION,
    &off_centre_shift::CALCULATION,
    &off_centre_after_reclocking::CALCULATION,
    &flip_centreline::CALCULATION,
    &flip_centreline_four::CALCULATION,
    &centreline_fit::CALCULATION,
    &midpoint_roll_correction::CALCULATION,
    &centreline_quarter_turn::CALCULATION,
    &z_register::CALCULATION,
    &axis_parallelism::CALCULATION,
    &centreline_at_feature::CALCULATION,
    &a_zero_register::CALCULATION,
    &a_zero_readback::CALCULATION,
    &coordinate_identity::CALCULATION,
    &angle_identity::CALCULATION,
    &circular_mean::CALCULATION,
    &angle_from_dms::CALCULATION,
    &measured_width::CALCULATION,
    &clocking::CALCULATION,
    &off_centre_from_quarter_turn::CALCULATION,
    &feature_at_index::CALCULATION,
    &off_centre_neglect::CALCULATION,
    &lifted_register::CALCULATION,
    &centreline_uncertainty::CALCULATION,
    &nearest_increment::CALCULATION,
    &flip_weights::CALCULATION,
    &flip_from_above::CALCULATION,
    &centre_below_top::CALCULATION,
    &face_from_middle::CALCULATION,
    &travel_room::CALCULATION,
    &lowest_at_index::CALCULATION,
];
