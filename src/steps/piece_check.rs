//! Piece check: the first article against its drawing, then for each piece the bore, a check touch now and then, the
//! drift of the bore, and what comes next (A1, A4, A5, D26, D27).

mod drift;
mod first_article;

use serde_json::json;

use crate::checklist::{
    AskKind, AskSpec, Consultation, GateCheck, GateKind, Happening, Question, Reader, Scope, Situation, Step,
    WHAT_NEXT, Window, Worksheet,
};
use crate::job::{Depth, Feature};
use crate::steps::voids::{CHECKED, LOADED, NOTHING};

static LOOKED: AskSpec = AskSpec::new(
    "check.looked",
    AskKind::YesNo,
    "Piece cut, spindle stopped: tool whole, deburred where the bores meet, clean and dry?",
    LOADED,
);
static BROKEN: AskSpec = AskSpec::choice(
    "check.broken-drill",
    &["out-and-sound", "set-aside"],
    "A drill broke in this piece. Spindle stopped, tool up: is every bit of it out and the hole sound, or is the piece set aside?",
    NOTHING,
);
static ALONG: AskSpec =
    AskSpec::new("check.along-error", AskKind::Length, "Position error ALONG the axis (found less drawing).", NOTHING)
        .read_once_by(Reader::Inspection);
static ACROSS: AskSpec =
    AskSpec::new("check.across-error", AskKind::Length, "Position error ACROSS (found less drawing).", NOTHING)
        .read_once_by(Reader::Inspection);
static BORE: AskSpec =
    AskSpec::new("check.bore", AskKind::Length, "Bore of this piece by bore gauge, clean and cool.", NOTHING)
        .read_once_by(Reader::BoreGauge);
static WEAR: AskSpec = AskSpec::new(
    "check.wear-correction",
    AskKind::Length,
    "Wear correction now in the cutter's diameter register since the start of the batch (0 when none).",
    NOTHING,
);
static TEMPERATURE: AskSpec =
    AskSpec::new("check.temperature", AskKind::Temperature, "Temperature of the part.", NOTHING);
static Y_CHECK: AskSpec = AskSpec::new(
    "check.y-touch",
    AskKind::Length,
    "Check touch on Y: fixture level, touched at centre height. Machine Y of the middle.",
    NOTHING,
)
.read_once_by(Reader::EdgeFinder);
static NEXT: AskSpec = AskSpec::choice(
    "check.next",
    &["next-piece", "hand-over"],
    "This piece is done. Load the next piece, or is the batch finished?",
    NOTHING,
);

/// Piece check.
pub(super) struct PieceCheck;

impl Step for PieceCheck {
    fn id(&self) -> &'static str {
        "piece-check"
    }

    fn title(&self) -> &'static str {
        "piece check"
    }

    fn scope(&self) -> Scope {
        Scope::EachPiece
    }

    fn needs(&self) -> &'static [&'static str] {
        &["rotary-tram", "first-run"]
    }

    fn shaken_by(&self) -> &'static [Happening] {
        CHECKED
    }

    fn asks(&self) -> &'static [&'static AskSpec] {
        static ASKS: &[&AskSpec] = &[&LOOKED, &BROKEN, &ALONG, &ACROSS, &BORE, &WEAR, &TEMPERATURE, &Y_CHECK, &NEXT];
        ASKS
    }

    fn names(&self) -> &'static [(&'static str, &'static str)] {
        &[
            ("check.position", "finding and gate: position error as a diameter, against its zone"),
            ("check.bore", "finding, gate and fact: the bore against its window"),
            ("check.wear", "fact: wear correction in force"),
            ("check.drift", "finding: drift of the bore from piece to piece"),
            ("check.predicted-bore", "finding and gate: bore of the next piece by the line"),
            ("check.correction", "finding: correction on diameter that is due"),
            ("check.correction-radius", "finding: the same for a register that holds a radius"),
            ("check.y-touch", "finding and gate: Y still stands"),
            ("check.set-aside", "fact: the piece is set aside, and why"),
            (WHAT_NEXT, "fact: what comes next"),
        ]
    }

    fn consult(&self, at: &Situation<'_>) -> Consultation {
        Worksheet::walk(at, procedure)
    }
}

fn procedure(sheet: &mut Worksheet<'_>) -> Option<()> {
    let piece = sheet.at().piece.unwrap_or(1);
    sheet.caution("Stainless chips and edges cut: a cloth until deburred, a brush and never fingers on a chip pile.");
    sheet.trap("One hole tells nothing: A and Y can be wrong together and look right there.");
    if set_aside(sheet, piece)? {
        sheet.judge(crate::checklist::Verdict::Outside);
        sheet.hand_word("check.set-aside", "drill-broken");
        return what_next(sheet, piece);
    }
    sheet
        .tick(Question::of(&LOOKED), "Deburr, clean and look again; a broken tool in the hole sets the piece aside.")?;
    if piece == 1 {
        first_article::features(sheet)?;
    }
    let bored = sheet.card().features.iter().find(|feature| feature.bore.is_some());
    if let Some(feature) = bored {
        bore(sheet, feature)?;
        drift::watch(sheet, feature, piece)?;
    }
    if sheet.card().depth == Depth::Record {
        sheet.answer(Question::of(&TEMPERATURE).expect(Window { low: 5.0, high: 45.0 }))?;
    }
    y_touch(sheet, piece)?;
    what_next(sheet, piece)
}

/// A piece in which a drill broke is in quarantine until somebody has looked at it; returns whether it stays there.
fn set_aside(sheet: &mut Worksheet<'_>, piece: u32) -> Option<bool> {
    let happened = &sheet.at().run.happened;
    let broken = happened.iter().filter(|one| one.what == Happening::DrillBroken && one.piece == piece).count();
    if broken == 0 {
        return Some(false);
    }
    let round = u32::try_from(broken).unwrap_or(u32::MAX);
    Some(sheet.answer(Question::of(&BROKEN).round(round))?.word() == "set-aside")
}

fn bore(sheet: &mut Worksheet<'_>, feature: &Feature) -> Option<()> {
    let wanted = feature.bore.as_ref()?;
    let reach = wanted.target.mm() / 100.0;
    let question = Question::of(&BORE).expect(Window::around(wanted.target.mm(), reach));
    let reading =
        sheet.measure(question.say(format!("{} of this piece by bore gauge, clean and cool.", feature.name)))?;
    let (low, high) = (wanted.window.0.mm(), wanted.window.1.mm());
    let outputs = sheet.reckon(
        "bore",
        "conformity",
        json!({"lower_limit": low, "upper_limit": high, "estimate": reading.mean, "standard_uncertainty": reading.uncertainty}),
    )?;
    let verdict = crate::checklist::Verdict::from_probability(outputs.value("probability_inside")?);
    let shown = sheet.at_least_increment(reading.mean);
    sheet.finding("check.bore", "bore", shown.clone(), &outputs);
    sheet.with_uncertainty(reading.uncertainty);
    sheet.with_verdict(verdict);
    sheet.hand("check.bore", reading.mean, Some(reading.uncertainty));
    sheet.gate(GateCheck {
        id: "check.bore",
        about: String::new(),
        kind: GateKind::Ask,
        pass: verdict == crate::checklist::Verdict::Within,
        measured: Some(shown),
        limit: Some(sheet.at_least_increment(high)),
        says: (
            "The bore is shown to be inside its window.".to_owned(),
            "The bore is not shown to be inside its window: gauge again, with a better gauge if need be, or set the piece aside.".to_owned(),
        ),
        rests_on: reading.entries,
    })
}

/// Outside the customer's record, Y is touched on the first piece and every so many after it (shop-sense 19).
const Y_TOUCH_EVERY: u32 = 4;

fn y_touch(sheet: &mut Worksheet<'_>, piece: u32) -> Option<()> {
    let card = sheet.card();
    if card.depth != Depth::Record && piece % Y_TOUCH_EVERY != 1 {
        return Some(());
    }
    let (picked_up, uncertainty) = (sheet.at().handed.number("pickup.y")?, sheet.at().handed.uncertainty("pickup.y")?);
    let window = Window::around(picked_up, card.fixture.width.mm() / 2.0);
    let touch = sheet.measure(Question::of(&Y_CHECK).expect(window))?;
    let outputs = sheet.reckon(
        "y-touch",
        "repeat-agreement",
        json!({
            "first_value": picked_up, "first_expanded_uncertainty": 2.0 * uncertainty,
            "second_value": touch.mean, "second_expanded_uncertainty": 2.0 * touch.uncertainty.hypot(card.budget.y_pickup.mm()),
        }),
    )?;
    let difference = sheet.fine(outputs.value("difference")?);
    sheet.finding("check.y-touch", "Y has moved by", difference.clone(), &outputs);
    sheet.gate(GateCheck {
        id: "check.y-touch",
        about: String::new(),
        kind: if outputs.value("agreement_ratio")? > 2.0 { GateKind::Stop } else { GateKind::Ask },
        pass: outputs.flag("agrees")?,
        measured: Some(difference),
        limit: Some(sheet.fine(2.0 * uncertainty.hypot(touch.uncertainty).hypot(card.budget.y_pickup.mm()))),
        says: (
            "Y still stands.".to_owned(),
            "Y has moved further than its share: touch again; if it stays, pick Y up anew. The last pieces are suspect.".to_owned(),
        ),
        rests_on: touch.entries,
    })
}

fn what_next(sheet: &mut Worksheet<'_>, piece: u32) -> Option<()> {
    let batch = sheet.card().part.batch;
    let say = if piece < batch {
        format!("Piece {piece} of {batch} is done. Load the next piece, or is the batch finished?")
    } else {
        format!("Piece {piece} of {batch} is done: that is the batch. Hand over, or load one more?")
    };
    let answer = sheet.answer(Question::of(&NEXT).say(say))?;
    let word = answer.word().to_owned();
    sheet.hand_word(WHAT_NEXT, &word);
    Some(())
}
