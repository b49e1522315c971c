//! The drift of the bore from piece to piece, and the correction when the next one would be too small (A5, D27).

use serde_json::json;

use crate::checklist::{GateCheck, GateKind, Question, Window, Worksheet, shown};
use crate::job::{Bore, Feature};
use crate::steps::piece_check::WEAR;

/// Fewest pieces that make a line.
const LEAST_PIECES: usize = 3;

/// Follows the bores since the last correction.
pub(super) fn watch(sheet: &mut Worksheet<'_>, feature: &Feature, piece: u32) -> Option<()> {
    let bore = feature.bore.as_ref()?;
    let window = Window::around(0.0, bore.target.mm() / 20.0);
    let wear = sheet.number(Question::of(&WEAR).expect(window))?;
    sheet.hand("check.wear", wear, None);
    let (pieces, bores) = since_correction(sheet, piece, wear)?;
    if pieces.len() < LEAST_PIECES {
        return Some(());
    }
    let low = bore.window.0.mm() + bore.guard.mm();
    let outputs = sheet.reckon("drift", "bore-drift", json!({"pieces": pieces, "bores": bores, "lower_limit": low}))?;
    let drift = sheet.length(outputs.value("drift_per_piece")?, 1e-6);
    sheet.finding("check.drift", "drift per piece", drift, &outputs);
    let predicted = outputs.value("predicted_next")?;
    let next = sheet.fine(predicted);
    sheet.finding("check.predicted-bore", "next bore by the line", next.clone(), &outputs);
    if predicted >= low {
        return Some(());
    }
    correction(sheet, bore, *bores.last()?)?;
    sheet.gate(GateCheck {
        id: "check.predicted-bore",
        about: String::new(),
        kind: GateKind::Ask,
        pass: false,
        measured: Some(next),
        limit: Some(sheet.fine(low)),
        says: (
            String::new(),
            "The next bore would be below its guarded limit: correct the wear or change the cutter, and go on with the reason written down.".to_owned(),
        ),
        rests_on: sheet.standing(WEAR.id, 0).into_iter().map(|entry| entry.seq).collect(),
    })
}

/// Lists piece numbers and bores since the wear correction last changed, this piece included.
fn since_correction(sheet: &Worksheet<'_>, piece: u32, wear: f64) -> Option<(Vec<u32>, Vec<f64>)> {
    let handed = sheet.at().handed;
    let wears = handed.by_piece("check.wear");
    let same = |other: u32| wears.iter().any(|(of, was)| *of == other && (was - wear).abs() < 1e-9);
    let last_other = (1..piece).rev().find(|other| !same(*other)).unwrap_or(0);
    let mut kept: Vec<(u32, f64)> =
        handed.by_piece("check.bore").into_iter().filter(|(of, _)| *of > last_other && *of < piece).collect();
    let this = sheet.standing("check.bore", 0).last().map(|entry| entry.number())?;
    kept.push((piece, this));
    Some(kept.into_iter().unzip())
}

fn correction(sheet: &mut Worksheet<'_>, bore: &Bore, last: f64) -> Option<()> {
    let outputs = sheet.reckon(
        "correction",
        "bore-wear-correction",
        json!({"target_bore": bore.target.mm(), "measured_bore": last}),
    )?;
    let change = outputs.value("diameter_wear_change")?;
    let to = sheet.fine(-change);
    sheet.finding("check.correction", "make the bore larger by", to, &outputs);
    let radius = shown(outputs.value("radius_wear_change")?, "mm", 0.0001);
    sheet.finding("check.correction-radius", "wear change when the register holds a radius", radius, &outputs);
    Some(())
}
