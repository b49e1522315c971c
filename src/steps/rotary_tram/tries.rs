//! The tries of the rotary tram: what they are read with, whether that can prove the limit, and the level reached.

use serde_json::json;

use crate::checklist::{GateCheck, GateKind, Outputs, Question, Scatter, Worksheet};
use crate::job::WorkTurns;
use crate::steps::levelling::{self, Asks, Names, Setting, Way};
use crate::steps::rotary_tram::{ACCEPT, APPROACH, FRONT, MACHINE_A, METHOD, REAR, once_a_session};

pub(in crate::steps) use crate::steps::levelling::Level;

static ASKS: Asks =
    Asks { machine_a: &MACHINE_A, approach: &APPROACH, rear: &REAR, front: &FRONT, accept: Some(&ACCEPT) };
static IDS: Names = Names {
    one_way: "tram.one-way",
    difference: "tram.difference",
    now: "tram.now",
    roll: "tram.roll",
    next_a: "tram.next-a",
    gain: "tram.gain",
    fits: "tram.fits",
    scatter: "tram.scatter",
    level: "tram.level",
};

/// Goes through the tries until the part is shown to be level. `sense` is unknown until the tries have settled it.
pub(super) fn level(sheet: &mut Worksheet<'_>, sense: Option<WorkTurns>) -> Option<Level> {
    let card = sheet.card();
    let limit = sheet.at().handed.number("brief.tram-limit")?;
    let (way, scatter) = way(sheet, limit)?;
    let setting = Setting {
        asks: &ASKS,
        names: &IDS,
        span: card.fixture.pad_span.mm(),
        step: card.fixture.pad_step.mm(),
        contact: card.fixture.pad_contact.word(),
        way,
        scatter,
        sense,
        likely: card.machine.work_turns.or(sheet.at().run.learned.work_turns).unwrap_or(WorkTurns::LeftHand),
        rotary_repeat: card.machine.rotary_repeat_deg,
        least_angle: card.machine.least_angle_deg,
        limit,
        travel: (way == Way::Needle).then(|| card.instruments.lever_travel.mm()),
        readings: (card.instruments.lever.repeats.max(1), card.instruments.lever.repeats.max(1)),
        approach_first: true,
    };
    once_a_session::preload(sheet, &setting)?;
    let level = levelling::level(sheet, &setting)?;
    let turned = (level.first.machine_a - level.last.machine_a).abs() > card.machine.least_angle_deg / 2.0;
    if !turned && sheet.at().piece.is_none_or(|piece| piece == 1) {
        once_a_session::known_jog(sheet, &setting)?;
    }
    once_a_session::play(sheet, &setting, &level)?;
    Some(level)
}

/// Lets the person choose how the pads are read, after saying which way is the better one and why.
fn way(sheet: &mut Worksheet<'_>, limit: f64) -> Option<(Way, Scatter)> {
    let needle = capability(sheet, limit, Way::Needle)?;
    let z_null = capability(sheet, limit, Way::ZNull)?;
    if !needle.flag("can_prove")? && !z_null.flag("can_prove")? {
        cannot_prove(sheet, limit, (&needle, &z_null), Vec::new())?;
    }
    let later_piece = sheet.at().piece.is_some_and(|piece| piece > 1);
    let before = sheet.at().handed.word_of(Some(1), "tram.way").filter(|_| later_piece);
    let (way, rests_on) = if let Some(word) = before {
        (Way::named(word), Vec::new())
    } else {
        let say = recommendation(sheet, &needle, &z_null);
        let entry = sheet.answer(Question::of(&METHOD).say(say))?;
        (Way::named(entry.word()), vec![entry.seq])
    };
    let chosen = if way == Way::Needle { &needle } else { &z_null };
    cannot_prove(sheet, limit, (chosen, chosen), rests_on)?;
    sheet.hand_word("tram.way", way.word());
    let scatter = Scatter { step: chosen.value("display_step")?, deviation: chosen.value("reading_deviation")? };
    Some((way, scatter))
}

fn capability(sheet: &mut Worksheet<'_>, limit: f64, way: Way) -> Option<Outputs> {
    let card = sheet.card();
    let lever = &card.instruments.lever;
    let least = card.machine.least_length.mm();
    // An indicator whose scatter nobody knows scatters by a share of its division.
    let repeatability = if lever.repeatability.mm() > 0.0 { lever.repeatability } else { lever.resolution };
    sheet.reckon(
        &format!("capability/{}", way.word()),
        "tram-capability",
        json!({
            "pad_span": card.fixture.pad_span.mm(), "tolerance": limit, "way": way.word(),
            "repeatability": repeatability.mm(), "division": lever.resolution.mm(), "z_step": least,
            "rotary_repeat": card.machine.rotary_repeat_deg,
        }),
    )
}

/// Says in two lines which way is the better one.
fn recommendation(sheet: &Worksheet<'_>, needle: &Outputs, z_null: &Outputs) -> String {
    let card = sheet.card();
    let pairs = |outputs: &Outputs| {
        outputs.value("pairs_needed").map_or_else(|| "no number of pairs".to_owned(), |pairs| format!("{pairs} pairs"))
    };
    let z_is_better =
        z_null.value("pairs_needed").unwrap_or(f64::INFINITY) < needle.value("pairs_needed").unwrap_or(f64::INFINITY);
    let better = if z_is_better { "z-null" } else { "needle" };
    format!(
        "How will you read the pads? Better here: {better}.\nneedle: against a preset, {} prove it, as far as its travel of {} goes; z-null: jog Z down to the needle's zero and take the Z display, {}, any tilt.",
        pairs(needle),
        sheet.length(card.instruments.lever_travel.mm(), card.instruments.lever.resolution.mm()),
        pairs(z_null),
    )
}

/// Refuses before the first try what this indicator cannot show.
fn cannot_prove(
    sheet: &mut Worksheet<'_>,
    limit: f64,
    (one, other): (&Outputs, &Outputs),
    rests_on: Vec<u64>,
) -> Option<()> {
    let least = one.value("least_tolerance")?.min(other.value("least_tolerance")?);
    let deviation = one.value("reading_deviation")?.min(other.value("reading_deviation")?);
    let (least, limit) = (sheet.fine(least), sheet.fine(limit));
    sheet.gate(GateCheck {
        id: "tram.can-prove",
        about: String::new(),
        kind: GateKind::Stop,
        pass: one.flag("can_prove")? || other.flag("can_prove")?,
        measured: Some(least.clone()),
        limit: Some(limit.clone()),
        says: (
            "This indicator can prove the limit.".to_owned(),
            format!(
                "This indicator cannot prove {limit}: one reading scatters by {}, and even 60 pairs prove no less than {least}. A finer or steadier indicator, a larger pad span or a wider limit would.",
                sheet.fine(deviation)
            ),
        ),
        rests_on,
    })
}
