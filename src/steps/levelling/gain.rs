//! Did the difference answer the last move as it should, and if not, what slip does the ratio point to (D11)?

use serde_json::json;

use crate::checklist::{GateCheck, GateKind, Outputs, Worksheet, shown};
use crate::job::WorkTurns;
use crate::steps::levelling::Setting;
use crate::steps::levelling::tries::Tries;

/// Moves smaller than this many uncertainties of the difference tell nothing about the gain.
const LEAST_MOVE_FOR_GAIN: f64 = 5.0;
/// A good gain is within a tenth of 1 (decisions 8), and within what the readings leave open.
const GOOD_WITHIN: f64 = 0.1;
const LEFT_OPEN: f64 = 3.0;
/// Fewest tries that foretell another.
const FEWEST_TO_FORETELL: usize = 3;

/// Judges the gain of the move before a round.
pub(super) fn gain(
    sheet: &mut Worksheet<'_>,
    setting: &Setting,
    tries: &Tries<'_>,
    (round, turns): (u32, WorkTurns),
    fit: &Outputs,
) -> Option<()> {
    let rounds = tries.usable();
    let [.., before, now] = rounds.as_slice() else { return Some(()) };
    let (differences, uncertainties) = (fit.values("pad_differences"), fit.values("uncertainties"));
    let ([.., was, is], [.., was_known, is_known]) = (differences.as_slice(), uncertainties.as_slice()) else {
        return Some(());
    };
    let turns_seen = fit.values("turns");
    let [.., from, to] = turns_seen.as_slice() else { return Some(()) };
    let sent = to - from;
    let asked = setting.span * sent.to_radians().tan();
    let spread = was_known.hypot(*is_known) / asked.abs();
    if spread * LEAST_MOVE_FOR_GAIN > 1.0 {
        return fits(sheet, setting, tries, round, fit);
    }
    // Without the fit's rounding: the two angles as typed.
    let sent = turned(sheet, round, before.machine_a?.number(), now.machine_a?.number())?;
    let outputs = sheet.reckon(
        &format!("gain/{round}"),
        "tram-gain",
        json!({
            "difference_before": was, "difference_after": is, "correction_sent": sent, "pad_span": setting.span,
            "work_turns": turns.word(),
        }),
    )?;
    let (gain, diagnosis) = (outputs.value("gain")?, outputs.word("diagnosis")?);
    let measured = shown(gain, "1", 0.001);
    sheet.finding_about(setting.names.gain, &round.to_string(), "gain", measured.clone(), &outputs);
    sheet.with_uncertainty(spread);
    sheet.gate(GateCheck {
        id: setting.names.gain,
        about: round.to_string(),
        kind: if (0.5..=1.5).contains(&gain) { GateKind::Ask } else { GateKind::Stop },
        pass: (gain - 1.0).abs() <= GOOD_WITHIN + LEFT_OPEN * spread + f64::EPSILON,
        measured: Some(measured),
        limit: Some(shown(1.0, "1", 0.1)),
        says: (
            holds_words(gain).to_owned(),
            format!("The difference moved {gain:.2} times as far as the turn asks. {}", gain_words(diagnosis)),
        ),
        rests_on: before.all().into_iter().chain(now.all()).collect(),
    })?;
    fits(sheet, setting, tries, round, fit)
}

/// Holds the newest of three tries or more against where the others put it.
fn fits(sheet: &mut Worksheet<'_>, setting: &Setting, tries: &Tries<'_>, round: u32, fit: &Outputs) -> Option<()> {
    let rounds = tries.usable();
    if rounds.len() < FEWEST_TO_FORETELL {
        return Some(());
    }
    let (seen, fitted) = (fit.values("pad_differences").last().copied()?, fit.values("fitted").last().copied()?);
    let (seen, fitted) = (sheet.fine(seen), sheet.fine(fitted));
    sheet.gate(GateCheck {
        id: setting.names.fits,
        about: round.to_string(),
        kind: GateKind::Ask,
        pass: fit.flag("as_foretold")?,
        measured: Some(seen.clone()),
        limit: Some(fitted.clone()),
        says: (
            "This try lies where the others put it.".to_owned(),
            format!(
                "This try shows {seen}; with the others it should be near {fitted}. A slip in one of them, play, or the part has moved: read this one again first."
            ),
        ),
        rests_on: rounds.last().map(|newest| newest.all()).unwrap_or_default(),
    })
}

fn holds_words(gain: f64) -> &'static str {
    if gain >= 1.02 {
        "The gain is good; a tilted lever reads a little high, the level itself is not affected."
    } else {
        "The gain is good."
    }
}

/// Returns by how much the rotary was turned between two tries, the short way round.
fn turned(sheet: &mut Worksheet<'_>, round: u32, from: f64, to: f64) -> Option<f64> {
    let inputs = json!({"machine_angle": to, "displayed_angle": from, "register_angle": 0.0});
    sheet.reckon(&format!("turned/{round}"), "angle-identity", inputs)?.value("residual_angle")
}

fn gain_words(diagnosis: &str) -> &'static str {
    match diagnosis {
        "wrong-way" => {
            "It moved the wrong way: turning sense wrong, pads swapped, or the indicator's sign. Test the sense again."
        }
        "not-moving" => "It did not move: brake on, wrong axis, or the needle out of travel?",
        "times-10" => {
            "Ten times too far: is a division of the indicator 0.001 and was 0.01 typed? Read the dial again."
        }
        "divided-by-10" => {
            "A tenth of it: is a division of the indicator 0.01 and was 0.001 typed? Read the dial again."
        }
        "times-25.4" | "divided-by-25.4" => "Inch and millimetre are mixed between indicator and card.",
        "times-2" | "divided-by-2" => {
            "Twice or half: half a reading typed for a whole one, or a wrong pad span on the card."
        }
        "reads-high" => "The lever stands at an angle to the pad and reads high: lay it flatter.",
        "reads-low" => "It moved too little: play, a sticking slide, or a clamp that slips.",
        _ => "Something is loose or mistyped: read both pads again.",
    }
}
