//! Levelling one part now, without a job card: span, A, rear, front, and the first move; then as in the rotary tram.

use serde_json::json;

use crate::checklist::{
    AskKind, AskSpec, Consultation, GateCheck, GateKind, Happening, Outputs, Question, Scatter, Scope, Situation, Step,
    Verdict, Window, Worksheet,
};
use crate::job::{CardUnit, WorkTurns};
use crate::steps::levelling::{self, Asks, Names, Setting, Way};
use crate::steps::voids::{NOTHING, ZERO};

static SPAN: AskSpec = AskSpec::new(
    "level.span",
    AskKind::Length,
    "Distance between the two places that are to be level, rear to front.",
    NOTHING,
);
static MACHINE_A: AskSpec =
    AskSpec::new("level.machine-a", AskKind::Angle, "A as it stands now, read off the screen.", ZERO);
static APPROACH: AskSpec = AskSpec::choice(
    "level.approach",
    &["from-below", "from-above"],
    "From which side was A brought to where it stands? Always finish from the same side: then the play cancels.",
    ZERO,
);
static REAR: AskSpec = AskSpec::new(
    "level.rear",
    AskKind::Length,
    "REAR place: needle, or Z display at the needle's zero (plus = higher).",
    ZERO,
);
static FRONT: AskSpec = AskSpec::new("level.front", AskKind::Length, "FRONT place: read the same way.", ZERO);
static WITHIN: AskSpec =
    AskSpec::new("level.within", AskKind::Length, "How far may rear and front still differ in the end?", NOTHING);
static DIVISION: AskSpec = AskSpec::new(
    "level.division",
    AskKind::Length,
    "One division of the indicator, or the finest that you read between divisions.",
    NOTHING,
);
static INDICATOR: AskSpec = AskSpec::choice(
    "level.indicator",
    &["fine", "coarse"],
    "How well does it come back? fine: within 0.003 mm (0.0001 in) nearly always; coarse: anything worse.",
    NOTHING,
);
static WAY: AskSpec = AskSpec::choice(
    "level.way",
    &["needle", "z-null"],
    "How did you read, and will you go on reading: the needle, or Z jogged down to the needle's zero?",
    NOTHING,
);

static ASKS: Asks = Asks { machine_a: &MACHINE_A, approach: &APPROACH, rear: &REAR, front: &FRONT, accept: None };
static IDS: Names = Names {
    one_way: "level.one-way",
    difference: "level.difference",
    now: "level.now",
    roll: "level.roll",
    next_a: "level.next-a",
    gain: "level.gain",
    fits: "level.fits",
    scatter: "level.scatter",
    level: "level.level",
};

/// Levelling a part now.
pub(super) struct LevelNow;

impl Step for LevelNow {
    fn id(&self) -> &'static str {
        "level"
    }

    fn title(&self) -> &'static str {
        "level a part"
    }

    fn scope(&self) -> Scope {
        Scope::Setup
    }

    fn needs(&self) -> &'static [&'static str] {
        &[]
    }

    fn shaken_by(&self) -> &'static [Happening] {
        ZERO
    }

    fn asks(&self) -> &'static [&'static AskSpec] {
        static ALL: &[&AskSpec] = &[&SPAN, &MACHINE_A, &APPROACH, &REAR, &FRONT, &WITHIN, &DIVISION, &INDICATOR, &WAY];
        ALL
    }

    fn names(&self) -> &'static [(&'static str, &'static str)] {
        &[
            ("level.one-way", "gate: A always brought up from the same side"),
            ("level.difference", "finding: rear minus front"),
            ("level.now", "finding: rear minus front by all tries, with its verdict"),
            ("level.roll", "finding: roll of the part, plus = rear high"),
            ("level.next-a", "finding and move: the A to set next"),
            ("level.gain", "finding and gate: change seen over change asked"),
            ("level.fits", "gate: the newest try lies where the others put it"),
            ("level.scatter", "finding and gate: the repeats scatter more than was assumed"),
            ("level.level", "gate: the part is level"),
            ("level.can-prove", "gate: this indicator can prove what is wanted"),
            ("level.a", "finding and fact: A at which the part is level"),
            ("level.sense", "fact: the way the work turns"),
        ]
    }

    fn consult(&self, at: &Situation<'_>) -> Consultation {
        Worksheet::walk(at, procedure)
    }
}

fn procedure(sheet: &mut Worksheet<'_>) -> Option<()> {
    sheet.caution("Tip up and clear before every turn; hands clear, it can start faster than you expect.");
    sheet.trap("A clamp that gives, or play taken from two sides, looks like a part that will not come level.");
    let span = sheet.number(Question::of(&SPAN).expect(Window { low: 1.0, high: 2000.0 }))?;
    if !wanted_is_known(sheet) {
        let first = first_setting(sheet, span);
        levelling::first_move(sheet, &first)?;
    }
    let within =
        sheet.number(Question::of(&WITHIN).say(within_words(sheet)).expect(Window { low: 0.0005, high: 1.0 }))?;
    let division = sheet.number(Question::of(&DIVISION).expect(Window { low: 0.0, high: 0.1 }))?;
    let fine = sheet.answer(Question::of(&INDICATOR))?.word() == "fine";
    let way = Way::named(sheet.answer(Question::of(&WAY))?.word());
    let capability = can_prove(sheet, (span, within, division), (fine, way))?;
    let scatter =
        Scatter { step: capability.value("display_step")?, deviation: capability.value("reading_deviation")? };
    let setting = Setting { way, scatter, limit: within, ..first_setting(sheet, span) };
    let level = levelling::level(sheet, &setting)?;
    let shown = sheet.angle(level.last.machine_a);
    let newest = Outputs { role: "level".to_owned(), map: serde_json::Map::new() };
    sheet.finding("level.a", "level at A", shown, &newest);
    sheet.hand("level.a", level.last.machine_a, None);
    if let Some(turns) = level.turns {
        sheet.hand_word("level.sense", turns.word());
    }
    sheet.judge(Verdict::Within);
    Some(())
}

/// Returns whether what is wanted of the level has been said.
fn wanted_is_known(sheet: &Worksheet<'_>) -> bool {
    [&WITHIN, &DIVISION, &INDICATOR, &WAY].into_iter().all(|ask| !sheet.standing(ask.id, 0).is_empty())
}

/// What a common level is wanted to, until it is said: the tightest of common practice.
const COMMON_LIMIT: f64 = 0.012;
/// How well a rotary comes back that is always brought up from the same side, degrees (common practice).
const ONE_SIDED_REPEAT: f64 = 0.0005;
/// Scatter of one reading: the upper quartile of what such indicators show (the project's study of levels).
const FINE: f64 = 0.0025;
const COARSE: f64 = 0.0108;

/// What the first move is worked out with; it depends on none of what is asked later.
fn first_setting(sheet: &Worksheet<'_>, span: f64) -> Setting {
    let learned = sheet.at().run.learned.work_turns;
    Setting {
        asks: &ASKS,
        names: &IDS,
        span,
        step: 0.0,
        contact: "flats",
        way: Way::Needle,
        scatter: Scatter { step: sheet.card().machine.least_length.mm(), deviation: FINE },
        sense: learned,
        likely: learned.unwrap_or(WorkTurns::LeftHand),
        rotary_repeat: ONE_SIDED_REPEAT,
        least_angle: sheet.card().machine.least_angle_deg,
        limit: COMMON_LIMIT,
        travel: None,
        readings: (1, 2),
        approach_first: false,
    }
}

fn within_words(sheet: &Worksheet<'_>) -> String {
    let common = if sheet.card().unit == CardUnit::Inch { "0.0005 in" } else { "0.012 mm" };
    format!("{} {common} is common.", WITHIN.says)
}

fn can_prove(
    sheet: &mut Worksheet<'_>,
    (span, within, division): (f64, f64, f64),
    (fine, way): (bool, Way),
) -> Option<Outputs> {
    let outputs = sheet.reckon(
        "capability",
        "tram-capability",
        json!({
            "pad_span": span, "tolerance": within, "way": way.word(), "repeatability": if fine { FINE } else { COARSE },
            "division": division, "z_step": sheet.card().machine.least_length.mm(), "rotary_repeat": ONE_SIDED_REPEAT,
        }),
    )?;
    let (least, limit) = (sheet.fine(outputs.value("least_tolerance")?), sheet.fine(within));
    let rests_on = [&WITHIN, &DIVISION, &INDICATOR, &WAY]
        .iter()
        .flat_map(|ask| sheet.standing(ask.id, 0))
        .map(|entry| entry.seq)
        .collect();
    sheet.gate(GateCheck {
        id: "level.can-prove",
        about: String::new(),
        kind: GateKind::Stop,
        pass: outputs.flag("can_prove")?,
        measured: Some(least.clone()),
        limit: Some(limit.clone()),
        says: (
            "This indicator can prove it.".to_owned(),
            format!(
                "This indicator cannot prove {limit}: even 60 pairs prove no less than {least}. A finer indicator, reading by Z, a longer span or a wider limit would."
            ),
        ),
        rests_on,
    })?;
    Some(outputs)
}
