//! The ring fixture and the jaws it stands on.

use super::{Field, Kind, PLACE_YZ, TITLE, default, default_by_unit, degrees, free, length, measure, ratio, required};
use crate::quantity::Dimension;

static SEAT_CORNER: Kind = Kind::Object(&PLACE_UV);
static PROTRUDING: Kind = Kind::Object(&PROTRUDING_POINT);

pub(super) static FIXTURE: [Field; 32] = [
    required("id", Kind::Name, "Short name."),
    required("width", length(20.0, 600.0), "Width across the two faces touched for Y."),
    required("height", length(20.0, 600.0), "Height across top and bottom."),
    required("half_height", length(10.0, 300.0), "Measured half height, middle to top face."),
    default_by_unit(
        "width_tolerance",
        length(0.0, 1.0),
        ["0.01", "0.0005"],
        "How far the width may be off the card when it is measured at the machine.",
    ),
    required("ring_bore", length(2.0, 400.0), "Bore of the ring when its gap is free."),
    required("free_gap", length(0.0, 20.0), "Width of the free gap."),
    required("jaw_length", length(3.0, 400.0), "Length of a jaw along the slot."),
    required("fillet_radius", length(0.0, 20.0), "Fillet radius in the slot's floor corners."),
    required("jaw_chamfer", length(0.0, 20.0), "Chamfer of the jaw's edges."),
    required("play_window", Kind::Object(&PLAY_WINDOW), "Smallest and largest play wanted in the slots."),
    required("play_wanted", length(0.0, 1.0), "Play aimed for when slots are opened."),
    default_by_unit(
        "gauge_disagreement",
        length(0.0, 0.1),
        ["0.003", "0.0001"],
        "The most by which the gauge for the slots and the one for the jaws may constantly disagree.",
    ),
    default_by_unit(
        "relocation",
        length(0.0, 0.1),
        ["0.0075", "0.0003"],
        "Standard deviation of where the fixture comes back to in the vise, for one pass over its slots and the next.",
    ),
    free("slots", Kind::Object(&SLOTS), "Spacing and depth of the slots, to be checked at normal and record depth."),
    free(
        "slot_corners",
        Kind::Object(&SLOT_CORNERS),
        "Corners in plan, where a jaw ends inside a slot that is closed at its end.",
    ),
    free("clamp", Kind::Object(&CLAMP), "The screw that closes the ring, to check that the part is held."),
    required(
        "seat_corners",
        Kind::List(&SEAT_CORNER, 4, 4),
        "Where the four seat corners are indicated, in turn round the face.",
    ),
    default("seat_tilt_limit", degrees(0.0001, 5.0), "0.005", "Largest seat tilt allowed."),
    required(
        "mark_flat_y",
        length(-500.0, 500.0),
        "Y of the off-centre flat that tells the fixture's right way round.",
    ),
    required("off_centre_expected", Kind::Object(&PLACE_YZ), "Off-centre expected from last time, at index 0."),
    default_by_unit(
        "off_centre_tolerance",
        length(0.0001, 5.0),
        ["0.01", "0.0005"],
        "How far the off-centre may differ from that.",
    ),
    default("protruding", Kind::List(&PROTRUDING, 0, 40), "[]", "What sticks out and swings round with the fixture."),
    required("pad_span", length(2.0, 400.0), "Distance between the two pads of the part that are trammed."),
    default("pad_step", length(-50.0, 50.0), "0", "Height of the rear pad over the front pad on the drawing."),
    default(
        "pad_contact",
        Kind::Choice(&["flats", "high-points"]),
        "flats",
        "Pads read as flat faces at fixed Y, or two high points that turn with the part and are followed.",
    ),
    required(
        "edge_span",
        length(2.0, 600.0),
        "Distance along Y between the two places indicated on the fixture's own top edge.",
    ),
    required(
        "back_face_side",
        Kind::Choice(&["plus", "minus"]),
        "Side of the back face, along X, on which the edge finder stands when it touches.",
    ),
    default(
        "touch_height",
        length(-200.0, 200.0),
        "0",
        "Height over the centreline at which the Y faces are touched; 0 is best.",
    ),
    required("touch_along", length(0.0, 1000.0), "Distance from the back face at which the centreline is picked up."),
    required(
        "parallel_span",
        length(5.0, 1000.0),
        "Distance along X between the two places of the axis parallelism check.",
    ),
    default("clocking_window", degrees(0.01, 45.0), "3", "How much the captured A may differ from piece to piece."),
];

static SLOTS: [Field; 5] = [
    required("spacing", length(1.0, 500.0), "Middle of one slot to the middle of the other."),
    required("jaw_spacing", length(1.0, 500.0), "Middle of one jaw to the middle of the other."),
    required("depth", length(0.1, 200.0), "Depth of the slots."),
    required("jaw_height", length(0.1, 200.0), "How far the jaws stand into them."),
    required("seats_on", Kind::Choice(&["slot-floor", "back-face"]), "What the fixture stands on when it is down."),
];

static SLOT_CORNERS: [Field; 2] = [
    required("slot_radius", length(0.0, 20.0), "Radius that the cutter left in the slot's corners, seen from above."),
    required("jaw_radius", length(0.0, 20.0), "Radius of the jaw's corners, seen from above; 0 = sharp."),
];

static CLAMP: [Field; 5] = [
    required("ring_width", length(1.0, 300.0), "Width of the ring along the part."),
    required("screw_diameter", length(1.0, 50.0), "Thread diameter of the screw."),
    required("screw_torque", measure(Dimension::Torque, "N m", "lbf in", 0.05, 500.0), "Tightening torque."),
    default("torque_coefficient", ratio(0.05, 1.0), "0.2", "Torque over diameter and preload; 0.15 oiled, 0.2 dry."),
    default("friction", ratio(0.02, 1.0), "0.12", "Friction of ring on part."),
];

static PLAY_WINDOW: [Field; 2] =
    [required("smallest", length(0.0, 1.0), "Smallest play."), required("largest", length(0.0, 1.0), "Largest play.")];

static PLACE_UV: [Field; 2] = [
    required("u", length(-500.0, 500.0), "First coordinate from the middle of the seat."),
    required("v", length(-500.0, 500.0), "Second coordinate from the middle of the seat."),
];

static PROTRUDING_POINT: [Field; 3] = [
    required("name", TITLE, "What it is: screw head, jaw screw end."),
    required("y", length(-500.0, 500.0), "Y from the fixture's middle at index 0."),
    required("z", length(-500.0, 500.0), "Z from the fixture's middle at index 0."),
];
