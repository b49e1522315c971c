//! Corner relief by sizes alone: does a jaw reach the floor of its slot past the fillet, and does it clear the corners in plan?

use serde_json::json;

use super::pictures;
use crate::checklist::{GateCheck, GateKind, Worksheet};

/// Judges whether the jaws can reach the floors of the slots, and whether they clear the corners of slots that are closed.
pub(super) fn corner_relief(sheet: &mut Worksheet<'_>) -> Option<()> {
    for name in ["slot-1", "slot-2"] {
        standoff(sheet, name)?;
    }
    corners_in_plan(sheet)
}

fn standoff(sheet: &mut Worksheet<'_>, name: &str) -> Option<()> {
    let fixture = &sheet.card().fixture;
    let (fillet, chamfer) = (fixture.fillet_radius.mm(), fixture.jaw_chamfer.mm());
    let gap = fixture.play_wanted.mm() / 2.0;
    let outputs = sheet.reckon(
        &format!("standoff/{name}"),
        "corner-standoff",
        json!({"fillet_radius": fillet, "side_gap": gap, "jaw_chamfer": chamfer}),
    )?;
    let standoff = outputs.value("standoff")?;
    let shown = sheet.fine(standoff);
    sheet.finding_about("fit.standoff", name, "stands off the floor by", shown, &outputs);
    let needed = sheet.length(outputs.value("chamfer_for_flush")?, 0.01);
    sheet.picture(pictures::slot_corner(fillet, chamfer, gap, standoff));
    if standoff > 0.0 {
        relief_hole(sheet, name, fillet)?;
    }
    sheet.gate(GateCheck {
        id: "fit.standoff",
        about: name.to_owned(),
        kind: GateKind::Stop,
        pass: standoff <= 0.0,
        measured: Some(sheet.fine(standoff)),
        limit: Some(sheet.fine(0.0)),
        says: (
            "The jaw's chamfer clears the fillet: the fixture can seat.".to_owned(),
            format!(
                "The jaw's edge rides on the fillet and cannot seat: it needs a chamfer of {needed}, or a relief hole in the corner."
            ),
        ),
        rests_on: Vec::new(),
    })
}

/// Plans the relief hole through a corner that lets a jaw in which the corner's own radius does not.
fn relief_hole(sheet: &mut Worksheet<'_>, name: &str, radius: f64) -> Option<()> {
    // A hole through the corner as wide as the fillet is round takes all of the fillet away.
    let diameter = 2.0 * radius;
    let outputs =
        sheet.reckon(&format!("relief-hole/{name}"), "corner-relief-hole", json!({"relief_diameter": diameter}))?;
    let shown = sheet.fine(diameter);
    sheet.finding_about("fit.relief-hole", name, "relief hole in each corner, diameter", shown, &outputs);
    for (id, label, key) in [
        ("fit.relief-centre", "its centre inside each wall", "centre_offset"),
        ("fit.relief-overcut", "it cuts into each wall", "overcut"),
    ] {
        let length = sheet.fine(outputs.value(key)?);
        sheet.finding_about(id, name, label, length, &outputs);
    }
    Some(())
}

/// Judges seen from above whether the jaw's corners clear the round corners of slots that are closed at their ends.
fn corners_in_plan(sheet: &mut Worksheet<'_>) -> Option<()> {
    let fixture = &sheet.card().fixture;
    let Some(corners) = &fixture.slot_corners else { return Some(()) };
    let (slot, jaw) = (corners.slot_radius.mm(), corners.jaw_radius.mm());
    let gap = fixture.play_wanted.mm() / 2.0;
    let outputs =
        sheet.reckon("plan-gap", "corner-plan-gap", json!({"fillet_radius": slot, "jaw_corner_radius": jaw}))?;
    let needed = outputs.value("gap_each_side")?;
    let shown_needed = sheet.fine(needed);
    sheet.finding("fit.plan-gap", "gap to each wall that the corners need", shown_needed.clone(), &outputs);
    if needed > gap {
        sheet.picture(pictures::corner_in_plan(slot, jaw, gap));
        relief_hole(sheet, "plan", slot)?;
    }
    sheet.gate(GateCheck {
        id: "fit.plan-gap",
        about: String::new(),
        kind: GateKind::Stop,
        pass: needed <= gap,
        measured: Some(sheet.fine(gap)),
        limit: Some(shown_needed.clone()),
        says: (
            "The jaw's corners clear the round corners of the slots.".to_owned(),
            format!(
                "Seen from above, the jaw's corners ride in the round corners of the closed slots: they need {shown_needed} to \
                 each wall and have half the play. Round the jaw's corners to the slot's radius, or drill a relief hole \
                 through each corner."
            ),
        ),
        rests_on: Vec::new(),
    })
}
