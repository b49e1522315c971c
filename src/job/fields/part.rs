//! Part, material and features.

use super::{ABOVE_ZERO, Field, Kind, TITLE, default, degrees, free, length, measure, ratio, required, stress};
use crate::quantity::Dimension;

pub(super) static PART: [Field; 6] = [
    required("name", TITLE, "Name of the part."),
    default("drawing", TITLE, "not stated", "Drawing number."),
    default("revision", Kind::Text(20), "not stated", "Revision of the drawing."),
    required("batch", Kind::Count(1, 10_000), "Pieces to deliver."),
    required("diameter", length(2.0, 400.0), "Outside diameter that the ring grips."),
    required("material", Kind::Object(&MATERIAL), "What it is made of, with its cutting constants."),
];

static MATERIAL: [Field; 6] = [
    required("name", TITLE, "Name and condition."),
    required(
        "specific_cutting_force",
        measure(Dimension::Stress, "MPa", "MPa", 100.0, 10_000.0),
        "Specific cutting force k_c1.1: at 1 mm chip thickness and width.",
    ),
    required("chip_exponent", ratio(0.0, 0.9), "Exponent m_c of the chip thickness."),
    required("yield_strength", stress(10.0, 5000.0), "Yield strength R_p0.2."),
    required("work_hardens", Kind::Flag, "Whether a rubbing edge hardens the skin."),
    required("source", Kind::Text(300), "Where the constants come from: tables differ."),
];

pub(super) static FEATURE: [Field; 20] = [
    required("id", Kind::Name, "Short name, unique on the card."),
    required("name", TITLE, "Name as the drawing has it."),
    required("angle", degrees(-360.0, 360.0), "Angle on the drawing, seen looking at the finished top."),
    required(
        "drawn",
        Kind::Choice(&["counter-clockwise", "clockwise"]),
        "Sense in which the drawing counts the angle.",
    ),
    required("along", length(0.01, 500.0), "Distance from the fixture's back face along the rotary axis."),
    default(
        "across",
        length(-200.0, 200.0),
        "0",
        "Sideways offset, plus = machine +Y at the index where it is drilled.",
    ),
    required("radius", length(0.5, 200.0), "Radius of the surface in which it starts."),
    required("diameter", length(0.2, 100.0), "Finished diameter."),
    required("depth", length(0.05, 200.0), "Depth at full diameter."),
    required("tip_depth", length(0.05, 250.0), "How far the tool's tip goes below the surface."),
    default("through", Kind::Flag, "false", "Whether it goes through."),
    required("position_zone", length(0.001, 5.0), "Diameter of the round position zone."),
    required("hole_wander", length(0.0, 1.0), "Standard uncertainty of where the cut lands (drill wander)."),
    required("tool", Kind::Count(1, 999), "Number of the tool that cuts it."),
    free("spot", Kind::Object(&SPOT), "The spot drilled before it."),
    free("cross_bore", length(0.2, 400.0), "Diameter of the bore that it breaks into at its end."),
    default(
        "breakout",
        length(0.0, 50.0),
        "0",
        "How far the full diameter goes beyond the far side of a through hole.",
    ),
    free("room_beyond", length(0.0, 500.0), "Free room beyond the far side of a through hole."),
    free(
        "under_holder",
        length(0.0, 400.0),
        "Height over the rotary centreline of the highest thing under the holder; left out, the swing of the fixture.",
    ),
    free("bore", Kind::Object(&BORE), "For a bore cut to size in passes: its window and fit."),
];

static SPOT: [Field; 3] = [
    required("diameter", length(0.2, 100.0), "Diameter of the full ring wanted."),
    required("angle", degrees(60.0, 179.0), "Full angle of the spot drill."),
    default("texture", length(0.0, 5.0), "0", "Depth of skin or texture to be cut through."),
];

static BORE: [Field; 6] = [
    required("target", length(0.2, 100.0), "Size aimed for."),
    required("window", Kind::Object(&SIZE_WINDOW), "Smallest and largest size allowed."),
    required("pin_gauge_step", length(0.0005, 1.0), "Step between the pin gauges at hand."),
    default("damping", ratio(0.3, 1.0), "0.8", "Share of the missing size that a pass takes."),
    default("guard", length(0.0, 1.0), "0", "How far inside the window a drifting bore raises the alarm."),
    free("press", Kind::Object(&PRESS), "The press fit that the bore is for."),
];

static SIZE_WINDOW: [Field; 2] = [
    required("smallest", length(0.2, 100.0), "Smallest size allowed."),
    required("largest", length(0.2, 100.0), "Largest size allowed."),
];

static PRESS: [Field; 11] = [
    required("joint_diameter", length(0.2, 100.0), "Nominal diameter of the joint."),
    required("pin_diameter", length(0.2, 100.0), "Measured diameter of the pin."),
    required(
        "hub_outer_diameter",
        length(0.5, 400.0),
        "Twice the shortest distance from the bore's centre to an edge.",
    ),
    required("engagement_length", length(0.1, 200.0), "Length of engagement."),
    required("hub_modulus", stress(1000.0, 700_000.0), "Elastic modulus of the part."),
    required("hub_poisson", ratio(0.0, 0.499), "Poisson's ratio of the part."),
    required("pin_modulus", stress(1000.0, 700_000.0), "Elastic modulus of the pin."),
    required("pin_poisson", ratio(0.0, 0.499), "Poisson's ratio of the pin."),
    required("bore_roughness", length(0.0, 0.1), "Roughness Rz of the bore."),
    required("pin_roughness", length(0.0, 0.1), "Roughness Rz of the pin."),
    required("friction", Kind::Object(&FRICTION), "Lower and upper friction factor while pressing."),
];

static FRICTION: [Field; 2] = [
    required("lower", ratio(0.01, 1.5), "Lower friction factor."),
    required("upper", ratio(0.01, 1.5), "Upper friction factor."),
];

pub(super) static TOOL: [Field; 11] = [
    required("number", Kind::Count(1, 999), "Number called in the program, unique on the card."),
    required("name", TITLE, "What it is."),
    required("diameter", length(0.1, 100.0), "Diameter."),
    required("point_angle", degrees(60.0, 180.0), "Full point angle; 180 for a flat end."),
    required("length", length(20.0, 400.0), "Stored length."),
    required("cutting_speed", measure(Dimension::Speed, "m/min", "ft/min", 500.0, 2_000_000.0), "Cutting speed."),
    required("feed", measure(Dimension::FeedPerRevolution, "mm/rev", "in/rev", 0.0005, 5.0), "Feed per revolution."),
    required(
        "edge_radius",
        measure(Dimension::Length, "um", "um", ABOVE_ZERO, 0.2),
        "Radius of the cutting edge; a bare number is in micrometres.",
    ),
    default(
        "least_chip_factor",
        ratio(0.05, 1.0),
        "0.4",
        "Least chip that cuts, as a share of the edge radius: 0.2 to 0.4.",
    ),
    free("stick_out", length(1.0, 400.0), "How far it stands out of its holder."),
    free("modulus", stress(50_000.0, 800_000.0), "Elastic modulus of the tool, for how far it bends."),
];
