//! Whether every index can be reached at all: the travel of X, Y and Z, and the gap of all that swings to the table.

use serde_json::json;

use crate::checklist::{GateCheck, GateKind, Outputs, Worksheet};
use crate::job::{Feature, WorkTurns};

/// Where a feature stands at its index.
pub(super) struct AtIndex<'a> {
    /// The feature.
    pub(super) feature: &'a Feature,
    /// Its machine point, with the tip of the tool on the surface.
    pub(super) point: &'a Outputs,
    /// The A in the program.
    pub(super) program_a: f64,
    /// X, Y, Z of the register.
    pub(super) register: [f64; 3],
    /// Off-centre in Y and Z with the zero on this piece.
    pub(super) off_centre: (f64, f64),
}

/// Checks the travel of the three axes and the gap to the table at one index.
pub(super) fn check(sheet: &mut Worksheet<'_>, turns: WorkTurns, at: &AtIndex<'_>) -> Option<()> {
    travel(sheet, at)?;
    swing(sheet, turns, at)
}

fn travel(sheet: &mut Worksheet<'_>, at: &AtIndex<'_>) -> Option<()> {
    let card = sheet.card();
    let length = card.tools.iter().find(|tool| tool.number == at.feature.tool).map_or(0.0, |tool| tool.length.mm());
    let surface = at.point.value("surface_z")? + length;
    let [_, _, register_z] = at.register;
    let turning = register_z + sheet.at().handed.number("fit.swing").unwrap_or(0.0) + card.machine.swing_margin.mm();
    let depths =
        [surface - at.feature.tip_depth.mm(), surface + card.first_run.clearance.mm(), (turning + length).max(surface)];
    let positions =
        [("x", vec![at.point.value("machine_x")?]), ("y", vec![at.point.value("machine_y")?]), ("z", depths.to_vec())];
    for (axis, (name, positions)) in positions.into_iter().enumerate() {
        reach(sheet, at, (axis, name), &positions)?;
    }
    Some(())
}

/// Returns the ends of an axis' travel; without them on the card, machine zero lies at the end that the signs show.
fn ends(sheet: &Worksheet<'_>, axis: usize, positions: &[f64]) -> Option<(f64, f64)> {
    let machine = &sheet.card().machine;
    let travel = machine.travel.get(axis)?.mm();
    if let Some(low) = machine.travel_low.as_ref().and_then(|low| low.get(axis)) {
        return Some((low.mm(), low.mm() + travel));
    }
    let below = positions.iter().any(|position| *position < 0.0);
    let above = positions.iter().any(|position| *position > 0.0);
    Some((if below { -travel } else { 0.0 }, if above { travel } else { 0.0 }))
}

fn reach(sheet: &mut Worksheet<'_>, at: &AtIndex<'_>, (axis, name): (usize, &str), positions: &[f64]) -> Option<()> {
    let (lowest, highest) = ends(sheet, axis, positions)?;
    let about = format!("{}/{name}", at.feature.id);
    let outputs = sheet.reckon(
        &format!("travel/{about}"),
        "travel-room",
        json!({"positions": positions, "lowest": lowest, "highest": highest}),
    )?;
    let room = sheet.at_least_increment(outputs.value("least_room")?);
    sheet.finding_about("index.travel", &about, "room to the end of travel", room.clone(), &outputs);
    sheet.gate(GateCheck {
        id: "index.travel",
        about,
        kind: GateKind::Stop,
        pass: outputs.flag("inside")?,
        measured: Some(room),
        limit: Some(sheet.at_least_increment(0.0)),
        says: (
            format!("{} of {} lies inside the travel.", name.to_uppercase(), at.feature.id),
            format!(
                "{} of {} lies beyond the end of travel: the machine would stop in the cut. Move the rotary on the table, take another tool length, or cut this feature in another setup.",
                name.to_uppercase(),
                at.feature.id
            ),
        ),
        rests_on: Vec::new(),
    })
}

fn swing(sheet: &mut Worksheet<'_>, turns: WorkTurns, at: &AtIndex<'_>) -> Option<()> {
    let card = sheet.card();
    let fixture = &card.fixture;
    let (half_y, half_z) = (fixture.width.mm() / 2.0, fixture.height.mm() / 2.0);
    let mut points = vec![[half_y, half_z], [-half_y, half_z], [-half_y, -half_z], [half_y, -half_z]];
    points.extend(fixture.protruding.iter().map(|point| [point.y.mm(), point.z.mm()]));
    let id = &at.feature.id;
    let outputs = sheet.reckon(
        &format!("swing/{id}"),
        "lowest-at-index",
        json!({
            "points": points, "off_centre_y": at.off_centre.0, "off_centre_z": at.off_centre.1,
            "index_angle": at.program_a, "work_turns": turns.word(), "centre_height": card.machine.centre_height.mm(),
        }),
    )?;
    let (gap, margin) = (outputs.value("gap")?, card.machine.swing_margin.mm());
    let shown = sheet.at_least_increment(gap);
    sheet.finding_about("index.table-gap", id, "gap to the table", shown.clone(), &outputs);
    sheet.gate(GateCheck {
        id: "index.table-gap",
        about: id.clone(),
        kind: GateKind::Stop,
        pass: gap >= margin,
        measured: Some(shown),
        limit: Some(sheet.at_least_increment(margin)),
        says: (
            format!("Nothing comes near the table at the index of {id}."),
            format!("At the index of {id} something comes too near the table: turn the fixture half round, or take the obstacle off."),
        ),
        rests_on: Vec::new(),
    })
}
