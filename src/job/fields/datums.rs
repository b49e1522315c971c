//! How each datum is picked up.

use super::{Field, Kind, default, default_by_unit, free, length, measure, required};
use crate::quantity::Dimension;

pub(super) static DATUMS: [Field; 10] = [
    default("x", Kind::Object(&X), "{}", "How X, the fixture's back face, is picked up."),
    default("y", Kind::Object(&Y), "{}", "How Y, the rotary centreline, is picked up."),
    default("z", Kind::Object(&Z), "{}", "How Z, the rotary centreline, is picked up."),
    free(
        "round",
        Kind::Object(&ROUND),
        "The upright bore or boss of the fixture that a middle by bore, boss or sweep is taken from.",
    ),
    default(
        "axis_parallelism",
        Kind::Choice(&["by-depth", "measured", "left-out"]),
        "by-depth",
        "Whether the slope of the rotary axis is indicated in both planes; by depth: on a customer's record.",
    ),
    default(
        "return_touch",
        Kind::Choice(&["when-single", "always", "left-out"]),
        "when-single",
        "Whether the back face is wiped and touched once more in work coordinates after the register is written; by itself \
         when X rests on a single face.",
    ),
    free(
        "expected",
        Kind::Object(&EXPECTED),
        "The register of the last setup of this fixture: a window, never re-typed.",
    ),
    default(
        "machine_uncertainty",
        length(0.0, 1.0),
        "0",
        "Standard uncertainty of the machine's own position at a touched place; 0 leaves it out of the budget.",
    ),
    default(
        "temperature_spread",
        measure(Dimension::TemperatureDifference, "K", "degF", 0.0, 20.0),
        "0",
        "How far fixture and machine may differ in temperature, half width; 0 leaves it out of the budget.",
    ),
    default(
        "expansion",
        measure(Dimension::Expansion, "um/(m K)", "um/(m K)", 0.0, 50.0),
        "11.5",
        "Expansion coefficient of rotary and fixture.",
    ),
];

static X: [Field; 4] = [
    default(
        "by",
        Kind::Choice(&["single-face", "two-faces", "edge", "corner", "round"]),
        "single-face",
        "One touch place on the back face, the middle of two faces, the back face as an edge with its skew, the corner of \
         back and front face, or the centre of the round.",
    ),
    free(
        "opposite",
        length(1.0, 1000.0),
        "Distance along X from the back face to the opposite face, measured. When it is given, that face is touched too.",
    ),
    default_by_unit(
        "opposite_tolerance",
        length(0.0, 1.0),
        ["0.01", "0.0005"],
        "How far that distance may be off when it is measured at the machine.",
    ),
    default("edge_touches", Kind::Count(2, 8), "3", "Places along an edge at which it is touched."),
];

static Y: [Field; 2] = [
    default(
        "middle",
        Kind::Choice(&["two-faces", "bore", "boss", "sweep"]),
        "two-faces",
        "How the fixture's middle is found at each angle: front and back face, touches round a bore or boss, or a sweep \
         with the indicator.",
    ),
    default("angles", Kind::Count(2, 12), "2", "At how many angles, evenly round the turn; 2 is the half turn."),
];

static Z: [Field; 2] = [
    default(
        "by",
        Kind::Choice(&["centre-height", "setter-on-top", "flip-from-above"]),
        "centre-height",
        "Setter on the table and the known centre height, setter on the fixture's top face, or both faces from above, half \
         a turn apart.",
    ),
    default(
        "again",
        Kind::Choice(&["by-depth", "quarter-turn", "left-out"]),
        "by-depth",
        "The second, independent way to Z; by depth: the quarter turn, unless quick.",
    ),
];

static ROUND: [Field; 5] = [
    required("along", length(0.0, 1000.0), "Distance of its centre from the back face along X."),
    required("diameter", length(0.5, 500.0), "Diameter, measured beforehand."),
    default_by_unit(
        "tolerance",
        length(0.0, 1.0),
        ["0.01", "0.0005"],
        "How far the diameter may be off when it is touched at the machine.",
    ),
    default("touches", Kind::Count(3, 24), "8", "Touches round it: 8 are not fooled by 2 to 6 lobes."),
    default_by_unit(
        "form_limit",
        length(0.0, 1.0),
        ["0.01", "0.0005"],
        "Largest form error believed before the bore is looked at.",
    ),
];

static EXPECTED: [Field; 4] = [
    free("x", length(-10_000.0, 10_000.0), "X of the register then."),
    free("y", length(-10_000.0, 10_000.0), "Y of the register then."),
    free("z", length(-10_000.0, 10_000.0), "Z of the register then."),
    default_by_unit("within", length(0.0001, 100.0), ["1", "0.04"], "How far it may have moved without a question."),
];
