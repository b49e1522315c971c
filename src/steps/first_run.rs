//! First run: the numbers of the cut, the program read back from the screen, the air pass, the staged approach, the
//! dials, the first cut, and the bore cut to size.

mod air_pass;
mod cutting;
mod depths;
mod proving;
mod read_back;

use crate::checklist::{AskKind, AskSpec, Consultation, Happening, Scope, Situation, Step, Worksheet};
use crate::job::Feature;
use crate::steps::bore;
use crate::steps::voids::{MODES, PROVEN, RUN, TOOL};

static UNIT_MODE: AskSpec = AskSpec::choice(
    "run.unit-mode",
    &["g20", "g21"],
    "Off the screen, not off paper: which unit mode is the control in? (G20 inch, G21 millimetre)",
    MODES,
);
static DISTANCE_MODE: AskSpec =
    AskSpec::choice("run.distance-mode", &["g90", "g91"], "Absolute (G90) or incremental (G91)?", MODES);
static PLANE: AskSpec = AskSpec::choice(
    "run.plane",
    &["g17", "g18", "g19"],
    "Which plane is active? (G17 is X Y, what drilling along Z needs)",
    MODES,
);
static MODES_OFF: AskSpec = AskSpec::new(
    "run.modes-off",
    AskKind::YesNo,
    "Mirror, scaling and coordinate rotation: all off on the screen?",
    MODES,
);
static REGISTER_CALL: AskSpec = AskSpec::choice(
    "run.register-call",
    &["g54", "g55", "g56", "g57", "g58", "g59", "g59.1", "g59.2", "g59.3"],
    "Which register does the program call?",
    MODES,
);
static TOOL_CALL: AskSpec =
    AskSpec::new("run.tool-call", AskKind::Count, "Tool number in the spindle, off the screen.", MODES);
static LENGTH_CALL: AskSpec =
    AskSpec::new("run.length-call", AskKind::Count, "Length number that the program calls for it (the H word).", MODES);
static FIRST_A: AskSpec =
    AskSpec::new("run.first-a", AskKind::Angle, "The first A word of the program, off the screen.", MODES);
static Z_BEFORE_TURN: AskSpec = AskSpec::new(
    "run.z-before-turn",
    AskKind::Length,
    "Read the program through on the screen: the LOWEST Z at which any A word turns the rotary.",
    MODES,
);
static TOOL_LENGTH: AskSpec =
    AskSpec::new("run.tool-length", AskKind::Length, "Stored length of that tool, off the screen.", TOOL);
static TOOL_DIAMETER: AskSpec = AskSpec::new(
    "run.tool-diameter",
    AskKind::Length,
    "The tool at the bench, out of the spindle: its diameter by calliper or micrometer.",
    TOOL,
);
static BRAKE_ON: AskSpec =
    AskSpec::new("run.brake-on", AskKind::YesNo, "Rotary brake on in the cut, and single block switched on?", MODES);
static DOOR: AskSpec = AskSpec::new(
    "run.door-shut",
    AskKind::YesNo,
    "Door shut, coolant ready, nobody near, one hand on feed hold?",
    MODES,
);
static CAPPED_FEED: AskSpec = AskSpec::new(
    "run.capped-feed",
    AskKind::YesNo,
    "The speed is capped: are the S and the F on the screen those of the capped speed?",
    MODES,
);
static PECKS: AskSpec = AskSpec::new(
    "run.pecks",
    AskKind::YesNo,
    "Does the program peck no smaller than listed, come out each time, and never dwell?",
    MODES,
);
static BREAKS_IN: AskSpec = AskSpec::new(
    "run.breaks-in",
    AskKind::YesNo,
    "Feed kept above its floor right through the break into the cross bore?",
    MODES,
);
static TURN_WAY: AskSpec = AskSpec::choice(
    "run.turn-way",
    &["shortest", "straight"],
    "How does this control turn to an absolute A word: the shortest way round, or straight by the difference of the numbers? (In its manual; the dry turn shows it.)",
    MODES,
);
static DRY_TURN: AskSpec = AskSpec::new(
    "run.dry-turn",
    AskKind::YesNo,
    "Tool up, nobody near: turned to every index by hand dial, hoses and door free all the way?",
    PROVEN,
);
static AIR_LIFT: AskSpec = AskSpec::new(
    "run.lifted-z",
    AskKind::Length,
    "Air pass: raise Z of the claimed register only (never the common shift). Z of the register now, off the screen.",
    PROVEN,
);
static AIR_DOTS: AskSpec = AskSpec::new(
    "run.air-dots",
    AskKind::YesNo,
    "Air pass run through every index, watched only: tool up before each turn, nothing near anything?",
    PROVEN,
);
static DOTS_SEEN: AskSpec = AskSpec::new(
    "run.dots-seen",
    AskKind::Text,
    "Dots set beforehand, by the drawing: looking at the finished top, numbered counter-clockwise from its zero. In which order did they come up? (as 1 2 3)",
    PROVEN,
);
static LOWERED_Z: AskSpec = AskSpec::new(
    "run.lowered-z",
    AskKind::Length,
    "Take the lift out again. Z of the register now, off the screen.",
    PROVEN,
);
static COMMON_SHIFT: AskSpec = AskSpec::new(
    "run.common-shift",
    AskKind::Length,
    "The shift common to all registers, in Z, off the screen (it should be 0).",
    PROVEN,
);
static LOWERED_MACHINE_Z: AskSpec = AskSpec::new(
    "run.lowered-machine-z",
    AskKind::Length,
    "Register called again, first tool in, length compensation on: machine Z now.",
    PROVEN,
);
static LOWERED_WORK_Z: AskSpec =
    AskSpec::new("run.lowered-work-z", AskKind::Length, "Displayed (work) Z at the same place.", PROVEN);
static RAPID_DIAL: AskSpec =
    AskSpec::new("run.rapid-dial", AskKind::Percent, "Rapid override: what does the dial stand at?", MODES);
static LAST_APPROACH: AskSpec = AskSpec::choice(
    "run.last-approach",
    &["feed-move", "handwheel", "rapid"],
    "How does the tool come down over the last gap: as a feed move, by handwheel, or as a rapid?",
    PROVEN,
);
static TO_GO: AskSpec = AskSpec::new(
    "run.to-go",
    AskKind::Length,
    "Stopped in single block. Distance-to-go in Z, off the screen. (Only look; no hand near the tool.)",
    PROVEN,
);
static MACHINE_Z: AskSpec = AskSpec::new("run.machine-z", AskKind::Length, "Machine Z at the same stop.", PROVEN);
static FEED_DIAL: AskSpec = AskSpec::new("run.feed-dial", AskKind::Percent, "Feed override for the first cut.", MODES);
static SPINDLE_DIAL: AskSpec =
    AskSpec::new("run.spindle-dial", AskKind::Percent, "Spindle override for the first cut.", MODES);
static CUT_LOOKED: AskSpec = AskSpec::new(
    "run.cut-looked",
    AskKind::YesNo,
    "First hole cut, spindle stopped, tool up: chips silver, no squeal or smoke, tool whole, nothing moved?",
    PROVEN,
);
static CUT_UNBROKEN: AskSpec = AskSpec::new(
    "run.cut-unbroken",
    AskKind::YesNo,
    "Did the cut run through: no feed hold, no dwell, feed not turned down in it?",
    PROVEN,
);
static DIALS_UP: AskSpec = AskSpec::new(
    "run.dials-up",
    AskKind::YesNo,
    "Overrides brought up in stages, one more hole at each stage, and still sound at 100 %?",
    PROVEN,
);

/// First run and feed override.
pub(super) struct FirstRun;

impl Step for FirstRun {
    fn id(&self) -> &'static str {
        "first-run"
    }

    fn title(&self) -> &'static str {
        "first run"
    }

    fn scope(&self) -> Scope {
        Scope::Setup
    }

    fn needs(&self) -> &'static [&'static str] {
        &["rotary-tram"]
    }

    fn shaken_by(&self) -> &'static [Happening] {
        RUN
    }

    fn asks(&self) -> &'static [&'static AskSpec] {
        static ASKS: &[&AskSpec] = &[
            &UNIT_MODE,
            &DISTANCE_MODE,
            &PLANE,
            &MODES_OFF,
            &REGISTER_CALL,
            &TOOL_CALL,
            &LENGTH_CALL,
            &FIRST_A,
            &Z_BEFORE_TURN,
            &BRAKE_ON,
            &DOOR,
            &TOOL_LENGTH,
            &TOOL_DIAMETER,
            &CAPPED_FEED,
            &PECKS,
            &BREAKS_IN,
            &TURN_WAY,
            &DRY_TURN,
            &AIR_LIFT,
            &AIR_DOTS,
            &DOTS_SEEN,
            &LOWERED_Z,
            &COMMON_SHIFT,
            &LOWERED_MACHINE_Z,
            &LOWERED_WORK_Z,
            &RAPID_DIAL,
            &LAST_APPROACH,
            &TO_GO,
            &MACHINE_Z,
            &FEED_DIAL,
            &SPINDLE_DIAL,
            &CUT_LOOKED,
            &CUT_UNBROKEN,
            &DIALS_UP,
            &bore::PROGRAMMED,
            &bore::GO,
            &bore::NO_GO,
            &bore::GAUGE,
            &bore::LEAD_IN,
            &bore::PRESS_FORCE,
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
    ("run.speed", "finding: spindle speed of a tool"),
    ("run.feed", "finding: feed of a tool"),
    ("run.chip", "finding: chip thickness of a tool"),
    ("run.thrust", "finding: thrust of a tool, without its chisel edge"),
    ("run.torque", "finding: torque of a tool"),
    ("run.power", "gate: the spindle has the power"),
    ("run.depth-ratio", "finding: depth over diameter"),
    ("run.spot-depth", "finding: how deep the spot goes for a full ring"),
    ("run.spot-angle", "gate: the spot is no narrower than the drill's point"),
    ("run.full-depth", "finding: how deep the full diameter goes"),
    ("run.through", "gate: a through hole goes through"),
    ("run.room-beyond", "gate: the tip stays clear of what lies beyond a through hole"),
    ("run.stick-out", "finding and gate: the holder stays clear of the fixture"),
    ("run.bends", "finding: how far a tool bends for a side force"),
    ("run.special-drill", "gate: a hole of more than 8 diameters is drilled by special means"),
    ("run.breaks-in", "finding: length over which the drill breaks into a cross bore"),
    ("run.feed-floor", "finding and gate: lowest feed setting that still cuts"),
    ("run.read-back", "gate: what the screen shows is what the job needs"),
    ("run.first-a", "gate: the first A word is the index table's"),
    ("run.z-before-turn", "finding and gate: the tip is above the swing before the rotary turns"),
    ("run.tool-length", "gate: the stored length is the card's"),
    ("run.tool-diameter", "gate: the tool has the card's diameter"),
    ("run.wound-up", "finding: how far the hoses are wound up"),
    ("run.dots", "gate: the marker dots came up in the order of the drawing"),
    ("run.lifted", "gate: the air pass is lifted by what the card says"),
    ("run.lowered", "gate: the lift is out again"),
    ("run.lift-out", "finding and gate: machine and display prove that the lift is out"),
    ("run.rapid-ceiling", "finding: highest rapid setting that a person can stop in the gap"),
    ("run.rapid-dial-step", "finding: the dial step for it"),
    ("run.stopping-distance", "finding: how far a rapid runs on at the dial's setting"),
    ("run.last-approach", "gate: the last gap is not crossed as a rapid that nobody can stop"),
    ("run.to-go-expected", "finding: distance-to-go expected at a stop"),
    ("run.machine-z-expected", "finding: machine Z expected at a stop"),
    ("run.z-program", "finding: programmed Z of a stop"),
    ("run.to-go", "gate: distance-to-go as expected"),
    ("run.machine-z", "gate: machine Z as expected"),
    ("run.actual-feed", "finding: real feed per turn with both dials"),
    ("run.bore-pass", "gate: a pass goes no further than was worked out"),
    ("run.bore-middle", "finding: bore between the pins after a pass"),
    ("run.bore-response", "finding: bore measured over bore programmed"),
    ("run.bore-next", "finding and move: bore to program next"),
    ("run.bore-size", "finding, gate and fact: the bore is inside its window"),
    ("run.interference", "finding: interference of the pin"),
    ("run.effective-interference", "finding: what is left of it after the roughness"),
    ("run.press-pressure", "finding: pressure in the joint"),
    ("run.press-stress", "finding and gate: stress at the bore against yield"),
    ("run.press-force-low", "finding: least pressing force"),
    ("run.press-force-high", "finding: greatest pressing force"),
    ("run.press-force", "gate: the force seen is in its window"),
];

fn procedure(sheet: &mut Worksheet<'_>) -> Option<()> {
    sheet.trap("Slowing down \"to be safe\" below the feed floor rubs and hardens stainless.");
    let floors = cutting::plans(sheet)?;
    depths::plans(sheet)?;
    read_back::read_back(sheet)?;
    let length = read_back::tools(sheet)?;
    depths::asked(sheet)?;
    air_pass::dry_turn(sheet)?;
    air_pass::air_pass(sheet, length)?;
    proving::rapid(sheet)?;
    proving::staged_approach(sheet, length)?;
    proving::dials(sheet, &floors)?;
    proving::first_cut(sheet)?;
    for feature in &sheet.card().features {
        if let Some(wanted) = &feature.bore {
            bore::to_size(sheet, feature, wanted)?;
        }
    }
    Some(())
}

fn first_feature<'a>(sheet: &Worksheet<'a>) -> Option<&'a Feature> {
    sheet.card().features.first()
}

/// Returns Z of the register as it was captured.
fn register_z(sheet: &Worksheet<'_>) -> Option<f64> {
    sheet.at().handed.number_of(Some(1), "capture.z")
}
