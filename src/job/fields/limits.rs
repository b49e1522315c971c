//! The card itself, register, budget and first run.

use super::datums::DATUMS;
use super::fixture::FIXTURE;
use super::machine::{INSTRUMENTS, MACHINE};
use super::part::{FEATURE, PART, TOOL};
use super::{Field, Kind, TITLE, default, default_by_unit, length, ratio, required};
use crate::job::MOST_FEATURES;

static FEATURE_OBJECT: Kind = Kind::Object(&FEATURE);
static TOOL_OBJECT: Kind = Kind::Object(&TOOL);
static STOP_OBJECT: Kind = Kind::Object(&STOP);
static NOTE: Kind = Kind::Text(600);
static REGISTER_NAME: Kind = Kind::Register;

/// The whole card.
pub(in crate::job) static CARD: [Field; 17] = [
    default("version", Kind::Count(1, 1), "1", "Version of the card's form; this program knows 1."),
    required("id", Kind::Name, "Short name, used in the session's file name."),
    required("title", TITLE, "What the person calls the job."),
    default("practice", Kind::Flag, "false", "True for a practice card."),
    required("unit", Kind::Choice(&["mm", "in"]), "Unit of bare numbers, on the card and at the machine."),
    default("depth", Kind::Choice(&["quick", "normal", "record"]), "normal", "How much the workbook asks for."),
    default("notes", Kind::List(&NOTE, 0, 40), "[]", "Remarks for whoever reads the card."),
    required("part", Kind::Object(&PART), "The part and its batch."),
    required("features", Kind::List(&FEATURE_OBJECT, 1, MOST_FEATURES), "What is to be cut, in order of work."),
    required("machine", Kind::Object(&MACHINE), "The machine's profile."),
    required("instruments", Kind::Object(&INSTRUMENTS), "The instruments used."),
    required("fixture", Kind::Object(&FIXTURE), "The ring fixture and the jaws it stands on."),
    default("datums", Kind::Object(&DATUMS), "{}", "How each datum is picked up."),
    required("tools", Kind::List(&TOOL_OBJECT, 1, 200), "The tools, by the number called in the program."),
    required("register", Kind::Object(&REGISTER), "The register this job claims, and those nobody may touch."),
    required("budget", Kind::Object(&BUDGET), "Standard uncertainties that share the position zone with the tram."),
    required("first_run", Kind::Object(&FIRST_RUN), "How the first cut is approached."),
];

static REGISTER: [Field; 2] = [
    required("claimed", Kind::Register, "RS-274 name of the register this job writes: G54 to G59.3."),
    default("protected", Kind::List(&REGISTER_NAME, 0, 8), "[]", "Registers that belong to other jobs."),
];

static BUDGET: [Field; 6] = [
    required("y_pickup", length(0.0, 1.0), "Of the Y pick-up."),
    required("off_centre", length(0.0, 1.0), "Of the off-centre."),
    required("axis_slope", length(0.0, 1.0), "Of the axis slope over the reach."),
    required("part_in_fixture", length(0.0, 1.0), "Of how the part sits in the fixture."),
    required("positioning", length(0.0, 1.0), "Of the machine's positioning."),
    required("critical_feature", Kind::Name, "The feature whose zone decides."),
];

static FIRST_RUN: [Field; 5] = [
    default_by_unit(
        "stops",
        Kind::List(&STOP_OBJECT, 1, 10),
        [
            r#"[{"name": "far", "height": 30}, {"name": "near", "height": 5}, {"name": "gap", "height": 1}]"#,
            r#"[{"name": "far", "height": 1.2}, {"name": "near", "height": 0.2}, {"name": "gap", "height": 0.04}]"#,
        ],
        "Heights over the surface at which the run is stopped and read, largest first.",
    ),
    default_by_unit(
        "rapid_gap",
        length(0.1, 500.0),
        ["10", "0.4"],
        "Gap in which a rapid move must be stopped by hand.",
    ),
    required("air_lift", length(1.0, 500.0), "How far the air pass is lifted: the deepest tip and 5 mm more."),
    default_by_unit("clearance", length(0.1, 500.0), ["10", "0.4"], "Height of the clearance plane over the surface."),
    default("chip_margin", ratio(1.0, 10.0), "2", "Safety factor on the least chip."),
];

static STOP: [Field; 2] = [
    required("name", Kind::Text(20), "What the stop is called."),
    required("height", length(0.05, 500.0), "Height of the tip over the surface."),
];
