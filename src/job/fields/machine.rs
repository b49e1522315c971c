//! The machine's profile and the instruments.

use super::{ABOVE_ZERO, Field, Kind, TITLE, default, default_by_unit, degrees, free, length, measure, required};
use crate::quantity::Dimension;

static PERCENT: Kind = measure(Dimension::Percent, "%", "%", 0.0, 400.0);

pub(super) static MACHINE: [Field; 24] = [
    required("id", Kind::Name, "Short name: the file name of the profile."),
    required("name", TITLE, "Description of the machine and its rotary."),
    free(
        "work_turns",
        Kind::Choice(&["left-hand", "right-hand"]),
        "Sense in which the work turns about +X when A is commanded positive; right-hand takes +Y to +Z. Left out, the \
         sense test has to find it.",
    ),
    required("top_faces", Kind::Choice(&["+X", "-X"]), "Where the finished top of the part looks."),
    required("least_length", length(0.000_01, 0.1), "Least increment of X, Y and Z."),
    required("least_angle", degrees(0.000_01, 1.0), "Least increment of the rotary."),
    required("travel", Kind::Object(&TRAVEL), "Travel of X, Y and Z."),
    free(
        "travel_low",
        Kind::Object(&TRAVEL_LOW),
        "Lowest machine position of X, Y and Z. Left out: machine zero lies at the end that the positions' sign shows.",
    ),
    required("rapid", measure(Dimension::Speed, "mm/min", "in/min", 100.0, 200_000.0), "Full rapid rate."),
    default_by_unit(
        "deceleration",
        measure(Dimension::Acceleration, "mm/s2", "in/s2", 50.0, 50_000.0),
        ["3000", "100"],
        "Deceleration of an axis after a stop.",
    ),
    default(
        "reaction",
        measure(Dimension::Time, "s", "s", 0.1, 5.0),
        "0.7",
        "The person's time from seeing to stopping.",
    ),
    required("spindle_max", measure(Dimension::TurningSpeed, "rpm", "rpm", 100.0, 200_000.0), "Highest spindle speed."),
    required(
        "spindle_base",
        measure(Dimension::TurningSpeed, "rpm", "rpm", 1.0, 200_000.0),
        "Speed from which full power is available.",
    ),
    required("spindle_power", measure(Dimension::Power, "kW", "kW", 0.05, 200.0), "Spindle power."),
    required("centre_height", length(20.0, 600.0), "Height of the rotary's centre over the table."),
    required("centre_height_uncertainty", length(0.0, 1.0), "Standard uncertainty of the centre height."),
    required("index_accuracy", degrees(0.0, 1.0), "Index accuracy of the rotary, standard uncertainty."),
    required("rotary_repeat", degrees(0.0, 1.0), "Repeatability of the rotary, one standard deviation."),
    default(
        "rapid_dial",
        Kind::List(&PERCENT, 1, 40),
        "[5, 25, 50, 100]",
        "Steps of the rapid override dial, percent, ascending.",
    ),
    default(
        "feed_dial",
        Kind::List(&PERCENT, 1, 40),
        "[0, 10, 20, 30, 40, 50, 60, 70, 80, 90, 100, 110, 120, 130, 140, 150]",
        "Steps of the feed override dial, percent, ascending.",
    ),
    default_by_unit(
        "swing_margin",
        length(0.0, 100.0),
        ["5", "0.2"],
        "Smallest gap allowed between anything that swings and anything that stands.",
    ),
    free(
        "brake_torque",
        measure(Dimension::Torque, "N m", "lbf in", 0.1, 50_000.0),
        "Stated holding torque of the brake.",
    ),
    default(
        "obstacles",
        Kind::List(&OBSTACLE, 0, 20),
        "[]",
        "What stands near the swing besides the table: tail, probe, hose, door, column.",
    ),
    required(
        "display_includes_length",
        Kind::Flag,
        "Whether the displayed Z takes the tool length off when length compensation is on.",
    ),
];

static OBSTACLE: Kind = Kind::Object(&OBSTACLE_BOX);

static OBSTACLE_BOX: [Field; 5] = [
    required("name", TITLE, "What it is."),
    required("y_from", length(-2000.0, 2000.0), "Its front, from the rotary centreline."),
    required("y_to", length(-2000.0, 2000.0), "Its rear."),
    required("z_from", length(-2000.0, 2000.0), "Its bottom, from the rotary centreline."),
    required("z_to", length(-2000.0, 2000.0), "Its top."),
];

static TRAVEL: [Field; 3] = [
    required("x", length(50.0, 10_000.0), "Travel of X."),
    required("y", length(50.0, 10_000.0), "Travel of Y."),
    required("z", length(50.0, 10_000.0), "Travel of Z."),
];

static TRAVEL_LOW: [Field; 3] = [
    required("x", length(-10_000.0, 10_000.0), "Lowest machine X."),
    required("y", length(-10_000.0, 10_000.0), "Lowest machine Y."),
    required("z", length(-10_000.0, 10_000.0), "Lowest machine Z."),
];

pub(super) static INSTRUMENTS: [Field; 13] = [
    required("edge_finder", Kind::Object(&INSTRUMENT), "Edge finder or probe in the spindle."),
    required("tip_radius", length(0.1, 20.0), "Radius of its tip: half the measured diameter."),
    required("tip_radius_uncertainty", length(0.0, 0.1), "Standard uncertainty of the tip radius."),
    required("setter", Kind::Object(&INSTRUMENT), "Reference tool touched on the setter."),
    required("setter_height", length(5.0, 300.0), "Height of the setter."),
    required("reference_tool_length", length(20.0, 400.0), "Length of the reference tool."),
    required("lever", Kind::Object(&INSTRUMENT), "Lever indicator for the tram (level)."),
    required("lever_travel", length(0.05, 20.0), "Whole travel of the lever indicator."),
    required("bore_gauge", Kind::Object(&INSTRUMENT), "Bore gauge or blocks for slots and bores."),
    required("micrometer", Kind::Object(&INSTRUMENT), "Micrometer for jaws and part."),
    required("feeler", Kind::Object(&INSTRUMENT), "Feeler for the ring gap."),
    required("seat_indicator", Kind::Object(&INSTRUMENT), "Indicator on the seat corners."),
    required("inspection", Kind::Object(&INSTRUMENT), "What inspects the first article."),
];

static INSTRUMENT: [Field; 4] = [
    required("name", TITLE, "What it is."),
    required("resolution", length(ABOVE_ZERO, 1.0), "Smallest step it shows."),
    required("repeatability", length(0.0, 1.0), "Standard deviation of one reading."),
    default("repeats", Kind::Count(1, 20), "3", "How many readings are taken."),
];
