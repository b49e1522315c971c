//! What is looked at once a session beside the tilt: room for the needle, the play of the rotary, and, when nothing was
//! turned, whether the needle tells the truth (T2, B4, D18).

use serde_json::json;

use crate::checklist::{Entry, GateCheck, GateKind, Question, Worksheet, shown};
use crate::job::{CardUnit, Depth};
use crate::steps::levelling::{Level, Setting, Way};
use crate::steps::rotary_tram::{APPROACH, FRONT, KNOWN_JOG, PLAY_FRONT, PLAY_REAR, PRELOAD, REAR};

/// Returns whether the usual checks belong to this piece: the first one, at normal depth or more.
fn is_usual(sheet: &Worksheet<'_>) -> bool {
    sheet.card().depth != Depth::Quick && sheet.at().piece.is_none_or(|piece| piece == 1)
}

/// Asks for the preload before the needle is read; once the first try is read, holds it against the swing that it showed.
pub(super) fn preload(sheet: &mut Worksheet<'_>, setting: &Setting) -> Option<()> {
    if setting.way != Way::Needle || !is_usual(sheet) {
        return Some(());
    }
    let entry = sheet.answer(Question::of(&PRELOAD))?;
    let (rear, front) = (sheet.standing(REAR.id, 0).len(), sheet.standing(FRONT.id, 0).len());
    let wanted = usize::try_from(setting.readings.0).unwrap_or(1);
    if rear < wanted || front < wanted {
        return Some(());
    }
    let again = |place| Question::of(place).times(setting.readings.0).scatters(setting.scatter);
    let (rear, front) = (sheet.measure(again(&REAR))?, sheet.measure(again(&FRONT))?);
    holds(sheet, entry, (rear.mean - front.mean).abs())
}

/// The needle must neither lift off nor reach its end over the swing (decisions 8).
fn holds(sheet: &mut Worksheet<'_>, entry: &Entry, swing: f64) -> Option<()> {
    let card = sheet.card();
    let travel = card.instruments.lever_travel.mm();
    let outputs = sheet.reckon(
        "preload",
        "indicator-travel",
        json!({
            "travel": travel, "preload": entry.number().abs().min(travel), "expected_swing": swing,
            "division": card.instruments.lever.resolution.mm(), "divisions_shown": 0,
        }),
    )?;
    let room = sheet.fine(outputs.value("room_left")?);
    sheet.gate(GateCheck {
        id: "tram.preload",
        about: String::new(),
        kind: GateKind::Stop,
        pass: outputs.flag("within_travel")?,
        measured: Some(sheet.fine(entry.number())),
        limit: Some(sheet.fine(travel)),
        says: (
            format!("The needle has room on both sides; {room} are left."),
            format!(
                "Over a swing of {} this preload lifts off or runs to the end of the travel ({room} left), and a needle that has run out reads flat. Set the preload to at least half the swing and at most half the travel, or read by Z, and read both pads again.",
                sheet.fine(swing)
            ),
        ),
        rests_on: sheet
            .standing(REAR.id, 0)
            .iter()
            .chain(&sheet.standing(FRONT.id, 0))
            .map(|entry| entry.seq)
            .chain([entry.seq])
            .collect(),
    })
}

/// Measures the play once a session, where the part is level.
pub(super) fn play(sheet: &mut Worksheet<'_>, setting: &Setting, level: &Level) -> Option<()> {
    if !is_usual(sheet) {
        return Some(());
    }
    let from_above = sheet.standing(APPROACH.id, 0).last().is_some_and(|entry| entry.word() == "from-above");
    let other = if from_above { "from BELOW" } else { "from ABOVE" };
    let say = format!("Play, once a session: go past and come back to the same A {other}. REAR pad now?");
    let rear = sheet.measure(Question::of(&PLAY_REAR).say(say).times(1).scatters(setting.scatter))?;
    let front = sheet.measure(Question::of(&PLAY_FRONT).times(1).scatters(setting.scatter))?;
    let outputs = sheet.reckon(
        "play",
        "rotary-play",
        json!({
            "one_side": level.last.difference, "other_side": rear.mean - front.mean - setting.step,
            "pad_span": setting.span, "difference_uncertainty": level.last.uncertainty,
        }),
    )?;
    let play = outputs.value("play_angle")?;
    let angle = sheet.angle(play);
    sheet.finding("tram.play", "play of the rotary", angle, &outputs);
    sheet.with_uncertainty(outputs.value("play_uncertainty")?);
    sheet.hand("tram.play", play, outputs.value("play_uncertainty"));
    Some(())
}

/// Jogs that every lever indicator has room for.
const JOG_MM: f64 = 0.1;
const JOG_INCH_IN_MM: f64 = 0.127;

/// Checks the needle against a known jog when the part stood level at once, so that no turn has shown its gain.
pub(super) fn known_jog(sheet: &mut Worksheet<'_>, setting: &Setting) -> Option<()> {
    let card = sheet.card();
    let known = sheet.at().run.learned.indicator_factor.is_some();
    if setting.way != Way::Needle || known || card.depth == Depth::Quick {
        return Some(());
    }
    let jog = if card.unit == CardUnit::Inch { JOG_INCH_IN_MM } else { JOG_MM };
    let shown_jog = sheet.length(jog, card.machine.least_length.mm());
    let say = format!(
        "Level at once, so no turn has shown yet that the needle tells the truth. Jog Z down by {shown_jog} against a pad: by how much did the needle move?"
    );
    let entry = sheet.answer(Question::of(&KNOWN_JOG).say(say))?;
    let outputs = sheet.reckon("known-jog", "indicator-factor", json!({"shown": entry.number(), "jogged": jog}))?;
    let factor = outputs.value("factor")?;
    let diagnosis = outputs.word("diagnosis")?;
    let kind = if (0.5..=1.5).contains(&factor) { GateKind::Ask } else { GateKind::Stop };
    sheet.gate(GateCheck {
        id: "tram.indicator-factor",
        about: String::new(),
        kind,
        pass: matches!(diagnosis, "good" | "reads-high") && (0.9..=1.1).contains(&factor),
        measured: Some(shown(factor, "1", 0.001)),
        limit: Some(shown(1.0, "1", 0.1)),
        says: (
            "The needle shows what was jogged.".to_owned(),
            format!(
                "The needle moved {factor:.2} times as far as Z ({diagnosis}): divisions, unit or sign are not what was typed. Look at the dial, then read both pads again."
            ),
        ),
        rests_on: vec![entry.seq],
    })?;
    sheet.hand("tram.indicator-factor", factor, None);
    Some(())
}
