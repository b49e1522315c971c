//! First run: the numbers of the cut, the program read back from the screen, the air pass, the staged approach, the
//! dials, the first cut, and the bore cut to size.

mod cutting;
mod proving;

use crate::checklist::{AskKind, AskSpec, Consultation, Happening, Scope, Situation, Step, Worksheet};
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
static TOOL_LENGTH: AskSpec =
    AskSpec::new("run.tool-length", AskKind::Length, "Stored length of that tool, off the screen.", TOOL);
static BRAKE_ON: AskSpec =
    AskSpec::new("run.brake-on", AskKind::YesNo, "Rotary brake on in the cut, and single block switched on?", MODES);
static DOOR: AskSpec = AskSpec::new(
    "run.door-shut",
    AskKind::YesNo,
    "Door shut, coolant ready, nobody near, one hand on feed hold?",
    MODES,
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
    "Air pass run through every index, watched only: did each marker dot set beforehand come up in its turn, none mirrored?",
    PROVEN,
);
static LOWERED_Z: AskSpec = AskSpec::new(
    "run.lowered-z",
    AskKind::Length,
    "Take the lift out again. Z of the register now, off the screen.",
    PROVEN,
);
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
            &REGISTER_CALL,
            &TOOL_CALL,
            &LENGTH_CALL,
            &TOOL_LENGTH,
            &BRAKE_ON,
            &DOOR,
            &AIR_LIFT,
            &AIR_DOTS,
            &LOWERED_Z,
            &RAPID_DIAL,
            &LAST_APPROACH,
            &TO_GO,
            &MACHINE_Z,
            &FEED_DIAL,
            &SPINDLE_DIAL,
            &CUT_LOOKED,
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
    ("run.feed-floor", "finding and gate: lowest feed setting that still cuts"),
    ("run.read-back", "gate: what the screen shows is what the job needs"),
    ("run.tool-length", "gate: the stored length is the card's"),
    ("run.lifted", "gate: the air pass is lifted by what the card says"),
    ("run.lowered", "gate: the lift is out again"),
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
    sheet.caution(
        "Door shut. Do not defeat the door switch to see better. One hand on feed hold, the other off the work.",
    );
    sheet.caution(
        "A person cannot stop a rapid move in a few millimetres. Feed hold and stop are never gated by this workbook.",
    );
    sheet.trap("Slowing down \"to be safe\" below the feed floor rubs and hardens stainless.");
    let floors = cutting::plans(sheet)?;
    proving::read_back(sheet)?;
    let length = proving::tool_length(sheet)?;
    proving::air_pass(sheet)?;
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
