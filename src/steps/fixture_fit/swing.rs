//! What swings and what stands: the right way round, the swing radius, the table, every obstacle of the machine.

use serde_json::json;

use super::asks::{MARK_FLAT, OBSTACLES, POINT_Y, POINT_Z, STICKS_OUT};
use crate::checklist::{GateCheck, GateKind, Outputs, Question, Window, Worksheet, shown};
use crate::job::{Depth, Obstacle};
use crate::scene::Scene;

/// A flat counts as found within this share of its distance from the centreline: far enough to tell the two ways apart.
const FLAT_SHARE: f64 = 0.25;

/// Tells by its off-centre flat whether the fixture is the right way round.
pub(super) fn right_way_round(sheet: &mut Worksheet<'_>) -> Option<()> {
    let expected = sheet.card().fixture.mark_flat_y.mm();
    if expected.abs() < 1e-9 {
        return Some(());
    }
    let reach = Window::around(0.0, sheet.card().fixture.width.mm());
    let found = sheet.answer(Question::of(&MARK_FLAT).expect(reach))?;
    let outputs = sheet.reckon(
        "mark-flat",
        "reversed-fixture-check",
        json!({"expected_flat_y": expected, "found_flat_y": found.number(), "match_within": expected.abs() * FLAT_SHARE}),
    )?;
    let reversed = outputs.flag("reversed")?;
    let words = if reversed {
        "The flat is on the opposite side: the fixture is turned half round. Take it off and put it on the right way."
    } else {
        "The flat is not where the card has it: the wrong fixture, or the wrong number. Look and measure again."
    };
    sheet.gate(GateCheck {
        id: "fit.right-way-round",
        about: String::new(),
        kind: GateKind::Stop,
        pass: outputs.flag("as_expected")?,
        measured: Some(sheet.fine(found.number())),
        limit: Some(sheet.fine(expected)),
        says: ("The fixture is the right way round.".to_owned(), words.to_owned()),
        rests_on: vec![found.seq],
    })
}

/// The way out when something swings too wide (eye protection, and never at the machine).
const WAY_OUT: &str = "Turn the fixture half round, take the obstacle off, or shorten the screw away from the machine (eye \
                       protection; keep thread and key depth). Then measure the swing again.";

/// What swings: named points from the rotary centreline at index 0.
struct Swinging {
    points: Vec<(String, [f64; 2])>,
    rests_on: Vec<u64>,
}

/// Judges the swing against the table and every obstacle on the card.
pub(super) fn swing(sheet: &mut Worksheet<'_>) -> Option<()> {
    let swinging = swinging(sheet)?;
    let outputs = radius(sheet, &swinging)?;
    sheet.picture(picture(sheet, &swinging, outputs.value("largest_swing")?));
    table(sheet, &swinging, &outputs)?;
    let card = sheet.card();
    for obstacle in &card.machine.obstacles {
        past(sheet, &swinging, obstacle)?;
    }
    if card.depth == Depth::Quick {
        return Some(());
    }
    all_listed(sheet)
}

fn swinging(sheet: &mut Worksheet<'_>) -> Option<Swinging> {
    let fixture = &sheet.card().fixture;
    let on_card = fixture.protruding.iter().map(|point| (point.name.clone(), [point.y.mm(), point.z.mm()]));
    let mut points: Vec<(String, [f64; 2])> = on_card.collect();
    let answer = sheet.answer(Question::of(&STICKS_OUT))?;
    let mut rests_on = vec![answer.seq];
    if answer.word() == "further-out" {
        let y = sheet.answer(Question::of(&POINT_Y))?;
        let z = sheet.answer(Question::of(&POINT_Z))?;
        points.push(("the point that reaches further".to_owned(), [y.number(), z.number()]));
        rests_on.extend([y.seq, z.seq]);
    }
    Some(Swinging { points, rests_on })
}

fn radius(sheet: &mut Worksheet<'_>, swinging: &Swinging) -> Option<Outputs> {
    let card = sheet.card();
    let fixture = &card.fixture;
    let points: Vec<[f64; 2]> = swinging.points.iter().map(|(_, point)| *point).collect();
    let outputs = sheet.reckon(
        "swing",
        "swing-radius",
        json!({
            "fixture_width": fixture.width.mm(), "fixture_height": fixture.height.mm(),
            "off_centre_y": fixture.off_centre_expected.0.mm(), "off_centre_z": fixture.off_centre_expected.1.mm(),
            "protruding_points": points, "centre_height": card.machine.centre_height.mm(),
        }),
    )?;
    let swing = outputs.value("largest_swing")?;
    let shown = sheet.fine(swing);
    sheet.finding("fit.swing", "swings out to", shown, &outputs);
    sheet.hand("fit.swing", swing, None);
    Some(outputs)
}

fn table(sheet: &mut Worksheet<'_>, swinging: &Swinging, outputs: &Outputs) -> Option<()> {
    let card = sheet.card();
    let clearance = outputs.value("table_clearance")?;
    let shown_clearance = sheet.fine(clearance);
    sheet.finding("fit.table-clearance", "gap to the table", shown_clearance.clone(), outputs);
    let margin = card.machine.swing_margin.mm();
    let mut low = String::new();
    if clearance < margin {
        low = too_low(sheet, swinging, card.machine.centre_height.mm() - margin)?;
    }
    sheet.gate(GateCheck {
        id: "fit.table-clearance",
        about: String::new(),
        kind: GateKind::Stop,
        pass: clearance >= margin,
        measured: Some(shown_clearance),
        limit: Some(sheet.fine(margin)),
        says: (
            "Nothing swings into the table.".to_owned(),
            format!("It would hit the table or nearly so{low}. {WAY_OUT}"),
        ),
        rests_on: swinging.rests_on.clone(),
    })
}

/// Finds between which indices each thing that swings comes too low; says so in words.
fn too_low(sheet: &mut Worksheet<'_>, swinging: &Swinging, depth_limit: f64) -> Option<String> {
    let Some(turns) = sheet.card().machine.work_turns.filter(|_| depth_limit > 0.0) else { return Some(String::new()) };
    let mut words = Vec::new();
    for (place, (name, [y, z])) in swinging.points.iter().chain(&corners(sheet)).enumerate() {
        let outputs = sheet.reckon(
            &format!("too-low/{place}"),
            "forbidden-index-range",
            json!({"point_y": y, "point_z": z, "depth_limit": depth_limit, "work_turns": turns.word()}),
        )?;
        if let (Some(from), Some(to)) = (outputs.value("index_from"), outputs.value("index_to")) {
            words.push(format!("{name} between A {}", range(sheet, name, (from, to), &outputs)));
        }
    }
    Some(if words.is_empty() { String::new() } else { format!(": {}", words.join(", ")) })
}

/// Shows a forbidden range and returns it in words.
fn range(sheet: &mut Worksheet<'_>, about: &str, (from, to): (f64, f64), outputs: &Outputs) -> String {
    let (from, to) = (shown(from, "deg", 0.1), shown(to, "deg", 0.1));
    sheet.finding_about("fit.forbidden-from", about, "too near from index", from.clone(), outputs);
    sheet.finding_about("fit.forbidden-to", about, "up to index", to.clone(), outputs);
    format!("{from} and {to}")
}

/// The corners of the fixture from the rotary centreline.
fn corners(sheet: &Worksheet<'_>) -> Vec<(String, [f64; 2])> {
    let fixture = &sheet.card().fixture;
    let (half_width, half_height) = (fixture.width.mm() / 2.0, fixture.height.mm() / 2.0);
    let (y, z) = (fixture.off_centre_expected.0.mm(), fixture.off_centre_expected.1.mm());
    [(1.0, 1.0), (-1.0, 1.0), (-1.0, -1.0), (1.0, -1.0)]
        .into_iter()
        .zip(1..)
        .map(|((side, up), number)| (format!("corner {number}"), [side * half_width + y, up * half_height + z]))
        .collect()
}

/// Judges the gap to one obstacle.
fn past(sheet: &mut Worksheet<'_>, swinging: &Swinging, obstacle: &Obstacle) -> Option<()> {
    let card = sheet.card();
    let named: Vec<(String, [f64; 2])> = swinging.points.iter().cloned().chain(corners(sheet)).collect();
    let points: Vec<[f64; 2]> = named.iter().map(|(_, point)| *point).collect();
    let margin = card.machine.swing_margin.mm();
    let turns = card.machine.work_turns.map_or("right-hand", |turns| turns.word());
    let outputs = sheet.reckon(
        &format!("obstacle/{}", obstacle.name),
        "swing-past-obstacle",
        json!({
            "points": points, "y_from": obstacle.y.0.mm(), "y_to": obstacle.y.1.mm(), "z_from": obstacle.z.0.mm(),
            "z_to": obstacle.z.1.mm(), "safety_margin": margin, "work_turns": turns,
        }),
    )?;
    let gap = outputs.value("smallest_gap")?;
    let shown_gap = sheet.fine(gap);
    sheet.finding_about("fit.obstacle", &obstacle.name, "smallest gap", shown_gap.clone(), &outputs);
    let mut ranges = Vec::new();
    if card.machine.work_turns.is_some() {
        for pair in outputs.values("forbidden_from").into_iter().zip(outputs.values("forbidden_to")) {
            ranges.push(range(sheet, &format!("{}/{}", obstacle.name, ranges.len()), pair, &outputs));
        }
    }
    let nearest = outputs.value("nearest_point").and_then(|place| {
        named
            .iter()
            .zip(1_u32..)
            .find(|(_, number)| (f64::from(*number) - place).abs() < 0.5)
            .map(|(one, _)| one.0.clone())
    });
    let between = if ranges.is_empty() { String::new() } else { format!(" between A {}", ranges.join(", and ")) };
    let rests_on = swinging.rests_on.clone();
    sheet.gate(GateCheck {
        id: "fit.obstacle",
        about: obstacle.name.clone(),
        kind: GateKind::Ask,
        pass: gap >= margin,
        measured: Some(shown_gap),
        limit: Some(sheet.fine(margin)),
        says: (
            format!("Nothing that swings comes near: {}.", obstacle.name),
            format!(
                "{} comes too near {}{between}. Move it away, or never turn through there and say so here. {WAY_OUT}",
                nearest.as_deref().unwrap_or("Something that swings"),
                obstacle.name
            ),
        ),
        rests_on,
    })
}

fn all_listed(sheet: &mut Worksheet<'_>) -> Option<()> {
    let answer = sheet.answer(Question::of(&OBSTACLES))?;
    sheet.gate(GateCheck {
        id: "fit.obstacles-listed",
        about: String::new(),
        kind: GateKind::Ask,
        pass: answer.word() == "as-on-card",
        measured: None,
        limit: None,
        says: (
            "All that stands near the swing is on the card.".to_owned(),
            "Something more stands near the swing: take it away, or measure it and put it on the card; turned by hand dial, \
             looked at all round, it may be gone past with a reason."
                .to_owned(),
        ),
        rests_on: vec![answer.seq],
    })
}

/// The swing seen along the axis: fixture, swing circle, table, obstacles, what sticks out.
fn picture(sheet: &Worksheet<'_>, swinging: &Swinging, radius: f64) -> Scene {
    let card = sheet.card();
    let outline: Vec<(f64, f64)> = corners(sheet).iter().map(|(_, [y, z])| (*y, *z)).collect();
    let table = -card.machine.centre_height.mm();
    let reach = radius * 1.2;
    let mut scene = Scene::seen("seen along the rotary axis, rear to the right")
        .outline(&outline)
        .circle((0.0, 0.0), radius)
        .circle((0.0, 0.0), card.fixture.ring_bore.mm() / 2.0)
        .line((-reach, table), (reach, table))
        .label((0.0, table), "table");
    for obstacle in &card.machine.obstacles {
        let (front, rear) = (obstacle.y.0.mm(), obstacle.y.1.mm());
        let (bottom, top) = (obstacle.z.0.mm(), obstacle.z.1.mm());
        scene = scene
            .outline(&[(front, bottom), (rear, bottom), (rear, top), (front, top)])
            .label((f64::midpoint(front, rear), f64::midpoint(bottom, top)), obstacle.name.clone());
    }
    for (name, [y, z]) in &swinging.points {
        scene = scene.mark((*y, *z), name.clone(), false);
    }
    scene
}
