//! The index table: for every feature the A to command and where it then stands, the off-centre turned by the clocking
//! (D2, D3, D4, T8).

mod reach;

use serde_json::json;

use crate::checklist::{GateCheck, GateKind, Outputs, Worksheet};
use crate::job::{Feature, WorkTurns};
use crate::steps::capture::Captured;
use crate::steps::rotary_tram::tries::Level;

/// Works out how the part sits clocked in the fixture; `Some(None)` when the fixture's roll was not needed.
#[expect(clippy::option_option, reason = "the outer one stops the walk, the inner one says that it was not measured")]
pub(super) fn clocking(sheet: &mut Worksheet<'_>, turns: WorkTurns, level: &Level) -> Option<Option<f64>> {
    let handed = sheet.at().handed;
    if sheet.at().piece.is_some_and(|piece| piece > 1) {
        return Some(None);
    }
    let (Some(roll), Some(at)) = (handed.number("pickup.fixture-roll"), handed.number("pickup.machine-a")) else {
        return Some(None);
    };
    let outputs = sheet.reckon(
        "clocking",
        "clocking",
        json!({
            "part_roll": level.first.roll, "part_index": level.first.machine_a, "fixture_roll": roll, "fixture_index": at,
            "work_turns": turns.word(),
        }),
    )?;
    let clocking = outputs.value("clocking_angle")?;
    let shown = sheet.angle(clocking);
    sheet.finding("tram.clocking", "part clocked in fixture", shown, &outputs);
    sheet.hand("tram.clocking", clocking, None);
    Some(Some(clocking))
}

/// Shows the table on the first piece; on later ones checks that it may stay.
pub(super) fn table(
    sheet: &mut Worksheet<'_>,
    turns: WorkTurns,
    clocking: Option<f64>,
    captured: &Captured,
) -> Option<()> {
    if sheet.at().piece.is_some_and(|piece| piece > 1) {
        return may_stay(sheet, turns, captured);
    }
    let handed = sheet.at().handed;
    let (y, z) = (handed.number("pickup.off-centre-y")?, handed.number("pickup.off-centre-z")?);
    let outputs = sheet.reckon(
        "off-centre-at-zero",
        "off-centre-after-reclocking",
        json!({"off_centre_y": y, "off_centre_z": z, "clocking_angle": clocking.unwrap_or(0.0)}),
    )?;
    let at_zero = (outputs.value("new_off_centre_y")?, outputs.value("new_off_centre_z")?);
    for (id, label, value) in [
        ("index.off-centre-y", "off-centre Y at zero", at_zero.0),
        ("index.off-centre-z", "off-centre Z at zero", at_zero.1),
    ] {
        let shown = sheet.fine(value);
        sheet.finding(id, label, shown, &outputs);
        sheet.hand(id, value, None);
    }
    for feature in &sheet.card().features {
        row(sheet, feature, turns, at_zero, captured)?;
    }
    Some(())
}

fn row(
    sheet: &mut Worksheet<'_>,
    feature: &Feature,
    turns: WorkTurns,
    off_centre: (f64, f64),
    captured: &Captured,
) -> Option<()> {
    let card = sheet.card();
    let id = &feature.id;
    let index = sheet.reckon(
        &format!("index/{id}"),
        "drawing-angle-to-index",
        json!({
            "drawing_angle": feature.drawing_angle_deg, "drawn_direction": feature.drawn_direction.word(),
            "top_faces": card.machine.top_faces.word(), "work_turns": turns.word(),
        }),
    )?;
    let program_a = index.value("index_angle")?;
    let shift = sheet.reckon(
        &format!("shift/{id}"),
        "off-centre-shift",
        json!({
            "off_centre_y": off_centre.0, "off_centre_z": off_centre.1, "work_turns": turns.word(), "index_angles": [program_a],
        }),
    )?;
    let slope = sheet.reckon(
        &format!("entry/{id}"),
        "entry-slope",
        json!({"lateral_offset": feature.across.mm(), "surface_radius": feature.radius.mm(), "drill_diameter": feature.diameter.mm()}),
    )?;
    let centre = centreline(sheet, feature, captured)?;
    let at = sheet.reckon(
        &format!("at-index/{id}"),
        "feature-at-index",
        json!({
            "register_x": captured.register[0], "register_y": captured.register[1], "register_z": captured.register[2],
            "register_a": captured.register_a, "program_a": program_a, "along": feature.along.mm(),
            "top_faces": card.machine.top_faces.word(), "across": feature.across.mm(),
            "entry_height": slope.value("entry_height")?, "centreline_y": centre.0, "centreline_z": centre.1,
            "shift_y": shift.values("shifts_y").first()?, "shift_z": shift.values("shifts_z").first()?,
        }),
    )?;
    show_row(sheet, id, &index, &shift, &slope, &at)?;
    let register = captured.register;
    reach::check(sheet, turns, &reach::AtIndex { feature, point: &at, program_a, register, off_centre })
}

/// Returns the centreline at the feature's X, with the slope of the axis where it was measured.
fn centreline(sheet: &mut Worksheet<'_>, feature: &Feature, captured: &Captured) -> Option<(f64, f64)> {
    let handed = sheet.at().handed;
    let sign = sheet.card().machine.top_faces.sign();
    let outputs = sheet.reckon(
        &format!("centreline/{}", feature.id),
        "centreline-at-feature",
        json!({
            "centreline_y": captured.register[1], "centreline_z": captured.register[2],
            "axis_slope_y": handed.number("pickup.axis-slope-y").unwrap_or(0.0),
            "axis_slope_z": handed.number("pickup.axis-slope-z").unwrap_or(0.0),
            "reference_x": captured.register[0] + sign * sheet.card().fixture.touch_along.mm(),
            "feature_x": captured.register[0] + sign * feature.along.mm(),
        }),
    )?;
    Some((outputs.value("centreline_y_at_feature")?, outputs.value("centreline_z_at_feature")?))
}

fn show_row(
    sheet: &mut Worksheet<'_>,
    id: &str,
    index: &Outputs,
    shift: &Outputs,
    slope: &Outputs,
    at: &Outputs,
) -> Option<()> {
    let a_program = sheet.angle(index.value("index_angle")?);
    sheet.finding_about("index.a-program", id, "A in the program", a_program, index);
    let a_machine = sheet.angle(at.value("machine_a")?);
    sheet.finding_about("index.a-machine", id, "machine A", a_machine, at);
    let shift_y = sheet.fine(*shift.values("shifts_y").first()?);
    sheet.finding_about("index.shift-y", id, "off-centre shift Y", shift_y, shift);
    let shift_z = sheet.fine(*shift.values("shifts_z").first()?);
    sheet.finding_about("index.shift-z", id, "off-centre shift Z", shift_z, shift);
    for (name, key, label) in [
        ("index.x-machine", "machine_x", "machine X"),
        ("index.y-machine", "machine_y", "machine Y"),
        ("index.z-surface", "surface_z", "tip Z at surface"),
        ("index.x-program", "program_x", "X in the program"),
        ("index.y-program", "program_y", "Y in the program"),
        ("index.z-program", "program_z", "Z of the surface"),
    ] {
        let value = sheet.fine(at.value(key)?);
        sheet.finding_about(name, id, label, value, at);
    }
    sheet.hand_about("index.z-program", id, at.value("program_z")?, None);
    sheet.hand_about("index.a-program", id, index.value("index_angle")?, None);
    let entry = sheet.angle(slope.value("slope_at_centre")?);
    sheet.finding_about("index.entry-slope", id, "entry slope", entry, slope);
    Some(())
}

/// The table may stay while the off-centre has moved by no more than a third of its share (D4).
fn may_stay(sheet: &mut Worksheet<'_>, turns: WorkTurns, captured: &Captured) -> Option<()> {
    let handed = sheet.at().handed;
    let first = handed.number_of(Some(1), "tram.a")?;
    let turned = sheet.reckon(
        "turned-against-first",
        "clocking",
        json!({
            "part_roll": 0.0, "part_index": captured.register_a, "fixture_roll": 0.0, "fixture_index": first,
            "work_turns": turns.word(),
        }),
    )?;
    let outputs = sheet.reckon(
        "off-centre-moved",
        "off-centre-after-reclocking",
        json!({
            "off_centre_y": handed.number_of(Some(1), "index.off-centre-y")?,
            "off_centre_z": handed.number_of(Some(1), "index.off-centre-z")?,
            "clocking_angle": turned.value("clocking_angle")?,
        }),
    )?;
    let moved = outputs.value("moved")?;
    let share = sheet.card().budget.off_centre.mm();
    let neglect =
        sheet.reckon("off-centre-neglect", "off-centre-neglect", json!({"off_centre_moved": moved, "share": share}))?;
    let shown = sheet.length(moved, 1e-5);
    sheet.finding("index.off-centre-moved", "off-centre moved", shown.clone(), &outputs);
    sheet.gate(GateCheck {
        id: "index.off-centre-moved",
        about: String::new(),
        kind: GateKind::Ask,
        pass: neglect.flag("neglect")?,
        measured: Some(shown),
        limit: Some(sheet.length(neglect.value("limit")?, 1e-5)),
        says: (
            "The index table of the first piece stays.".to_owned(),
            "The off-centre has moved too far for the first piece's index table: make the table new for this piece."
                .to_owned(),
        ),
        rests_on: Vec::new(),
    })
}
