//! The fixture's middle by an upright bore or boss: touches all round it, or a sweep with the indicator (D18).

use serde_json::json;

use crate::checklist::{AskSpec, GateCheck, GateKind, Outputs, Question, Window, Worksheet};
use crate::job::MiddleMethod;
use crate::scene::Scene;
use crate::steps::linear_pickup::asks::{
    ROUND_X, ROUND_Y, SWEEP_MINUS_X, SWEEP_MINUS_Y, SWEEP_PLUS_X, SWEEP_PLUS_Y, SWEEP_X, SWEEP_Y,
};
use crate::steps::linear_pickup::budget::Term;
use crate::steps::linear_pickup::flip::{Found, Middle, combined, width_words};
use crate::steps::linear_pickup::travel;

/// Rounds of the touches at one angle lie this far from those at the next.
const ROUNDS_AN_ANGLE: u32 = 100;

struct Touches {
    points: Vec<[f64; 2]>,
    entries: Vec<u64>,
}

/// Finds the centre by touches all round, with its form error and the ellipse of its uncertainty.
pub(super) fn touched(sheet: &mut Worksheet<'_>, angle: u32, radius: f64, method: MiddleMethod) -> Option<Middle> {
    let touches = all_round(sheet, angle)?;
    let fit = sheet.reckon(&format!("round/{angle}"), "circle-fit", json!({"points": touches.points}))?;
    diameter(sheet, angle, (radius, method), &fit, &touches)?;
    form(sheet, angle, &fit, &touches)?;
    let edge_finder = &sheet.card().instruments.edge_finder;
    let stated = edge_finder.repeatability.mm().hypot(edge_finder.resolution.mm() / 12_f64.sqrt());
    let stated = stated.hypot(sheet.card().datums.machine_uncertainty.mm());
    let one = stated.max(fit.value("residual_deviation").unwrap_or(0.0));
    let ellipse = sheet.reckon(
        &format!("ellipse/{angle}"),
        "circle-centre-uncertainty",
        json!({"points": touches.points, "point_uncertainty": one}),
    )?;
    for (axis, key) in [("long", "long_axis_95"), ("short", "short_axis_95")] {
        let value = sheet.fine(ellipse.value(key)?);
        sheet.finding_about(
            "pickup.centre-ellipse",
            &format!("{angle}/{axis}"),
            "centre within, 95 %",
            value,
            &ellipse,
        );
    }
    let found = |centre: &str, spread: &str| {
        Some(Found { value: fit.value(centre)?, term: Term::known("touches", ellipse.value(spread)?) })
    };
    let (x, y) = (found("centre_x", "centre_x_uncertainty")?, found("centre_y", "centre_y_uncertainty")?);
    Some(Middle::of_round(x, y, touches.entries))
}

fn all_round(sheet: &mut Worksheet<'_>, angle: u32) -> Option<Touches> {
    let count = sheet.card().datums.round.as_ref()?.touches;
    let (mut points, mut entries) = (Vec::new(), Vec::new());
    for touch in 0..count {
        let round = angle * ROUNDS_AN_ANGLE + touch;
        sheet.picture(round_scene(sheet, touch, count));
        let say = format!("{} (touch {} of {count})", ROUND_X.says, touch + 1);
        let x = sheet.answer(Question::of(&ROUND_X).round(round).expect(travel(sheet, 0)).say(say))?;
        let y = sheet.answer(Question::of(&ROUND_Y).round(round).expect(travel(sheet, 1)))?;
        points.push([x.number(), y.number()]);
        entries.extend([x.seq, y.seq]);
    }
    Some(Touches { points, entries })
}

fn round_scene(sheet: &Worksheet<'_>, now: u32, count: u32) -> Scene {
    let radius = sheet.card().datums.round.as_ref().map_or(1.0, |round| round.diameter.mm() / 2.0);
    let mut scene = Scene::seen("from above, +X on the right, rear up").circle((0.0, 0.0), radius);
    for place in 0..count {
        let (sine, cosine) = (360.0 * f64::from(place) / f64::from(count)).to_radians().sin_cos();
        scene = scene.mark((radius * cosine, radius * sine), format!("{}", place + 1), place == now);
    }
    scene
}

/// The known diameter must come out: it proves the tip's radius, as the width does between two faces.
fn diameter(
    sheet: &mut Worksheet<'_>,
    angle: u32,
    (radius, method): (f64, MiddleMethod),
    fit: &Outputs,
    touches: &Touches,
) -> Option<()> {
    let card = sheet.card();
    let round = card.datums.round.as_ref()?;
    let parts = [
        round.tolerance.mm(),
        6.0 * card.instruments.edge_finder.repeatability.mm() / f64::from(round.touches).sqrt(),
        6.0 * card.instruments.tip_radius_uncertainty.mm(),
    ];
    let allowed = combined(sheet, &format!("diameter-limit/{angle}"), &parts)?;
    let outputs = sheet.reckon(
        &format!("diameter/{angle}"),
        "round-diameter",
        json!({
            "fitted_diameter": fit.value("diameter")?, "tip_radius": radius,
            "touched": if method == MiddleMethod::Boss { "boss" } else { "bore" },
            "known_diameter": round.diameter.mm(), "match_within": allowed,
        }),
    )?;
    let measured = sheet.fine(outputs.value("diameter")?);
    sheet.finding_about("pickup.round-diameter", &angle.to_string(), "diameter", measured.clone(), &outputs);
    let mistake = outputs.word("likely_mistake")?;
    let known = sheet.fine(round.diameter.mm());
    sheet.gate(GateCheck {
        id: "pickup.round-diameter",
        about: angle.to_string(),
        kind: GateKind::Stop,
        pass: mistake == "as-known",
        measured: Some(measured.clone()),
        limit: Some(known.clone()),
        says: (
            "The known diameter comes out: the radius is right.".to_owned(),
            format!("The diameter comes out as {measured}, known is {known}. {}", width_words(mistake)),
        ),
        rests_on: touches.entries.clone(),
    })
}

fn form(sheet: &mut Worksheet<'_>, angle: u32, fit: &Outputs, touches: &Touches) -> Option<()> {
    let card = sheet.card();
    let (round, edge_finder) = (card.datums.round.as_ref()?, &card.instruments.edge_finder);
    let limit = sheet.reckon(
        &format!("form-limit/{angle}"),
        "repeat-range-limit",
        json!({
            "count": round.touches, "repeatability": edge_finder.repeatability.mm(),
            "display_step": edge_finder.resolution.mm(),
        }),
    )?;
    let allowed = round.form_limit.mm() + limit.value("range_limit")?;
    let found = fit.value("roundness")?;
    let shown = sheet.fine(found);
    sheet.finding_about("pickup.round-form", &angle.to_string(), "form error", shown.clone(), fit);
    sheet.gate(GateCheck {
        id: "pickup.round-form",
        about: angle.to_string(),
        kind: GateKind::Ask,
        pass: found <= allowed,
        measured: Some(shown),
        limit: Some(sheet.fine(allowed)),
        says: (
            "The touches lie on a circle.".to_owned(),
            "The touches do not lie on a circle: a chip, an oval or lobed bore, a number misread. Wipe, and touch again."
                .to_owned(),
        ),
        rests_on: touches.entries.clone(),
    })
}

/// Finds the centre by a sweep: it lies half the difference of opposite readings away.
pub(super) fn swept(sheet: &mut Worksheet<'_>, angle: u32) -> Option<Middle> {
    let card = sheet.card();
    sheet.picture(round_scene(sheet, 0, 4));
    let x = sheet.answer(Question::of(&SWEEP_X).round(angle).expect(travel(sheet, 0)))?;
    let y = sheet.answer(Question::of(&SWEEP_Y).round(angle).expect(travel(sheet, 1)))?;
    let mut entries = vec![x.seq, y.seq];
    let differences = [[&SWEEP_PLUS_X, &SWEEP_MINUS_X], [&SWEEP_PLUS_Y, &SWEEP_MINUS_Y]].map(|[plus, minus]| {
        let plus = needle(sheet, plus, angle, &mut entries)?;
        Some(plus - needle(sheet, minus, angle, &mut entries)?)
    });
    let [Some(in_x), Some(in_y)] = differences else { return None };
    let inputs = json!({"x_difference": in_x, "y_difference": in_y});
    let outputs = sheet.reckon(&format!("sweep/{angle}"), "sweep-centre-offset", inputs)?;
    let (off_x, off_y) = (outputs.value("offset_x")?, outputs.value("offset_y")?);
    let lever = &card.instruments.lever;
    let one = lever.repeatability.mm().hypot(lever.resolution.mm() / 12_f64.sqrt()) / 2_f64.sqrt();
    let spread = one.hypot(card.machine.least_length.mm() / 12_f64.sqrt());
    centred(sheet, angle, &outputs, (x.number() - off_x, y.number() - off_y), &entries)?;
    let found = |value: f64| Found { value, term: Term::known("touches", spread) };
    Some(Middle::of_round(found(x.number() - off_x), found(y.number() - off_y), entries))
}

fn needle(sheet: &mut Worksheet<'_>, spec: &'static AskSpec, round: u32, entries: &mut Vec<u64>) -> Option<f64> {
    let reach = Window::around(0.0, sheet.card().instruments.lever_travel.mm());
    let entry = sheet.answer(Question::of(spec).round(round).expect(reach))?;
    entries.push(entry.seq);
    Some(entry.number())
}

/// A needle reads true only near its middle: the spindle must stand within a tenth of its travel of the centre.
fn centred(
    sheet: &mut Worksheet<'_>,
    angle: u32,
    outputs: &Outputs,
    (to_x, to_y): (f64, f64),
    entries: &[u64],
) -> Option<()> {
    let found = outputs.value("radial_offset")?;
    let allowed = sheet.card().instruments.lever_travel.mm() / 10.0;
    let shown = sheet.fine(found);
    sheet.finding_about("pickup.sweep-offset", &angle.to_string(), "spindle off the centre", shown.clone(), outputs);
    sheet.gate(GateCheck {
        id: "pickup.sweep-offset",
        about: angle.to_string(),
        kind: GateKind::Ask,
        pass: found <= allowed,
        measured: Some(shown),
        limit: Some(sheet.fine(allowed)),
        says: (
            "The spindle stands near the centre.".to_owned(),
            format!(
                "The needle runs too far to be believed: move to X {} Y {}, cross this sweep out and sweep again.",
                sheet.at_least_increment(to_x),
                sheet.at_least_increment(to_y)
            ),
        ),
        rests_on: entries.to_vec(),
    })
}
