//! Every ask of the linear pickup.

use crate::checklist::{AskKind, AskSpec, Reader};
use crate::steps::voids::{NOTHING, PLACE};

pub(super) static MACHINE_A: AskSpec = AskSpec::new(
    "pickup.machine-a",
    AskKind::Angle,
    "Tip clear of the swing. Machine A as it stands for the pickup, read off the screen (machine, not work).",
    PLACE,
);
pub(super) static TIP_RADIUS: AskSpec =
    AskSpec::new("pickup.tip-radius", AskKind::Length, "RADIUS of the edge finder's tip (half its diameter).", NOTHING);
pub(super) static TOUCH_HEIGHT: AskSpec = AskSpec::new(
    "pickup.touch-height",
    AskKind::Length,
    "How far above the rotary centreline will you touch the two Y faces? 0 is best: then the roll does not matter.",
    PLACE,
);
pub(super) static X_SIDE: AskSpec = AskSpec::choice(
    "pickup.x-side",
    &["plus-side", "minus-side"],
    "On which side of the fixture's back face does the tip stand when it touches: its +X side or its -X side?",
    PLACE,
);
pub(super) static X: AskSpec = AskSpec::new(
    "pickup.x",
    AskKind::Length,
    "Touch the back face, always coming the same way. Machine X at the touch, as it is: the radius is taken off here.",
    PLACE,
)
.read_by(Reader::EdgeFinder);
pub(super) static Y_FRONT: AskSpec = AskSpec::new(
    "pickup.y-front",
    AskKind::Length,
    "Touch the FRONT face (towards you). Machine Y at the touch.",
    PLACE,
)
.read_by(Reader::EdgeFinder);
pub(super) static Y_BACK: AskSpec = AskSpec::new(
    "pickup.y-back",
    AskKind::Length,
    "Touch the BACK face (away from you). Machine Y at the touch.",
    PLACE,
)
.read_by(Reader::EdgeFinder);
pub(super) static TIP_CLEAR: AskSpec = AskSpec::new(
    "pickup.tip-clear",
    AskKind::YesNo,
    "Before the rotary turns: is the tip above the swing, hands clear, nobody near?",
    PLACE,
);
pub(super) static EDGE_REAR: AskSpec = AskSpec::new(
    "pickup.edge-rear",
    AskKind::Length,
    "A as for the front and back touch. Indicator on the FIXTURE's own top edge (not the part), rear place.",
    PLACE,
)
.read_by(Reader::Lever);
pub(super) static EDGE_FRONT: AskSpec =
    AskSpec::new("pickup.edge-front", AskKind::Length, "Same edge of the fixture, front place.", PLACE)
        .read_by(Reader::Lever);
pub(super) static SETTER_TOUCH: AskSpec = AskSpec::new(
    "pickup.setter-touch",
    AskKind::Length,
    "Reference tool on the setter that stands on the table. Machine Z at the touch.",
    PLACE,
)
.read_by(Reader::Setter);
pub(super) static Z_TOP: AskSpec = AskSpec::new(
    "pickup.z-top",
    AskKind::Length,
    "Fixture level, top face up: touch it. Z of the TIP (machine Z less the tool length).",
    PLACE,
)
.read_by(Reader::Setter);
pub(super) static Y_TURN_PLUS: AskSpec = AskSpec::new(
    "pickup.y-turn-plus",
    AskKind::Length,
    "Quarter turn so that the same face looks to +Y (rear): touch it. Machine Y.",
    PLACE,
)
.read_by(Reader::EdgeFinder);
pub(super) static Y_TURN_MINUS: AskSpec = AskSpec::new(
    "pickup.y-turn-minus",
    AskKind::Length,
    "Half a turn further, the same face looks to -Y (front): touch it. Machine Y.",
    PLACE,
)
.read_by(Reader::EdgeFinder);
pub(super) static SLOPE_Y_NEAR: AskSpec =
    AskSpec::new("pickup.slope-y-near", AskKind::Length, "Axis slope in Y: indicator near the faceplate.", PLACE)
        .read_once_by(Reader::Lever);
pub(super) static SLOPE_Y_FAR: AskSpec =
    AskSpec::new("pickup.slope-y-far", AskKind::Length, "Axis slope in Y: same line, far end.", PLACE)
        .read_once_by(Reader::Lever);
pub(super) static SLOPE_Z_NEAR: AskSpec =
    AskSpec::new("pickup.slope-z-near", AskKind::Length, "Axis slope in Z: indicator near the faceplate.", PLACE)
        .read_once_by(Reader::Lever);
pub(super) static SLOPE_Z_FAR: AskSpec =
    AskSpec::new("pickup.slope-z-far", AskKind::Length, "Axis slope in Z: same line, far end.", PLACE)
        .read_once_by(Reader::Lever);
pub(super) static CHECK_X: AskSpec = AskSpec::new(
    "pickup.check-x",
    AskKind::Length,
    "Check touch: the back face again, the same way as before. Machine X at the touch.",
    PLACE,
)
.read_by(Reader::EdgeFinder);
pub(super) static CHECK_Y: AskSpec = AskSpec::new(
    "pickup.check-y",
    AskKind::Length,
    "Check touch: the centreline in Y again, fixture level, touched at centre height. Machine Y of the middle.",
    PLACE,
)
.read_by(Reader::EdgeFinder);
pub(super) static CHECK_Z: AskSpec = AskSpec::new(
    "pickup.check-z",
    AskKind::Length,
    "Check touch: the reference tool on the setter again. Machine Z at the touch.",
    PLACE,
)
.read_by(Reader::Setter);
pub(super) static X_OPPOSITE: AskSpec = AskSpec::new(
    "pickup.x-opposite",
    AskKind::Length,
    "Touch the face OPPOSITE the back face, along X. Machine X at the touch, as it is.",
    PLACE,
)
.read_by(Reader::EdgeFinder);
pub(super) static EDGE_X: AskSpec = AskSpec::new(
    "pickup.edge-x",
    AskKind::Length,
    "Touch the back face at the next place along it, first near one end, last near the other. Machine X at the touch.",
    PLACE,
)
.read_once_by(Reader::EdgeFinder);
pub(super) static EDGE_Y: AskSpec =
    AskSpec::new("pickup.edge-y", AskKind::Length, "Machine Y at the same touch.", PLACE);
pub(super) static SIDE_Y: AskSpec = AskSpec::new(
    "pickup.side-y",
    AskKind::Length,
    "Touch the FRONT face at the next place along X, first near one end, last near the other. Machine Y at the touch.",
    PLACE,
)
.read_once_by(Reader::EdgeFinder);
pub(super) static SIDE_X: AskSpec =
    AskSpec::new("pickup.side-x", AskKind::Length, "Machine X at the same touch.", PLACE);
pub(super) static ROUND_X: AskSpec = AskSpec::new(
    "pickup.round-x",
    AskKind::Length,
    "Touch the round at the next place, going evenly all round. Machine X at the touch.",
    PLACE,
)
.read_once_by(Reader::EdgeFinder);
pub(super) static ROUND_Y: AskSpec =
    AskSpec::new("pickup.round-y", AskKind::Length, "Machine Y at the same touch.", PLACE)
        .read_once_by(Reader::EdgeFinder);
pub(super) static SWEEP_X: AskSpec = AskSpec::new(
    "pickup.sweep-x",
    AskKind::Length,
    "Indicator in the spindle, in the bore, spindle turned by hand only. Machine X where the spindle stands.",
    PLACE,
);
pub(super) static SWEEP_Y: AskSpec =
    AskSpec::new("pickup.sweep-y", AskKind::Length, "Machine Y where the spindle stands.", PLACE);
pub(super) static SWEEP_PLUS_X: AskSpec =
    AskSpec::new("pickup.sweep-plus-x", AskKind::Length, "Sweep: reading at the +X side (plus = pressed in).", PLACE)
        .read_once_by(Reader::Lever);
pub(super) static SWEEP_MINUS_X: AskSpec =
    AskSpec::new("pickup.sweep-minus-x", AskKind::Length, "Sweep: reading at the -X side.", PLACE)
        .read_once_by(Reader::Lever);
pub(super) static SWEEP_PLUS_Y: AskSpec =
    AskSpec::new("pickup.sweep-plus-y", AskKind::Length, "Sweep: reading at the +Y side (rear).", PLACE)
        .read_once_by(Reader::Lever);
pub(super) static SWEEP_MINUS_Y: AskSpec =
    AskSpec::new("pickup.sweep-minus-y", AskKind::Length, "Sweep: reading at the -Y side (front).", PLACE)
        .read_once_by(Reader::Lever);
pub(super) static TOP_TOUCH: AskSpec = AskSpec::new(
    "pickup.top-touch",
    AskKind::Length,
    "Fixture level. Reference tool on the setter that stands on the fixture's face that looks up. Machine Z at the touch.",
    PLACE,
)
.read_by(Reader::Setter);

/// Every ask of this step, in the order of the permanent table.
pub(super) static ALL: &[&AskSpec] = &[
    &MACHINE_A,
    &TIP_RADIUS,
    &TOUCH_HEIGHT,
    &X_SIDE,
    &X,
    &Y_FRONT,
    &Y_BACK,
    &TIP_CLEAR,
    &EDGE_REAR,
    &EDGE_FRONT,
    &SETTER_TOUCH,
    &Z_TOP,
    &Y_TURN_PLUS,
    &Y_TURN_MINUS,
    &SLOPE_Y_NEAR,
    &SLOPE_Y_FAR,
    &SLOPE_Z_NEAR,
    &SLOPE_Z_FAR,
    &CHECK_X,
    &CHECK_Y,
    &CHECK_Z,
    &X_OPPOSITE,
    &EDGE_X,
    &EDGE_Y,
    &SIDE_Y,
    &SIDE_X,
    &ROUND_X,
    &ROUND_Y,
    &SWEEP_X,
    &SWEEP_Y,
    &SWEEP_PLUS_X,
    &SWEEP_MINUS_X,
    &SWEEP_PLUS_Y,
    &SWEEP_MINUS_Y,
    &TOP_TOUCH,
];
