//! The first article: every feature against its zone, not one (A1, D13).

use serde_json::json;

use crate::checklist::{GateCheck, GateKind, Question, Window, Worksheet};
use crate::job::Feature;
use crate::steps::piece_check::{ACROSS, ALONG};

/// Takes the position error of every feature and compares it with its zone.
pub(super) fn features(sheet: &mut Worksheet<'_>) -> Option<()> {
    for (round, feature) in (0_u32..).zip(&sheet.card().features) {
        position(sheet, round, feature)?;
    }
    Some(())
}

fn position(sheet: &mut Worksheet<'_>, round: u32, feature: &Feature) -> Option<()> {
    let window = Window::around(0.0, 10.0 * feature.position_zone.mm());
    let along = Question::of(&ALONG).round(round).expect(window);
    let along =
        sheet.measure(along.say(format!("{}: position error ALONG the axis (found less drawing).", feature.name)))?;
    let across = Question::of(&ACROSS).round(round).expect(window);
    let across = sheet.measure(across.say(format!("{}: position error ACROSS (found less drawing).", feature.name)))?;
    let outputs = sheet.reckon(
        &format!("position/{}", feature.id),
        "position-zone",
        json!({"position_zone": feature.position_zone.mm(), "error_x": along.mean, "error_y": across.mean}),
    )?;
    let shown = sheet.fine(outputs.value("diametral_error")?);
    sheet.finding_about("check.position", &feature.id, "position error", shown.clone(), &outputs);
    sheet.gate(GateCheck {
        id: "check.position",
        about: feature.id.clone(),
        kind: GateKind::Ask,
        pass: outputs.flag("inside")?,
        measured: Some(shown),
        limit: Some(sheet.fine(feature.position_zone.mm())),
        says: (
            format!("{} is inside its zone.", feature.name),
            format!(
                "{} is outside its zone: do not go on with the batch before the cause is found. Set this piece aside.",
                feature.name
            ),
        ),
        rests_on: along.entries.into_iter().chain(across.entries).collect(),
    })
}
