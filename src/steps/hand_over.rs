//! Hand over: the count, the witness touches at tear-down, the registers left as they should be (A7 to A9).

use serde_json::json;

use crate::checklist::{
    AskKind, AskSpec, Consultation, GateCheck, GateKind, Happening, Question, Reader, Scope, Situation, Step, Window,
    Worksheet, shown,
};
use crate::steps::voids::NOTHING;

static GOOD: AskSpec = AskSpec::new("over.good", AskKind::Count, "Counted: how many pieces are good?", NOTHING);
static SCRAP: AskSpec = AskSpec::new("over.scrap", AskKind::Count, "How many are scrap or set aside?", NOTHING);
static Y_CHECK: AskSpec = AskSpec::new(
    "over.y-touch",
    AskKind::Length,
    "Last check touch on Y before tear-down: fixture level, centre height. Machine Y of the middle.",
    NOTHING,
)
.read_once_by(Reader::EdgeFinder);
static A_CHECK: AskSpec = AskSpec::new(
    "over.a-check",
    AskKind::Angle,
    "Last check of A: machine A at which the last piece reads level again.",
    NOTHING,
);
static REGISTER: AskSpec = AskSpec::choice(
    "over.register",
    &["cleared", "left-labelled"],
    "The claimed register: cleared, or left with a label whose it is?",
    NOTHING,
);
static TIDY: AskSpec = AskSpec::new(
    "over.tidy",
    AskKind::YesNo,
    "Other registers as read before, tools back, fixture cleaned, oiled, labelled, its mark noted?",
    NOTHING,
);

/// Hand over.
pub(super) struct HandOver;

impl Step for HandOver {
    fn id(&self) -> &'static str {
        "hand-over"
    }

    fn title(&self) -> &'static str {
        "hand over"
    }

    fn scope(&self) -> Scope {
        Scope::Setup
    }

    fn needs(&self) -> &'static [&'static str] {
        &["piece-check"]
    }

    fn shaken_by(&self) -> &'static [Happening] {
        NOTHING
    }

    fn asks(&self) -> &'static [&'static AskSpec] {
        static ASKS: &[&AskSpec] = &[&GOOD, &SCRAP, &Y_CHECK, &A_CHECK, &REGISTER, &TIDY];
        ASKS
    }

    fn names(&self) -> &'static [(&'static str, &'static str)] {
        &[
            ("over.count", "finding and gate: every piece is accounted for"),
            ("over.y-touch", "finding and gate: Y at the end against the start"),
            ("over.a-check", "finding and gate: A at the end against the last piece's"),
        ]
    }

    fn consult(&self, at: &Situation<'_>) -> Consultation {
        Worksheet::walk(at, procedure)
    }
}

fn procedure(sheet: &mut Worksheet<'_>) -> Option<()> {
    sheet.caution(
        "Lock off before cleaning under the rotary. Coolant and oils: follow the data sheet and disposal rules.",
    );
    sheet.trap("An old register value typed in again next year is a crash: only a window.");
    count(sheet)?;
    y_touch(sheet)?;
    a_check(sheet)?;
    sheet.answer(Question::of(&REGISTER))?;
    sheet.tick(Question::of(&TIDY), "Finish the tear-down first.")
}

fn count(sheet: &mut Worksheet<'_>) -> Option<()> {
    let good = sheet.answer(Question::of(&GOOD))?;
    let scrap = sheet.answer(Question::of(&SCRAP))?;
    let begun = f64::from(sheet.at().run.piece);
    let counted = good.number() + scrap.number();
    sheet.gate(GateCheck {
        id: "over.count",
        about: String::new(),
        kind: GateKind::Ask,
        pass: (counted - begun).abs() < 0.5,
        measured: Some(shown(counted, "1", 1.0)),
        limit: Some(shown(begun, "1", 1.0)),
        says: (
            "Every piece is accounted for.".to_owned(),
            format!("{counted} counted, {begun} were loaded: look for the missing one before packing."),
        ),
        rests_on: vec![good.seq, scrap.seq],
    })
}

fn y_touch(sheet: &mut Worksheet<'_>) -> Option<()> {
    let card = sheet.card();
    let (start, uncertainty) = (sheet.at().handed.number("pickup.y")?, sheet.at().handed.uncertainty("pickup.y")?);
    let window = Window::around(start, card.fixture.width.mm() / 2.0);
    let touch = sheet.measure(Question::of(&Y_CHECK).expect(window))?;
    let outputs = sheet.reckon(
        "y-touch",
        "repeat-agreement",
        json!({
            "first_value": start, "first_expanded_uncertainty": 2.0 * uncertainty,
            "second_value": touch.mean, "second_expanded_uncertainty": 2.0 * touch.uncertainty.hypot(card.budget.y_pickup.mm()),
        }),
    )?;
    let difference = sheet.fine(outputs.value("difference")?);
    sheet.finding("over.y-touch", "Y since the start", difference.clone(), &outputs);
    sheet.gate(GateCheck {
        id: "over.y-touch",
        about: String::new(),
        kind: GateKind::Ask,
        pass: outputs.flag("agrees")?,
        measured: Some(difference),
        limit: None,
        says: (
            "Y stood to the end.".to_owned(),
            "Y moved during the batch: the last pieces are suspect. Measure them again before they leave.".to_owned(),
        ),
        rests_on: touch.entries,
    })
}

fn a_check(sheet: &mut Worksheet<'_>) -> Option<()> {
    let last = sheet.at().handed.number_of(Some(sheet.at().run.piece), "tram.a")?;
    let half_width = sheet.at().handed.number("brief.tram-half-width")?;
    let answer = sheet.answer(Question::of(&A_CHECK).expect(Window::around(last, 5.0)))?;
    let outputs = sheet.reckon(
        "a-check",
        "angle-identity",
        json!({"machine_angle": answer.number(), "displayed_angle": 0.0, "register_angle": last}),
    )?;
    let off = outputs.value("residual_angle")?;
    let moved = sheet.angle(off);
    sheet.finding("over.a-check", "A since the last piece", moved.clone(), &outputs);
    sheet.gate(GateCheck {
        id: "over.a-check",
        about: String::new(),
        kind: GateKind::Ask,
        pass: off.abs() <= half_width,
        measured: Some(moved),
        limit: Some(sheet.angle(half_width)),
        says: (
            "A stood to the end.".to_owned(),
            "A moved during the last piece: it is suspect. Measure it again before it leaves.".to_owned(),
        ),
        rests_on: vec![answer.seq],
    })
}
