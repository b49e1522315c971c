//! Rotary tram (level): the sense test, pads read and turned level in as few tries as possible, the gain of each move,
//! the brake, and the capture of the zero in a register of its own. Done for each piece.

mod brake;
mod once_a_session;
mod sense;
pub(in crate::steps) mod tries;

use crate::checklist::{
    AskKind, AskSpec, Consultation, Happening, Question, Reader, Scope, Situation, Step, Worksheet,
};
use crate::steps::capture;
use crate::steps::index_table;
use crate::steps::load_piece::{self, LoadingAsks};
use crate::steps::serial;
use crate::steps::voids::{LOADED, NEEDLE, REGISTERS, SENSE, ZERO};

static SEEN_DOWN: AskSpec = AskSpec::new(
    "tram.seen-down",
    AskKind::YesNo,
    "Next piece cleaned, in the ring, seen down all round before and after tightening?",
    LOADED,
);
static RING_GAP: AskSpec =
    AskSpec::new("tram.ring-gap", AskKind::Length, "Gap at the split of the ring, by feeler.", LOADED)
        .read_by(Reader::Feeler);
static LOADING: LoadingAsks = LoadingAsks {
    seen_down: &SEEN_DOWN,
    ring_gap: &RING_GAP,
    expected_gap: "tram.expected-gap",
    gap_gate: "tram.ring-gap",
};

static SENSE_TEST: AskSpec = AskSpec::choice(
    "tram.sense",
    &["rises", "falls", "cannot-tell"],
    "Sense test, by eye with the indicator away: turn A a little PLUS (0.1 degree). Does the REAR pad rise or fall?",
    SENSE,
);
static TIP_CLEAR: AskSpec = AskSpec::new(
    "tram.tip-clear",
    AskKind::YesNo,
    "Before every turn of the rotary: tip above the swing and its margin, brake off, hands clear, everybody told?",
    ZERO,
);
static MACHINE_A: AskSpec =
    AskSpec::new("tram.machine-a", AskKind::Angle, "MACHINE A as it stands for this try, read off the screen.", ZERO);
static APPROACH: AskSpec = AskSpec::choice(
    "tram.approach",
    &["from-below", "from-above"],
    "From which side was A brought to where it stands? Always finish from the same side: then the play cancels.",
    ZERO,
);
static REAR: AskSpec = AskSpec::new("tram.rear", AskKind::Length, "Indicator on the REAR pad (plus = higher).", ZERO)
    .read_by(Reader::Lever);
static FRONT: AskSpec = AskSpec::new("tram.front", AskKind::Length, "Indicator on the FRONT pad, same setting.", ZERO)
    .read_by(Reader::Lever);
static METHOD: AskSpec = AskSpec::choice(
    "tram.way",
    &["needle", "z-null"],
    "How will you read the pads: the needle against a preset, or Z jogged down to the needle's zero?",
    ZERO,
);
static PRELOAD: AskSpec = AskSpec::new(
    "tram.preload",
    AskKind::Length,
    "By how much was the needle pressed in where it was set (preload)?",
    NEEDLE,
);
static PLAY_REAR: AskSpec =
    AskSpec::new("tram.play-rear", AskKind::Length, "Same A from the other side: REAR pad.", SENSE)
        .read_once_by(Reader::Lever);
static PLAY_FRONT: AskSpec = AskSpec::new(
    "tram.play-front",
    AskKind::Length,
    "Same A from the other side: FRONT pad. Then go back and come up from the usual side again.",
    SENSE,
)
.read_once_by(Reader::Lever);
static KNOWN_JOG: AskSpec =
    AskSpec::new("tram.known-jog", AskKind::Length, "Movement of the needle over a known jog of Z.", NEEDLE);
static ACCEPT: AskSpec = AskSpec::choice(
    "tram.accept",
    &["accept", "move"],
    "Level within the limit already. Accept it, or make the small move that is left?",
    ZERO,
);
static BRAKE_ON: AskSpec =
    AskSpec::new("tram.brake-on", AskKind::YesNo, "Rotary brake on, as it will be in the cut?", ZERO);
static BRAKE_REAR: AskSpec =
    AskSpec::new("tram.brake-rear", AskKind::Length, "Brake on: indicator on the REAR pad.", ZERO)
        .read_once_by(Reader::Lever);
static BRAKE_FRONT: AskSpec =
    AskSpec::new("tram.brake-front", AskKind::Length, "Brake on: indicator on the FRONT pad.", ZERO)
        .read_once_by(Reader::Lever);

/// Rotary tram.
pub(super) struct RotaryTram;

impl Step for RotaryTram {
    fn id(&self) -> &'static str {
        "rotary-tram"
    }

    fn title(&self) -> &'static str {
        "rotary tram (level)"
    }

    fn scope(&self) -> Scope {
        Scope::EachPiece
    }

    fn needs(&self) -> &'static [&'static str] {
        &["linear-pickup"]
    }

    fn shaken_by(&self) -> &'static [Happening] {
        REGISTERS
    }

    fn asks(&self) -> &'static [&'static AskSpec] {
        static ASKS: &[&AskSpec] = &[
            &serial::SERIAL_ON_PIECE,
            &SEEN_DOWN,
            &RING_GAP,
            &SENSE_TEST,
            &TIP_CLEAR,
            &MACHINE_A,
            &APPROACH,
            &REAR,
            &FRONT,
            &METHOD,
            &PRELOAD,
            &PLAY_REAR,
            &PLAY_FRONT,
            &ACCEPT,
            &KNOWN_JOG,
            &BRAKE_ON,
            &BRAKE_REAR,
            &BRAKE_FRONT,
            &capture::REGISTERS_BEFORE,
            &capture::MACHINE_A,
            &capture::DISPLAYED_A,
            &capture::LIVE_A,
            &capture::REGISTERS_AFTER,
            &capture::OTHERS_UNCHANGED,
            &capture::TOOL_LENGTH,
            &capture::COMMON_SHIFT,
            &capture::MACHINE_X,
            &capture::WORK_X,
            &capture::MACHINE_Y,
            &capture::WORK_Y,
            &capture::MACHINE_Z,
            &capture::WORK_Z,
            &capture::WORK_A,
            &capture::RETURN_X,
        ];
        ASKS
    }

    fn names(&self) -> &'static [(&'static str, &'static str)] {
        NAMES
    }

    fn consult(&self, at: &Situation<'_>) -> Consultation {
        Worksheet::walk(at, procedure)
    }
}

static NAMES: &[(&str, &str)] = &[
    ("tram.serial-new", "gate: this serial was not loaded before"),
    ("tram.serial-loaded", "fact: the serial of the piece"),
    ("tram.expected-gap", "finding: ring gap that the part's diameter asks for"),
    ("tram.ring-gap", "gate: ring gap as expected"),
    ("tram.sense", "gate and fact: the work turns the way that the profile says"),
    ("tram.can-prove", "gate: this indicator can prove the limit"),
    ("tram.way", "fact: how the pads are read"),
    ("tram.now", "finding: rear minus front by all tries, with its verdict"),
    ("tram.scatter", "finding and gate: the repeats scatter more than was assumed, and can still prove the limit"),
    ("tram.preload", "gate: the needle has room on both sides of its swing"),
    ("tram.play", "finding and fact: play of the rotary"),
    ("tram.indicator-factor", "gate and fact: the needle shows what was jogged"),
    ("tram.one-way", "gate: A always brought up from the same side"),
    ("tram.difference", "finding: rear minus front, with its verdict"),
    ("tram.roll", "finding: roll of the part, plus = rear high"),
    ("tram.next-a", "finding and move: the A to set next"),
    ("tram.gain", "finding and gate: change seen over change asked"),
    ("tram.fits", "gate: the newest try lies where the others put it"),
    ("tram.level", "gate: the part is level"),
    ("tram.brake-roll", "finding: turn of the part when the brake goes on"),
    ("tram.brake", "gate: the brake does not turn the part too far"),
    ("tram.clocking", "finding and fact: part against fixture"),
    ("tram.residual", "fact: pad difference left"),
    ("tram.a", "finding and fact: A register"),
    ("tram.mean-a", "finding: mean A of the pieces so far, round the circle"),
    ("capture.register-free", "gate: the claimed register is empty or ours"),
    ("capture.machine-not-displayed", "gate: machine A was typed, not displayed A"),
    ("capture.x", "fact: X register as written"),
    ("capture.y", "fact: Y register as written"),
    ("capture.z", "fact: Z register as written"),
    ("capture.written", "gate: the register holds what was to be written"),
    ("capture.others-unchanged", "gate: no other register changed"),
    ("capture.identity", "finding and gate: machine = display + register + shift + length, on one axis"),
    ("capture.shows-zero", "finding and gate: the display shows the nominal angle"),
    ("capture.return-x", "finding and gate: the back face stands at work X 0"),
    ("index.off-centre-y", "finding and fact: off-centre in Y with the zero on this piece"),
    ("index.off-centre-z", "finding and fact: off-centre in Z with the zero on this piece"),
    ("index.off-centre-moved", "finding and gate: how far the off-centre moved against piece 1"),
    ("index.a-program", "finding and fact: programmed A of a feature"),
    ("index.a-machine", "finding: machine A of a feature"),
    ("index.shift-y", "finding: off-centre shift in Y at a feature's index"),
    ("index.shift-z", "finding: off-centre shift in Z at a feature's index"),
    ("index.x-machine", "finding: machine X of a feature"),
    ("index.y-machine", "finding: machine Y of a feature"),
    ("index.z-surface", "finding: Z of the tip at the surface of a feature"),
    ("index.x-program", "finding: programmed X of a feature"),
    ("index.y-program", "finding: programmed Y of a feature"),
    ("index.z-program", "finding and fact: programmed Z of the surface of a feature"),
    ("index.travel", "finding and gate: room to the end of travel of a feature on one axis"),
    ("index.table-gap", "finding and gate: gap to the table at the index of a feature"),
    ("index.entry-slope", "finding: slope of the surface where a feature starts"),
];

fn procedure(sheet: &mut Worksheet<'_>) -> Option<()> {
    sheet.caution("Hands clear when the rotary turns; it can start faster than you expect. Tell anyone near.");
    sheet.trap("A needle that reads flat has run out of preload: back off and start again.");
    serial::of_this_piece(sheet)?;
    if sheet.at().piece.is_some_and(|piece| piece > 1) {
        load_piece::load(sheet, &LOADING)?;
    }
    sheet.tick(Question::of(&TIP_CLEAR).say(clear_words(sheet)), "Raise the tip and clear the table first.")?;
    let known = sense::sense(sheet)?;
    let level = tries::level(sheet, known)?;
    let turns = sense::settled(sheet, known, &level)?;
    brake::brake(sheet, turns, &level)?;
    let clocking = index_table::clocking(sheet, turns, &level)?;
    let captured = capture::capture(sheet, turns, &level)?;
    index_table::table(sheet, turns, clocking, &captured)
}

fn clear_words(sheet: &Worksheet<'_>) -> String {
    let swing = sheet.at().handed.number("fit.swing").unwrap_or(0.0);
    let height = swing + sheet.card().machine.swing_margin.mm();
    format!(
        "Before every turn of the rotary: tip at least {} above the centreline, brake off, hands clear, everybody told?",
        sheet.length(height, 0.1)
    )
}
