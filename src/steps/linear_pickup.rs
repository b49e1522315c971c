//! Linear pickup: X from the back face, Y by the flip with the fixture's own roll, Z from the known centre height and
//! again by the quarter turn, the slope of the axis, and check touches after an interruption.

mod check_touch;
mod x_and_y;
mod z_and_slope;

use crate::checklist::{
    AskKind, AskSpec, Consultation, Happening, Question, Reader, Scope, Situation, Step, Window, Worksheet,
};
use crate::job::Depth;
use crate::steps::voids::{NOTHING, PICKUP, PLACE};

static MACHINE_A: AskSpec = AskSpec::new(
    "pickup.machine-a",
    AskKind::Angle,
    "Tip clear of the swing. Machine A as it stands for the pickup, read off the screen (machine, not work).",
    PLACE,
);
static TIP_RADIUS: AskSpec =
    AskSpec::new("pickup.tip-radius", AskKind::Length, "RADIUS of the edge finder's tip (half its diameter).", NOTHING);
static TOUCH_HEIGHT: AskSpec = AskSpec::new(
    "pickup.touch-height",
    AskKind::Length,
    "How far above the rotary centreline will you touch the two Y faces? 0 is best: then the roll does not matter.",
    PLACE,
);
static X_SIDE: AskSpec = AskSpec::choice(
    "pickup.x-side",
    &["plus-side", "minus-side"],
    "On which side of the fixture's back face does the tip stand when it touches: its +X side or its -X side?",
    PLACE,
);
static X: AskSpec = AskSpec::new(
    "pickup.x",
    AskKind::Length,
    "Touch the back face, always coming the same way. Machine X at the touch, as it is: the radius is taken off here.",
    PLACE,
)
.read_by(Reader::EdgeFinder);
static Y_FRONT: AskSpec = AskSpec::new(
    "pickup.y-front",
    AskKind::Length,
    "Touch the FRONT face (towards you). Machine Y at the touch.",
    PLACE,
)
.read_by(Reader::EdgeFinder);
static Y_BACK: AskSpec = AskSpec::new(
    "pickup.y-back",
    AskKind::Length,
    "Touch the BACK face (away from you). Machine Y at the touch.",
    PLACE,
)
.read_by(Reader::EdgeFinder);
static TIP_CLEAR: AskSpec = AskSpec::new(
    "pickup.tip-clear",
    AskKind::YesNo,
    "Before the rotary turns: is the tip above the swing, hands clear, nobody near?",
    PLACE,
);
static EDGE_REAR: AskSpec = AskSpec::new(
    "pickup.edge-rear",
    AskKind::Length,
    "A as for the front and back touch. Indicator on the FIXTURE's own top edge (not the part), rear place.",
    PLACE,
)
.read_by(Reader::Lever);
static EDGE_FRONT: AskSpec =
    AskSpec::new("pickup.edge-front", AskKind::Length, "Same edge of the fixture, front place.", PLACE)
        .read_by(Reader::Lever);
static SETTER_TOUCH: AskSpec = AskSpec::new(
    "pickup.setter-touch",
    AskKind::Length,
    "Reference tool on the setter that stands on the table. Machine Z at the touch.",
    PLACE,
)
.read_by(Reader::Setter);
static Z_TOP: AskSpec = AskSpec::new(
    "pickup.z-top",
    AskKind::Length,
    "Fixture level, top face up: touch it. Z of the TIP (machine Z less the tool length).",
    PLACE,
)
.read_by(Reader::Setter);
static Y_TURN_PLUS: AskSpec = AskSpec::new(
    "pickup.y-turn-plus",
    AskKind::Length,
    "Quarter turn so that the same face looks to +Y (rear): touch it. Machine Y.",
    PLACE,
)
.read_by(Reader::EdgeFinder);
static Y_TURN_MINUS: AskSpec = AskSpec::new(
    "pickup.y-turn-minus",
    AskKind::Length,
    "Half a turn further, the same face looks to -Y (front): touch it. Machine Y.",
    PLACE,
)
.read_by(Reader::EdgeFinder);
static SLOPE_Y_NEAR: AskSpec =
    AskSpec::new("pickup.slope-y-near", AskKind::Length, "Axis slope in Y: indicator near the faceplate.", PLACE)
        .read_once_by(Reader::Lever);
static SLOPE_Y_FAR: AskSpec =
    AskSpec::new("pickup.slope-y-far", AskKind::Length, "Axis slope in Y: same line, far end.", PLACE)
        .read_once_by(Reader::Lever);
static SLOPE_Z_NEAR: AskSpec =
    AskSpec::new("pickup.slope-z-near", AskKind::Length, "Axis slope in Z: indicator near the faceplate.", PLACE)
        .read_once_by(Reader::Lever);
static SLOPE_Z_FAR: AskSpec =
    AskSpec::new("pickup.slope-z-far", AskKind::Length, "Axis slope in Z: same line, far end.", PLACE)
        .read_once_by(Reader::Lever);
static CHECK_X: AskSpec = AskSpec::new(
    "pickup.check-x",
    AskKind::Length,
    "Check touch: the back face again, the same way as before. Machine X at the touch.",
    PLACE,
)
.read_by(Reader::EdgeFinder);
static CHECK_Y: AskSpec = AskSpec::new(
    "pickup.check-y",
    AskKind::Length,
    "Check touch: the centreline in Y again, fixture level, touched at centre height. Machine Y of the middle.",
    PLACE,
)
.read_by(Reader::EdgeFinder);
static CHECK_Z: AskSpec = AskSpec::new(
    "pickup.check-z",
    AskKind::Length,
    "Check touch: the reference tool on the setter again. Machine Z at the touch.",
    PLACE,
)
.read_by(Reader::Setter);

/// Linear pickup.
pub(super) struct LinearPickup;

impl Step for LinearPickup {
    fn id(&self) -> &'static str {
        "linear-pickup"
    }

    fn title(&self) -> &'static str {
        "linear pickup"
    }

    fn scope(&self) -> Scope {
        Scope::Setup
    }

    fn needs(&self) -> &'static [&'static str] {
        &["fixture-fit"]
    }

    fn shaken_by(&self) -> &'static [Happening] {
        PICKUP
    }

    fn asks(&self) -> &'static [&'static AskSpec] {
        static ASKS: &[&AskSpec] = &[
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
        ];
        ASKS
    }

    fn names(&self) -> &'static [(&'static str, &'static str)] {
        &[
            ("pickup.x-side", "gate: the tip stands on the side that the card says"),
            ("pickup.x", "finding and fact: X of the back face"),
            ("pickup.width", "finding and gate: the fixture's width comes out of the touches"),
            ("pickup.middle", "finding: middle of front and back as read"),
            ("pickup.flip-uncorrected", "finding: centreline by the flip before the roll correction"),
            ("pickup.fixture-roll", "finding and fact: roll of the fixture at the touch"),
            ("pickup.y", "finding and fact: Y of the rotary centreline"),
            ("pickup.off-centre-y", "finding and fact: fixture off the centreline in Y"),
            ("pickup.off-centre-z", "finding and fact: fixture off the centreline in Z"),
            ("pickup.off-centre", "gate: off-centre as expected from last time"),
            ("pickup.table", "finding: Z of the table top"),
            ("pickup.z", "finding and fact: Z register that puts zero on the centreline"),
            ("pickup.z-quarter-turn", "finding: Z of the centreline by the quarter turn"),
            ("pickup.y-quarter-turn", "finding: Y of the centreline by the quarter turn"),
            ("pickup.half-height", "finding: top face above the centreline"),
            ("pickup.z-two-ways", "finding and gate: the two ways to Z agree"),
            ("pickup.axis-slope-y", "finding and fact: slope of the rotary axis in Y"),
            ("pickup.axis-slope-z", "finding and fact: slope of the rotary axis in Z"),
            ("pickup.bar-slope-y", "finding: slope of the bar in Y"),
            ("pickup.bar-slope-z", "finding: slope of the bar in Z"),
            ("pickup.axis-slope", "gate: the axis lies along X well enough"),
            ("pickup.machine-a", "fact: machine A of the pickup"),
            ("pickup.check-x", "finding and gate: X still stands"),
            ("pickup.check-y", "finding and gate: Y still stands"),
            ("pickup.check-z", "finding and gate: Z still stands"),
        ]
    }

    fn consult(&self, at: &Situation<'_>) -> Consultation {
        Worksheet::walk(at, procedure)
    }
}

/// How far the tip's radius may be off the card before it is questioned, millimetres.
const TIP_WINDOW_MM: f64 = 0.1;

fn procedure(sheet: &mut Worksheet<'_>) -> Option<()> {
    sheet.caution("Jog at the lowest step when the tip is near. Keep to the edge finder's own speed limit. Nobody else at the controls.");
    sheet.trap("A single middle is the centreline PLUS the off-centre: only the flip tells.");
    let card = sheet.card();
    let machine_a = sheet.number(Question::of(&MACHINE_A).expect(Window { low: -360.0, high: 720.0 }))?;
    let tip_on_card = card.instruments.tip_radius.mm();
    let radius = sheet.number(Question::of(&TIP_RADIUS).expect(Window::around(tip_on_card, TIP_WINDOW_MM)))?;
    let reach = card.fixture.height.mm() / 2.0;
    let height = sheet.number(Question::of(&TOUCH_HEIGHT).expect(Window::around(0.0, reach)))?;
    let x = x_and_y::back_face(sheet, radius)?;
    let y = x_and_y::flip(sheet, radius, height, machine_a)?;
    let z = z_and_slope::known_height(sheet)?;
    z_and_slope::quarter_turn(sheet, radius, &z)?;
    if card.depth == Depth::Record {
        z_and_slope::axis_slope(sheet)?;
    }
    sheet.hand("pickup.machine-a", machine_a, None);
    check_touch::after_interruptions(sheet, &check_touch::Standing { x, y, z })
}

/// Returns where a machine position along an axis (0 = X, 1 = Y, 2 = Z) can lie at all.
fn travel(sheet: &Worksheet<'_>, axis: usize) -> Window {
    let reach = sheet.card().machine.travel.get(axis).map_or(f64::INFINITY, |length| length.mm());
    Window { low: -reach, high: reach }
}
