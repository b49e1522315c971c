//! Machine, instruments, fixture, register, budget and first run.

use super::super::CardFault;
use super::super::card::{
    Budget, Clamp, FirstRun, Fixture, Instrument, Instruments, Machine, Obstacle, PadContact, ProtrudingPoint,
    RegisterClaim, SlotCorners, Slots, TipSide, TopFaces, WorkTurns,
};
use super::At;
use crate::quantity::Length;

pub(super) fn machine(at: &At<'_>) -> Result<Machine, CardFault> {
    let left_hand = |at: &At<'_>| at.text("work_turns").map(|word| word == "left-hand");
    let turns = if at.has("work_turns") { Some(left_hand(at)?) } else { None };
    Ok(Machine {
        id: at.text("id")?,
        name: at.text("name")?,
        work_turns: turns.map(|left| if left { WorkTurns::LeftHand } else { WorkTurns::RightHand }),
        top_faces: if at.text("top_faces")? == "+X" { TopFaces::PlusX } else { TopFaces::MinusX },
        least_length: at.length("least_length")?,
        least_angle_deg: at.base("least_angle")?,
        travel: at.lengths(["travel.x", "travel.y", "travel.z"])?,
        travel_low: if at.has("travel_low") {
            Some(at.lengths(["travel_low.x", "travel_low.y", "travel_low.z"])?)
        } else {
            None
        },
        rapid_mm_min: at.base("rapid")?,
        deceleration_mm_s2: at.base("deceleration")?,
        reaction_s: at.base("reaction")?,
        spindle_max_rpm: at.base("spindle_max")?,
        spindle_base_rpm: at.base("spindle_base")?,
        spindle_power_kw: at.base("spindle_power")?,
        centre_height: at.length("centre_height")?,
        centre_height_uncertainty: at.length("centre_height_uncertainty")?,
        index_accuracy_deg: at.base("index_accuracy")?,
        rotary_repeat_deg: at.base("rotary_repeat")?,
        rapid_dial_percent: at.bases("rapid_dial")?,
        feed_dial_percent: at.bases("feed_dial")?,
        swing_margin: at.length("swing_margin")?,
        brake_torque_nm: if at.has("brake_torque") { Some(at.in_unit("brake_torque", "N m")?) } else { None },
        obstacles: at.each("obstacles", obstacle)?,
        display_includes_length: at.flag("display_includes_length")?,
    })
}

pub(super) fn instruments(at: &At<'_>) -> Result<Instruments, CardFault> {
    let named = |key: &str| instrument(&at.inside(key));
    Ok(Instruments {
        edge_finder: named("edge_finder")?,
        tip_radius: at.length("tip_radius")?,
        tip_radius_uncertainty: at.length("tip_radius_uncertainty")?,
        setter: named("setter")?,
        setter_height: at.length("setter_height")?,
        reference_tool_length: at.length("reference_tool_length")?,
        lever: named("lever")?,
        lever_travel: at.length("lever_travel")?,
        bore_gauge: named("bore_gauge")?,
        micrometer: named("micrometer")?,
        feeler: named("feeler")?,
        seat_indicator: named("seat_indicator")?,
        inspection: named("inspection")?,
    })
}

fn instrument(at: &At<'_>) -> Result<Instrument, CardFault> {
    Ok(Instrument {
        name: at.text("name")?,
        resolution: at.length("resolution")?,
        repeatability: at.length("repeatability")?,
        repeats: at.count("repeats")?,
    })
}

pub(super) fn fixture(at: &At<'_>) -> Result<Fixture, CardFault> {
    Ok(Fixture {
        id: at.text("id")?,
        width: at.length("width")?,
        height: at.length("height")?,
        half_height: at.length("half_height")?,
        width_tolerance: at.length("width_tolerance")?,
        ring_bore: at.length("ring_bore")?,
        free_gap: at.length("free_gap")?,
        jaw_length: at.length("jaw_length")?,
        fillet_radius: at.length("fillet_radius")?,
        jaw_chamfer: at.length("jaw_chamfer")?,
        play_window: at.length_pair("play_window.smallest", "play_window.largest")?,
        play_wanted: at.length("play_wanted")?,
        gauge_disagreement: at.length("gauge_disagreement")?,
        relocation: at.length("relocation")?,
        slots: if at.has("slots") { Some(slots(&at.inside("slots"))?) } else { None },
        slot_corners: if at.has("slot_corners") { Some(slot_corners(&at.inside("slot_corners"))?) } else { None },
        clamp: if at.has("clamp") { Some(clamp(&at.inside("clamp"))?) } else { None },
        seat_corners: seat_corners(at)?,
        seat_tilt_limit_deg: at.base("seat_tilt_limit")?,
        mark_flat_y: at.length("mark_flat_y")?,
        off_centre_expected: at.length_pair("off_centre_expected.y", "off_centre_expected.z")?,
        off_centre_tolerance: at.length("off_centre_tolerance")?,
        protruding: at.each("protruding", protruding_point)?,
        pad_span: at.length("pad_span")?,
        pad_step: at.length("pad_step")?,
        pad_contact: match at.text("pad_contact")?.as_str() {
            "high-points" => PadContact::HighPoints,
            _ => PadContact::Flats,
        },
        edge_span: at.length("edge_span")?,
        back_face_side: if at.text("back_face_side")? == "plus" { TipSide::Plus } else { TipSide::Minus },
        touch_height: at.length("touch_height")?,
        touch_along: at.length("touch_along")?,
        parallel_span: at.length("parallel_span")?,
        clocking_window_deg: at.base("clocking_window")?,
    })
}

fn slots(at: &At<'_>) -> Result<Slots, CardFault> {
    Ok(Slots {
        spacing: at.length("spacing")?,
        jaw_spacing: at.length("jaw_spacing")?,
        depth: at.length("depth")?,
        jaw_height: at.length("jaw_height")?,
        floor_seats: at.text("seats_on")? == "slot-floor",
    })
}

fn slot_corners(at: &At<'_>) -> Result<SlotCorners, CardFault> {
    Ok(SlotCorners { slot_radius: at.length("slot_radius")?, jaw_radius: at.length("jaw_radius")? })
}

fn clamp(at: &At<'_>) -> Result<Clamp, CardFault> {
    Ok(Clamp {
        ring_width: at.length("ring_width")?,
        screw_diameter: at.length("screw_diameter")?,
        screw_torque_nm: at.in_unit("screw_torque", "N m")?,
        torque_coefficient: at.base("torque_coefficient")?,
        friction: at.base("friction")?,
    })
}

fn obstacle(at: &At<'_>) -> Result<Obstacle, CardFault> {
    Ok(Obstacle { name: at.text("name")?, y: at.length_pair("y_from", "y_to")?, z: at.length_pair("z_from", "z_to")? })
}

fn seat_corners(at: &At<'_>) -> Result<[(Length, Length); 4], CardFault> {
    let corners = at.each("seat_corners", |corner| corner.length_pair("u", "v"))?;
    let [first, second, third, fourth] = corners.as_slice() else { return Err(at.gap("seat_corners")) };
    Ok([*first, *second, *third, *fourth])
}

fn protruding_point(at: &At<'_>) -> Result<ProtrudingPoint, CardFault> {
    Ok(ProtrudingPoint { name: at.text("name")?, y: at.length("y")?, z: at.length("z")? })
}

pub(super) fn register(at: &At<'_>) -> Result<RegisterClaim, CardFault> {
    Ok(RegisterClaim { name: at.text("claimed")?, protected: at.texts("protected")? })
}

pub(super) fn budget(at: &At<'_>) -> Result<Budget, CardFault> {
    Ok(Budget {
        y_pickup: at.length("y_pickup")?,
        off_centre: at.length("off_centre")?,
        axis_slope: at.length("axis_slope")?,
        part_in_fixture: at.length("part_in_fixture")?,
        positioning: at.length("positioning")?,
        critical_feature: at.text("critical_feature")?,
    })
}

pub(super) fn first_run(at: &At<'_>) -> Result<FirstRun, CardFault> {
    Ok(FirstRun {
        stops: at.each("stops", |stop| Ok((stop.text("name")?, stop.length("height")?)))?,
        rapid_gap: at.length("rapid_gap")?,
        air_lift: at.length("air_lift")?,
        clearance: at.length("clearance")?,
        chip_margin: at.base("chip_margin")?,
    })
}
