//! The asks of the fixture fit and the names of what it finds.

use crate::checklist::{AskKind, AskSpec, Reader};
use crate::steps::voids::{LOADED, NOTHING, SEAT, SWING};

pub(super) static CLEAN: AskSpec = AskSpec::new(
    "fit.clean",
    AskKind::YesNo,
    "Spindle off, rotary held. Jaws, slots and faceplate stoned, wiped, and looked at once more with a light?",
    SEAT,
);
pub(super) static FEEL: AskSpec = AskSpec::choice(
    "fit.feel",
    &["will-not-start", "binds", "slides", "rocks"],
    "Offer the fixture up to the jaws by hand. How does it go?",
    SEAT,
);
pub(super) static JAW_1: AskSpec =
    AskSpec::new("fit.jaw-1", AskKind::Length, "Width of jaw 1, by micrometer.", NOTHING).read_by(Reader::Micrometer);
pub(super) static JAW_2: AskSpec =
    AskSpec::new("fit.jaw-2", AskKind::Length, "Width of jaw 2, by micrometer.", NOTHING).read_by(Reader::Micrometer);
pub(super) static SLOT_1: AskSpec =
    AskSpec::new("fit.slot-1", AskKind::Length, "Width of slot 1, by bore gauge or blocks, in its middle.", NOTHING)
        .read_by(Reader::BoreGauge);
pub(super) static SLOT_2: AskSpec =
    AskSpec::new("fit.slot-2", AskKind::Length, "Width of slot 2, by bore gauge or blocks, in its middle.", NOTHING)
        .read_by(Reader::BoreGauge);
pub(super) static ALLOWANCE_BEFORE: AskSpec = AskSpec::new(
    "fit.allowance-before",
    AskKind::Length,
    "The slots are too tight and must be opened. With which wall allowance were they cut last (off the program or the \
     control; 0 when it cut to its own walls)?",
    NOTHING,
);
pub(super) static IN_THE_VISE: AskSpec = AskSpec::new(
    "fit.in-the-vise",
    AskKind::YesNo,
    "Fixture stripped (screws, ring, part off), turned over, back in the vise on the SAME two datum edges, both picked up \
     again? Turned over, ONE axis of the slots changes its sign: the one you turned it across.",
    NOTHING,
);
pub(super) static WALL_1: AskSpec = AskSpec::new(
    "fit.slot-1-allowance",
    AskKind::Length,
    "Slot 1: which wall allowance did you command on EACH wall in this pass?",
    NOTHING,
);
pub(super) static WALL_2: AskSpec = AskSpec::new(
    "fit.slot-2-allowance",
    AskKind::Length,
    "Slot 2: which wall allowance did you command on EACH wall in this pass?",
    NOTHING,
);
pub(super) static NEAR_1: AskSpec =
    AskSpec::new("fit.slot-1-near", AskKind::Length, "Width of slot 1 at its near end.", NOTHING)
        .read_once_by(Reader::BoreGauge);
pub(super) static FAR_1: AskSpec =
    AskSpec::new("fit.slot-1-far", AskKind::Length, "Width of slot 1 at its far end.", NOTHING)
        .read_once_by(Reader::BoreGauge);
pub(super) static NEAR_2: AskSpec =
    AskSpec::new("fit.slot-2-near", AskKind::Length, "Width of slot 2 at its near end.", NOTHING)
        .read_once_by(Reader::BoreGauge);
pub(super) static FAR_2: AskSpec =
    AskSpec::new("fit.slot-2-far", AskKind::Length, "Width of slot 2 at its far end.", NOTHING)
        .read_once_by(Reader::BoreGauge);
pub(super) static WALLS: AskSpec = AskSpec::choice(
    "fit.walls",
    &["both-slots-grip", "slot-1-grips", "slot-2-grips"],
    "When the jaws close: do they grip in both slots, or does one slot grip and the other only guide?",
    SEAT,
);
pub(super) static SPACING: AskSpec =
    AskSpec::new("fit.slot-spacing", AskKind::Length, "Middle of slot 1 to the middle of slot 2.", NOTHING);
pub(super) static DEPTH: AskSpec = AskSpec::new("fit.slot-depth", AskKind::Length, "Depth of the slots.", NOTHING);
pub(super) static FEELER: AskSpec = AskSpec::new(
    "fit.seat-feeler",
    AskKind::YesNo,
    "Jaws closed a little at a time, fixture tapped down between, until they are tight. Does a 0.02 mm (0.001 in) feeler \
     stay out at all four corners?",
    SEAT,
);
pub(super) static CORNERS: AskSpec =
    AskSpec::new("fit.seat-corner", AskKind::Length, "Indicator along X on the next seat corner, going round.", SEAT)
        .read_once_by(Reader::SeatIndicator);
pub(super) static CORNERS_AGAIN: AskSpec = AskSpec::new(
    "fit.seat-corner-again",
    AskKind::Length,
    "Jaws released, fixture lifted, wiped, tapped down while tightening: the same corners once more.",
    SEAT,
)
.read_once_by(Reader::SeatIndicator);
pub(super) static MARK_FLAT: AskSpec = AskSpec::new(
    "fit.mark-flat",
    AskKind::Length,
    "Where does the off-centre flat stand in Y, from the rotary centreline?",
    SEAT,
);
pub(super) static STICKS_OUT: AskSpec = AskSpec::choice(
    "fit.sticks-out",
    &["as-on-card", "further-out"],
    "Key out of the jaw and the screws. Screw heads, jaw-screw end, handles: as on the card, or does anything reach further?",
    SWING,
);
pub(super) static POINT_Y: AskSpec =
    AskSpec::new("fit.point-y", AskKind::Length, "The point that reaches furthest: its Y from the centreline.", SWING);
pub(super) static POINT_Z: AskSpec =
    AskSpec::new("fit.point-z", AskKind::Length, "And its Z from the centreline.", SWING);
pub(super) static OBSTACLES: AskSpec = AskSpec::choice(
    "fit.obstacles",
    &["as-on-card", "something-more"],
    "Tail, probe, hoses, door, column: do they stand as on the card, or is there something more near the swing?",
    SWING,
);
pub(super) static RING_TORQUE: AskSpec = AskSpec::new(
    "fit.ring-torque",
    AskKind::Torque,
    "Ring screw tightened: to which torque? Draw a line across part and ring, to see it turn.",
    LOADED,
);
pub(super) static SEEN_DOWN: AskSpec = AskSpec::new(
    "fit.seen-down",
    AskKind::YesNo,
    "First piece cleaned, in the ring, seen down all round before and after tightening?",
    LOADED,
);
pub(super) static RING_GAP: AskSpec =
    AskSpec::new("fit.ring-gap", AskKind::Length, "Gap at the split of the ring, by feeler.", LOADED)
        .read_by(Reader::Feeler);

pub(super) static ASKS: &[&AskSpec] = &[
    &CLEAN,
    &FEEL,
    &JAW_1,
    &JAW_2,
    &SLOT_1,
    &SLOT_2,
    &ALLOWANCE_BEFORE,
    &IN_THE_VISE,
    &WALL_1,
    &WALL_2,
    &NEAR_1,
    &FAR_1,
    &NEAR_2,
    &FAR_2,
    &WALLS,
    &SPACING,
    &DEPTH,
    &FEELER,
    &CORNERS,
    &CORNERS_AGAIN,
    &MARK_FLAT,
    &STICKS_OUT,
    &POINT_Y,
    &POINT_Z,
    &OBSTACLES,
    &SEEN_DOWN,
    &RING_GAP,
    &RING_TORQUE,
];

pub(super) static NAMES: &[(&str, &str)] = &[
    ("fit.play-estimate", "finding: play of a slot by all its readings, passes and the hand"),
    ("fit.chance-inside", "finding: chance that the play is inside its window"),
    ("fit.share", "finding: share of a commanded wall cut that really comes off"),
    ("fit.leftover", "finding: what is left on each wall of what was commanded"),
    ("fit.next-allowance", "finding and move: wall allowance to command on each wall next"),
    ("fit.next-opening", "finding: how much the next pass is expected to open the slot"),
    ("fit.chance-landing", "finding: chance that the next pass lands in the window"),
    ("fit.chance-overshoot", "finding: chance that the next pass overshoots it"),
    ("fit.chance-rub", "finding: chance that the next pass only rubs"),
    ("fit.play", "finding and fact: play of a jaw in its slot"),
    ("fit.play-angle", "finding and fact: how far the play lets the fixture turn"),
    ("fit.play-window", "gate: play inside the window on the card"),
    ("fit.play-turn", "gate: the play turns the fixture less than the tram allows"),
    ("fit.taper", "finding and gate: taper along a slot"),
    ("fit.narrowest", "finding: play at the narrowest place of a slot"),
    ("fit.feel-agrees", "gate: the feel agrees with the measured play"),
    ("fit.spacing", "finding and gate: spacing of the slots against the jaws"),
    ("fit.floor-gap", "finding and gate: gap between slot floor and jaw"),
    ("fit.walls", "fact: which slots grip"),
    ("fit.standoff", "finding and gate: the jaw stands off the slot's floor"),
    ("fit.plan-gap", "finding and gate: a jaw's corners clear the round corners of a closed slot"),
    ("fit.relief-hole", "finding: relief hole that would let it seat"),
    ("fit.relief-centre", "finding: how far inside each wall its centre lies"),
    ("fit.relief-overcut", "finding: how deep it cuts into each wall"),
    ("fit.seat-tilt", "finding and gate: tilt of the seat (wedge)"),
    ("fit.seat-rock", "finding and gate: twist of the seat (rock)"),
    ("fit.seat-height", "finding: height of the seat plane at its middle"),
    ("fit.seat-slope-u", "finding: slope of the seat along u"),
    ("fit.seat-slope-v", "finding: slope of the seat along v"),
    ("fit.seat-residual", "finding: largest corner off the plane"),
    ("fit.seat-repeat", "finding and gate: the seat comes back after clamping again"),
    ("fit.right-way-round", "gate: the fixture is not turned half round"),
    ("fit.swing", "finding and fact: largest radius that swings"),
    ("fit.table-clearance", "finding and gate: gap from the swing to the table"),
    ("fit.forbidden-from", "finding: index from which a point comes too low or too near"),
    ("fit.forbidden-to", "finding: index up to which it does"),
    ("fit.obstacle", "finding and gate: gap from the swing to an obstacle"),
    ("fit.obstacles-listed", "gate: all that stands near the swing is on the card"),
    ("fit.expected-gap", "finding: ring gap that the part's diameter asks for"),
    ("fit.ring-gap", "gate: ring gap as expected"),
    ("fit.slip-torque", "finding: torque at which the part turns in the ring"),
    ("fit.holding", "finding and gate: share of the ring's grip that a cut asks for"),
    ("fit.ring-tight", "gate: the ring is not tightened over its torque"),
    ("fit.brake-use", "finding and gate: share of the brake that a cut asks for"),
];
