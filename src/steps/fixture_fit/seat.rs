//! The seat: feeler, plane through four corners (wedge and rock told apart), clamping again.

use serde_json::json;

use super::asks::{CORNERS, CORNERS_AGAIN, FEELER, WALL_1, WALL_2};
use crate::checklist::{GateCheck, GateKind, Outputs, Question, Worksheet};
use crate::job::{Depth, JobCard};
use crate::quantity::Length;
use crate::scene::Scene;

/// Judges the seat: feeler, plane through four corners, and whether it comes back after clamping again.
pub(super) fn seat(sheet: &mut Worksheet<'_>) -> Option<()> {
    sheet.picture(seat_scene(&sheet.card().fixture.seat_corners, None));
    sheet.tick(
        Question::of(&FEELER),
        "Something is under that corner: release, clean, tap down while tightening, and try the feeler again.",
    )?;
    let card = sheet.card();
    let (mut points, mut rests_on, mut uncertainty) = (Vec::new(), Vec::new(), 0.0_f64);
    for (round, (u, v)) in (0_u32..).zip(card.fixture.seat_corners) {
        sheet.picture(seat_scene(&card.fixture.seat_corners, Some(round)));
        let say = format!("Indicator along X on seat corner {} of 4 (going round).", round + 1);
        let corner = sheet.measure(Question::of(&CORNERS).round(round).say(say))?;
        points.push([u.mm(), v.mm(), corner.mean]);
        uncertainty = uncertainty.max(corner.uncertainty);
        rests_on.extend(corner.entries);
    }
    let outputs = sheet.reckon("seat", "plane-fit", json!({"points": points}))?;
    let places: Vec<[f64; 2]> = points.iter().map(|[u, v, _]| [*u, *v]).collect();
    let inputs = json!({"places": places, "reading_uncertainty": uncertainty});
    let known = sheet.reckon("seat-uncertainty", "plane-fit-uncertainty", inputs)?;
    seat_findings(sheet, &outputs, &known)?;
    seat_gates(sheet, &outputs, &rests_on)?;
    comes_back(sheet, &points)
}

fn seat_findings(sheet: &mut Worksheet<'_>, outputs: &Outputs, known: &Outputs) -> Option<()> {
    let height = sheet.fine(outputs.value("height_at_origin")?);
    sheet.finding("fit.seat-height", "seat height", height, outputs);
    sheet.with_uncertainty(known.value("height_uncertainty")?);
    for (id, key, uncertainty, label) in [
        ("fit.seat-slope-u", "slope_x", "slope_x_uncertainty", "slope along u"),
        ("fit.seat-slope-v", "slope_y", "slope_y_uncertainty", "slope along v"),
    ] {
        let slope = crate::checklist::shown(outputs.value(key)?, "mm/m", 0.0001);
        sheet.finding(id, label, slope, outputs);
        sheet.with_uncertainty(known.value(uncertainty)?);
    }
    let tilt = crate::checklist::shown(outputs.value("tilt_angle")?, "deg", 0.0001);
    sheet.finding("fit.seat-tilt", "seat tilt", tilt, outputs);
    let residual = sheet.fine(outputs.value("largest_residual")?);
    sheet.finding("fit.seat-residual", "corner off plane", residual, outputs);
    let twist = sheet.fine(outputs.value("twist")?);
    sheet.finding("fit.seat-rock", "rock", twist, outputs);
    Some(())
}

fn seat_gates(sheet: &mut Worksheet<'_>, outputs: &Outputs, rests_on: &[u64]) -> Option<()> {
    let card = sheet.card();
    let (tilt, limit) = (outputs.value("tilt_angle")?, card.fixture.seat_tilt_limit_deg);
    sheet.gate(GateCheck {
        id: "fit.seat-tilt",
        about: String::new(),
        kind: GateKind::Stop,
        pass: tilt <= limit,
        measured: Some(sheet.angle(tilt)),
        limit: Some(sheet.angle(limit)),
        says: (
            "The seat is square.".to_owned(),
            format!(
                "The seat is tilted like a wedge: a chip under the edge at corner {}, or an edge on a fillet. Take off, clean, seat, tap down, indicate again.",
                highest(outputs, card)
            ),
        ),
        rests_on: rests_on.to_vec(),
    })?;
    let (twist, step) = (outputs.value("twist")?.abs(), card.instruments.seat_indicator.resolution.mm());
    let allowed = 3.0 * card.instruments.seat_indicator.repeatability.mm() + 2.0 * step;
    sheet.gate(GateCheck {
        id: "fit.seat-rock",
        about: String::new(),
        kind: GateKind::Ask,
        pass: twist <= allowed,
        measured: Some(sheet.fine(twist)),
        limit: Some(sheet.fine(allowed)),
        says: (
            "The seat does not rock.".to_owned(),
            "The seat rocks: a burr or a bent plate, not a chip under one edge. Stone it.".to_owned(),
        ),
        rests_on: rests_on.to_vec(),
    })
}

/// Names the corner towards which the seat rises.
fn highest(outputs: &Outputs, card: &JobCard) -> usize {
    let slope = |key: &str| outputs.value(key).unwrap_or(0.0);
    let (along_u, along_v) = (slope("slope_x"), slope("slope_y"));
    let rise = |(u, v): &(Length, Length)| u.mm() * along_u + v.mm() * along_v;
    let corners = card.fixture.seat_corners.iter().enumerate();
    corners.max_by(|one, other| rise(one.1).total_cmp(&rise(other.1))).map_or(1, |(place, _)| place + 1)
}

/// A fixture whose slots were just cut, or one for the record, is released and clamped once more.
fn comes_back(sheet: &mut Worksheet<'_>, first: &[[f64; 3]]) -> Option<()> {
    let card = sheet.card();
    let new_slots =
        (0..30).any(|look| !sheet.standing(WALL_1.id, look).is_empty() || !sheet.standing(WALL_2.id, look).is_empty());
    if card.depth != Depth::Record && !(new_slots && card.depth == Depth::Normal) {
        return Some(());
    }
    let mut second = Vec::new();
    let mut rests_on = Vec::new();
    for round in 0..4_u32 {
        sheet.picture(seat_scene(&card.fixture.seat_corners, Some(round)));
        let say = format!("{} Corner {} of 4.", CORNERS_AGAIN.says, round + 1);
        let corner = sheet.measure(Question::of(&CORNERS_AGAIN).round(round).say(say))?;
        second.push(corner.mean);
        rests_on.extend(corner.entries);
    }
    let first: Vec<f64> = first.iter().map(|[_, _, height]| *height).collect();
    let indicator = &card.instruments.seat_indicator;
    let outputs = sheet.reckon(
        "seat-repeat",
        "seat-repeat",
        json!({
            "first": first, "second": second,
            "repeatability": indicator.repeatability.mm(), "display_step": indicator.resolution.mm(),
        }),
    )?;
    let (change, allowed) = (sheet.fine(outputs.value("largest_change")?), sheet.fine(outputs.value("allowed")?));
    sheet.finding("fit.seat-repeat", "seat came back within", change.clone(), &outputs);
    sheet.gate(GateCheck {
        id: "fit.seat-repeat",
        about: String::new(),
        kind: GateKind::Ask,
        pass: outputs.flag("comes_back")?,
        measured: Some(change),
        limit: Some(allowed),
        says: (
            "The fixture comes back to the same seat.".to_owned(),
            "The fixture does not come back to the same seat: something lies under it, or it was not tapped down while \
             tightening. Clean and clamp again."
                .to_owned(),
        ),
        rests_on,
    })
}

fn seat_scene(corners: &[(Length, Length); 4], now: Option<u32>) -> Scene {
    let outline: Vec<(f64, f64)> = corners.iter().map(|(u, v)| (u.mm() * 1.2, v.mm() * 1.2)).collect();
    let mut scene = Scene::seen("looking at the seat").outline(&outline);
    for (number, (u, v)) in (0_u32..).zip(corners) {
        scene = scene.mark((u.mm(), v.mm()), format!("{}", number + 1), Some(number) == now);
    }
    scene
}
