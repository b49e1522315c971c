//! What is asked when a session is gone on with: whether it is the right log, and what happened since (job map 1D).
//!
//! What is void and what still stands follows from the answers; the steps themselves then ask for the check touches, the
//! modes, the registers and the tram, and the session goes on from the last gate that was passed.

use crate::checklist::{
    AskKind, AskSpec, Consultation, GateCheck, GateKind, Happened, Happening, Question, Scope, Situation, Step,
    Worksheet,
};
use crate::steps::serial::same;
use crate::steps::voids::NOTHING;

static FIXTURE_MARK: AskSpec = AskSpec::new(
    "resume.fixture-mark",
    AskKind::Text,
    "Is this the right log? The mark of the fixture on the jaws, read off the fixture (none when it is off).",
    NOTHING,
);
static PIECE_SERIAL: AskSpec = AskSpec::new(
    "resume.serial",
    AskKind::Text,
    "Serial of the piece in the ring, read off the piece (none when it is out).",
    NOTHING,
);
static WHAT_HAPPENED: AskSpec = AskSpec::choice(
    "resume.what-happened",
    &[
        "nothing",
        "power-cut",
        "emergency-stop",
        "re-home",
        "bump",
        "rotary-moved",
        "fixture-off",
        "piece-changed",
        "piece-reloaded",
        "part-slipped",
        "tool-touched",
        "drill-broken",
        "temperature-changed",
        "indicator-swapped",
        "register-edited",
        "program-edited",
        "shift-handover",
        "long-pause",
    ],
    "What happened at the machine since the last entry? It decides what is void.",
    NOTHING,
)
.naming_happenings();
static HOMED: AskSpec = AskSpec::new(
    "resume.homed",
    AskKind::YesNo,
    "Spindle stopped, tool drawn up by hand jog, machine homed as its manual says?",
    NOTHING,
);

/// What is asked after a resume.
pub(super) struct Resume;

impl Step for Resume {
    fn id(&self) -> &'static str {
        "resume"
    }

    fn title(&self) -> &'static str {
        "going on"
    }

    fn scope(&self) -> Scope {
        Scope::Setup
    }

    fn needs(&self) -> &'static [&'static str] {
        &[]
    }

    fn shaken_by(&self) -> &'static [Happening] {
        NOTHING
    }

    fn follows_resume(&self) -> bool {
        true
    }

    fn asks(&self) -> &'static [&'static AskSpec] {
        static ASKS: &[&AskSpec] = &[&FIXTURE_MARK, &PIECE_SERIAL, &WHAT_HAPPENED, &HOMED];
        ASKS
    }

    fn names(&self) -> &'static [(&'static str, &'static str)] {
        &[
            ("resume.fixture", "gate: the fixture on the jaws is the one of this log"),
            ("resume.piece", "gate: the piece in the ring is the one of this log"),
            ("resume.void", "gate (passed): what is void and what still stands after a happening"),
        ]
    }

    fn consult(&self, at: &Situation<'_>) -> Consultation {
        Worksheet::walk(at, procedure)
    }
}

/// Rounds of one resume: so many happenings can be told in it.
const ROUNDS: u32 = 100;

fn procedure(sheet: &mut Worksheet<'_>) -> Option<()> {
    sheet.caution(
        "After a power cut assume the brake let go, the tool is still in the hole and the spindle may restart. Retract by hand jog, re-home as the manual says.",
    );
    sheet.caution("Tired, hurried or alone late: stop here. The log will wait.");
    sheet.trap("An old A that looks usable after a power cut sends the tool into the part.");
    let resumed = sheet.at().run.resumed.last().copied()?;
    let first = u32::try_from(sheet.at().run.resumed.len()).unwrap_or(u32::MAX).saturating_mul(ROUNDS);
    what_happened(sheet, first, resumed)?;
    fixture(sheet, first, resumed)?;
    piece(sheet, first, resumed)
}

/// Asks until nothing more has happened; what was told otherwise since the resume counts as well.
fn what_happened(sheet: &mut Worksheet<'_>, first: u32, resumed: u64) -> Option<()> {
    for round in first..first.saturating_add(ROUNDS) {
        let told = since(sheet, resumed);
        for happened in &told {
            show(sheet, happened);
        }
        // Who told it at once, without being asked, is asked only what else there was.
        let say = if told.is_empty() { WHAT_HAPPENED.says } else { "Did anything else happen since the last entry?" };
        let answer = sheet.answer(Question::of(&WHAT_HAPPENED).round(round).say(say))?;
        if answer.word() == "nothing" {
            break;
        }
    }
    let stopped = [Happening::PowerCut, Happening::EmergencyStop, Happening::ReHome];
    if since(sheet, resumed).iter().any(|happened| stopped.contains(&happened.what)) {
        sheet.tick(Question::of(&HOMED).round(first), "Do that first: nothing here can be trusted before.")?;
    }
    Some(())
}

fn since<'a>(sheet: &Worksheet<'a>, resumed: u64) -> Vec<&'a Happened> {
    sheet.at().run.since(resumed, &Happening::ALL)
}

fn show(sheet: &mut Worksheet<'_>, happened: &Happened) {
    let what = happened.what;
    sheet.caution(what.voids());
    sheet.caution(what.leaves());
    // A gate that is always passed: it tells what follows, on every face and in the record.
    let _ = sheet.gate(GateCheck {
        id: "resume.void",
        about: format!("{}/{}", what.word(), happened.seq),
        kind: GateKind::Ask,
        pass: true,
        measured: None,
        limit: None,
        says: (format!("{}: {} {}", what.word(), what.voids(), what.leaves()), String::new()),
        rests_on: Vec::new(),
    });
}

/// Nothing is loaded: said in place of a mark.
const NONE: &str = "none";

fn fixture(sheet: &mut Worksheet<'_>, round: u32, resumed: u64) -> Option<()> {
    // Before the fixture was fitted, none can be the wrong one.
    if sheet.at().handed.number("fit.swing").is_none() {
        return Some(());
    }
    let off = was_told(sheet, resumed, &[Happening::FixtureOff, Happening::RotaryMoved]);
    let wanted = sheet.card().fixture.id.clone();
    mark(sheet, &Mark { id: "resume.fixture", spec: &FIXTURE_MARK, round, wanted: &wanted, off, thing: "fixture" })
}

fn piece(sheet: &mut Worksheet<'_>, round: u32, resumed: u64) -> Option<()> {
    let Some(serial) = sheet.at().run.serial(sheet.at().run.piece) else { return Some(()) };
    let out = was_told(
        sheet,
        resumed,
        &[Happening::FixtureOff, Happening::RotaryMoved, Happening::PieceChanged, Happening::PieceReloaded],
    );
    mark(sheet, &Mark { id: "resume.piece", spec: &PIECE_SERIAL, round, wanted: serial, off: out, thing: "piece" })
}

fn was_told(sheet: &Worksheet<'_>, resumed: u64, kinds: &[Happening]) -> bool {
    !sheet.at().run.since(resumed, kinds).is_empty()
}

struct Mark<'a> {
    id: &'static str,
    spec: &'static AskSpec,
    round: u32,
    wanted: &'a str,
    /// Whether it was told that it came off.
    off: bool,
    thing: &'static str,
}

fn mark(sheet: &mut Worksheet<'_>, mark: &Mark<'_>) -> Option<()> {
    let entry = sheet.answer(Question::of(mark.spec).round(mark.round))?;
    let (found, wanted, thing) = (entry.word(), mark.wanted, mark.thing);
    let none = same(found, NONE);
    let fails = if none {
        format!(
            "No {thing} is there, and nothing was told of it. Tell what happened, then cross this out and read again."
        )
    } else {
        format!(
            "{found} is there, this log is of {wanted}. The wrong log, or the wrong {thing}: leave and go on with the right log, or put the right {thing} in and read again."
        )
    };
    sheet.gate(GateCheck {
        id: mark.id,
        about: String::new(),
        kind: GateKind::Stop,
        pass: same(found, wanted) || (none && mark.off),
        measured: None,
        limit: None,
        says: (format!("The {thing} is the one of this log."), fails),
        rests_on: vec![entry.seq],
    })
}
