//! Z from the known centre height and again by the quarter turn (D8), and the slope of the axis (D9).

use serde_json::json;

use crate::checklist::{AskSpec, GateCheck, GateKind, Outputs, Question, Reading, Worksheet, shown};
use crate::job::{Depth, ZMethod};
use crate::scene::Scene;
use crate::steps::linear_pickup::asks::{
    SETTER_TOUCH, SLOPE_Y_FAR, SLOPE_Y_NEAR, SLOPE_Z_FAR, SLOPE_Z_NEAR, TIP_CLEAR, TOP_TOUCH, Y_TURN_MINUS,
    Y_TURN_PLUS, Z_TOP,
};
use crate::steps::linear_pickup::budget::{self, Term};
use crate::steps::linear_pickup::check_touch::Touched;
use crate::steps::linear_pickup::flip::combined;
use crate::steps::linear_pickup::{STEEPEST_MM_M, travel};

/// Picks up Z in the way that the card says.
pub(super) fn centreline(sheet: &mut Worksheet<'_>, machine_a: f64) -> Option<Touched> {
    match sheet.card().datums.z.by {
        ZMethod::CentreHeight => known_height(sheet),
        ZMethod::SetterOnTop => setter_on_top(sheet),
        ZMethod::FlipFromAbove => flip_from_above(sheet, machine_a),
    }
}

/// Picks up Z from a touch on the setter and the certified centre height.
fn known_height(sheet: &mut Worksheet<'_>) -> Option<Touched> {
    let card = sheet.card();
    let instruments = &card.instruments;
    sheet.picture(setter_scene(sheet, false));
    let touch = sheet.measure(Question::of(&SETTER_TOUCH).expect(travel(sheet, 2)))?;
    let outputs = sheet.reckon(
        "z-register",
        "z-register",
        json!({
            "machine_z_at_touch": touch.mean, "reference_tool_length": instruments.reference_tool_length.mm(),
            "setter_height": instruments.setter_height.mm(), "centre_height": card.machine.centre_height.mm(),
        }),
    )?;
    let table = sheet.fine(outputs.value("table_top_z")?);
    sheet.finding("pickup.table", "Z of the table top", table, &outputs);
    let mut terms = budget::pooled(sheet, "z", &instruments.setter, &[(&touch, 1.0)])?;
    terms.push(Term::known("centre height", card.machine.centre_height_uncertainty.mm()));
    terms.push(budget::temperature(sheet, card.machine.centre_height.mm()));
    shown_z(sheet, (&outputs, "z_register"), &terms, &touch)
}

/// Shows Z with its uncertainty and hands it on.
fn shown_z(
    sheet: &mut Worksheet<'_>,
    (outputs, key): (&Outputs, &str),
    terms: &[Term],
    touch: &Reading,
) -> Option<Touched> {
    let setter = &sheet.card().instruments.setter;
    let spread = budget::state(sheet, "z", (setter, None), terms, touch.entries.clone())?;
    let register = outputs.value(key)?;
    let shown = sheet.fine(register);
    sheet.finding("pickup.z", "Z of the centreline", shown, outputs);
    sheet.with_uncertainty(spread);
    sheet.hand("pickup.z", register, Some(spread));
    Some(Touched { reading: touch.mean, uncertainty: spread, value: register })
}

/// Reads the face that looks up by the reference tool on a setter that stands on it.
fn face_above(sheet: &mut Worksheet<'_>, round: u32, off_centre: f64) -> Option<(Reading, Outputs)> {
    let card = sheet.card();
    sheet.picture(setter_scene(sheet, true));
    let touch = sheet.measure(Question::of(&TOP_TOUCH).round(round).expect(travel(sheet, 2)))?;
    let outputs = sheet.reckon(
        &format!("top/{round}"),
        "centre-below-top",
        json!({
            "machine_z_at_touch": touch.mean, "reference_tool_length": card.instruments.reference_tool_length.mm(),
            "setter_height": card.instruments.setter_height.mm(), "half_height": card.fixture.half_height.mm(),
            "off_centre_z": off_centre,
        }),
    )?;
    Some((touch, outputs))
}

/// Picks up Z from the fixture's top face, less half its height and its off-centre.
fn setter_on_top(sheet: &mut Worksheet<'_>) -> Option<Touched> {
    let fixture = &sheet.card().fixture;
    let expected = (fixture.off_centre_expected.1.mm(), fixture.off_centre_tolerance.mm() / 3_f64.sqrt());
    let (off_centre, spread) = sheet.handed_here("pickup.off-centre-z").unwrap_or(expected);
    let (touch, outputs) = face_above(sheet, 0, off_centre)?;
    let mut terms = budget::pooled(sheet, "z", &sheet.card().instruments.setter, &[(&touch, 1.0)])?;
    terms.push(Term::known("off-centre", spread));
    terms.push(budget::temperature(sheet, fixture.half_height.mm()));
    shown_z(sheet, (&outputs, "centreline_z"), &terms, &touch)
}

/// Picks up Z from the two faces that look up, half a turn apart.
fn flip_from_above(sheet: &mut Worksheet<'_>, machine_a: f64) -> Option<Touched> {
    let card = sheet.card();
    let (touch, first) = face_above(sheet, 0, 0.0)?;
    let turned = sheet.angle((machine_a + 180.0).rem_euclid(360.0));
    sheet.set("A", turned, None, "half a turn, finishing from the same side; then the face that looks up now");
    let round = card.datums.y.angles;
    sheet.tick(Question::of(&TIP_CLEAR).round(round), "Raise the tip above the swing, stand clear, then turn.")?;
    let (again, second) = face_above(sheet, 1, 0.0)?;
    sheet.moved();
    let outputs = sheet.reckon(
        "z-flip",
        "flip-from-above",
        json!({
            "face_z_at_0": first.value("top_z")?, "face_z_at_180": second.value("top_z")?,
            "known_height": card.fixture.height.mm(),
        }),
    )?;
    let mut terms = budget::pooled(sheet, "z", &card.instruments.setter, &[(&touch, 0.5), (&again, 0.5)])?;
    terms.push(Term::known("height between the faces", card.fixture.width_tolerance.mm() / 6.0));
    terms.push(budget::temperature(sheet, card.fixture.half_height.mm()));
    let found = sheet.fine(outputs.value("off_centre_z")?);
    sheet.finding("pickup.off-centre-z", "off-centre in Z", found, &outputs);
    sheet.hand("pickup.off-centre-z", outputs.value("off_centre_z")?, None);
    shown_z(sheet, (&outputs, "centreline_z"), &terms, &touch)
}

/// The fixture over the table, with the setter on the table or on the face that looks up.
fn setter_scene(sheet: &Worksheet<'_>, on_top: bool) -> Scene {
    let card = sheet.card();
    let (half_width, half_height) = (card.fixture.width.mm() / 2.0, card.fixture.height.mm() / 2.0);
    let (table, setter) = (-card.machine.centre_height.mm(), card.instruments.setter_height.mm());
    let (at, foot) = if on_top { (0.0, half_height) } else { (1.6 * half_width, table) };
    Scene::seen("along X, rear on the right")
        .rectangle(half_width, half_height)
        .line((-1.8 * half_width, table), (1.9 * half_width, table))
        .label((-1.8 * half_width, table), "table")
        .mark((0.0, 0.0), "axis", false)
        .line((at, foot), (at, foot + setter))
        .mark((at, foot + setter), "setter", true)
}

struct QuarterTurn {
    top: Reading,
    plus: Reading,
    minus: Reading,
}

/// Picks up Z a second, independent way, and with it the off-centre in Z. Left out in quick depth, or when the card says.
pub(super) fn quarter_turn(sheet: &mut Worksheet<'_>, radius: f64, z: &Touched) -> Option<()> {
    let card = sheet.card();
    if !card.datums.z.quarter_turn.unwrap_or(card.depth != Depth::Quick) {
        if sheet.handed_here("pickup.off-centre-z").is_none() {
            let expected = card.fixture.off_centre_expected.1.mm();
            sheet.hand("pickup.off-centre-z", expected, Some(card.fixture.off_centre_tolerance.mm()));
        }
        return Some(());
    }
    sheet.picture(quarter_scene(sheet, 0));
    let top = sheet.measure(Question::of(&Z_TOP).expect(travel(sheet, 2)))?;
    sheet.picture(quarter_scene(sheet, 1));
    let plus = sheet.measure(Question::of(&Y_TURN_PLUS).expect(travel(sheet, 1)))?;
    sheet.picture(quarter_scene(sheet, 2));
    let minus = sheet.measure(Question::of(&Y_TURN_MINUS).expect(travel(sheet, 1)))?;
    let touches = QuarterTurn { top, plus, minus };
    let outputs = sheet.reckon(
        "quarter-turn",
        "centreline-quarter-turn",
        json!({
            "top_tip_z": touches.top.mean, "plus_reading": touches.plus.mean, "minus_reading": touches.minus.mean,
            "tip_radius": radius,
        }),
    )?;
    for (id, key, label) in [
        ("pickup.half-height", "half_height", "top face above centreline"),
        ("pickup.z-quarter-turn", "centreline_z", "Z by the quarter turn"),
        ("pickup.y-quarter-turn", "centreline_y", "Y by the quarter turn"),
    ] {
        let value = sheet.fine(outputs.value(key)?);
        sheet.finding(id, label, value, &outputs);
    }
    two_ways(sheet, &touches, outputs.value("centreline_z")?, z)?;
    if sheet.handed_here("pickup.off-centre-z").is_some() {
        return Some(());
    }
    off_centre_z(sheet, outputs.value("half_height")?)
}

/// So many standard uncertainties raise a question: a clean setup raises at most one in a hundred in all its checks
/// together.
const ALARM: f64 = 3.0;

fn two_ways(sheet: &mut Worksheet<'_>, touches: &QuarterTurn, by_turn: f64, z: &Touched) -> Option<()> {
    let card = sheet.card();
    let tip = card.instruments.tip_radius_uncertainty.mm();
    let sides = [touches.plus.uncertainty / 2.0, touches.minus.uncertainty / 2.0];
    // The top and the mean of both sides each hold the machine's own position.
    let machine = card.datums.machine_uncertainty.mm() * 1.5_f64.sqrt();
    let parts = [touches.top.uncertainty, sides[0], sides[1], tip, machine];
    let spread = combined(sheet, "quarter-turn-uncertainty", &parts)?;
    let outputs = sheet.reckon(
        "z-two-ways",
        "repeat-agreement",
        json!({
            "first_value": z.value, "first_expanded_uncertainty": ALARM * z.uncertainty,
            "second_value": by_turn, "second_expanded_uncertainty": ALARM * spread,
        }),
    )?;
    let difference = outputs.value("difference")?;
    let shown = sheet.fine(difference);
    sheet.finding("pickup.z-two-ways", "two ways to Z differ by", shown.clone(), &outputs);
    let all = touches.top.entries.iter().chain(&touches.plus.entries).chain(&touches.minus.entries);
    sheet.gate(GateCheck {
        id: "pickup.z-two-ways",
        about: String::new(),
        kind: GateKind::Ask,
        pass: outputs.flag("agrees")?,
        measured: Some(shown),
        limit: Some(sheet.fine(ALARM * z.uncertainty.hypot(spread))),
        says: ("The two ways to Z agree.".to_owned(), two_ways_words(sheet, difference)),
        rests_on: all.copied().collect(),
    })
}

/// Names what would explain a difference between the two ways to Z.
fn two_ways_words(sheet: &Worksheet<'_>, difference: f64) -> String {
    let instruments = &sheet.card().instruments;
    let near = |length: f64| (difference.abs() - length).abs() < 0.05 * length.max(1.0);
    let hint = if near(instruments.setter_height.mm()) {
        "They differ by the height of the setter: forgotten, or another setter?"
    } else if near(instruments.tip_radius.mm()) {
        "They differ by the tip's radius: a diameter typed for a radius, or the radius forgotten?"
    } else {
        "Another riser under the rotary, a wrong setter or reference tool, a chip?"
    };
    format!("The two ways to Z differ by {}. {hint}", sheet.fine(difference))
}

fn off_centre_z(sheet: &mut Worksheet<'_>, half_height: f64) -> Option<()> {
    let outputs = sheet.reckon(
        "off-centre-z",
        "off-centre-from-quarter-turn",
        json!({"half_height_found": half_height, "fixture_half_height": sheet.card().fixture.half_height.mm()}),
    )?;
    let found = outputs.value("off_centre_z")?;
    let shown = sheet.fine(found);
    sheet.finding("pickup.off-centre-z", "off-centre in Z", shown, &outputs);
    sheet.hand("pickup.off-centre-z", found, None);
    Some(())
}

/// Reads the slope of the rotary axis in Y and in Z: near and far end, half a turn, near and far again.
pub(super) fn axis_slope(sheet: &mut Worksheet<'_>) -> Option<()> {
    let card = sheet.card();
    if !card.datums.axis_parallelism.unwrap_or(card.depth == Depth::Record) {
        return Some(());
    }
    for (plane, near, far) in [("y", &SLOPE_Y_NEAR, &SLOPE_Y_FAR), ("z", &SLOPE_Z_NEAR, &SLOPE_Z_FAR)] {
        slope_in(sheet, plane, near, far)?;
    }
    Some(())
}

/// Shows how well Y is known at the critical feature: the pickup, and the slope of the axis times the reach to it.
pub(super) fn at_the_feature(sheet: &mut Worksheet<'_>, y: &Touched) -> Option<()> {
    let card = sheet.card();
    let critical = card.features.iter().find(|feature| feature.id == card.budget.critical_feature)?;
    let reach = (critical.along.mm() - card.fixture.touch_along.mm()).abs();
    let measured = card.datums.axis_parallelism.unwrap_or(card.depth == Depth::Record);
    let lever = &card.instruments.lever;
    let one = lever.repeatability.mm().hypot(lever.resolution.mm() / 12_f64.sqrt());
    // Half the sum of two differences of two readings each: one reading's own uncertainty over the span.
    let slope = if measured { one / card.fixture.parallel_span.mm() * reach } else { card.budget.axis_slope.mm() };
    let outputs = sheet.reckon(
        "budget/y-at-feature",
        "uncertainty-budget",
        json!({"contributions": [
            {"name": "pickup of Y", "standard_uncertainty": y.uncertainty},
            {"name": "slope x reach", "standard_uncertainty": slope},
            {"name": "least increment", "standard_uncertainty": card.machine.least_length.mm() / 12_f64.sqrt()},
        ]}),
    )?;
    for (name, size) in ["pickup", "slope x reach", "least increment"].into_iter().zip(outputs.values("terms")) {
        let shown = sheet.length(size, card.machine.least_length.mm() / 100.0);
        sheet.finding_about("pickup.term", &format!("y-at-feature/{name}"), "uncertainty", shown, &outputs);
    }
    let expanded = sheet.length(outputs.value("expanded_uncertainty")?, card.machine.least_length.mm() / 100.0);
    sheet.finding_about("pickup.expanded", "y-at-feature", "95 % within", expanded, &outputs);
    Some(())
}

fn slope_in(
    sheet: &mut Worksheet<'_>,
    plane: &'static str,
    near: &'static AskSpec,
    far: &'static AskSpec,
) -> Option<()> {
    let card = sheet.card();
    let mut readings = Vec::new();
    let mut rests_on = Vec::new();
    sheet.picture(slope_scene(sheet));
    for round in 0..2 {
        for spec in [near, far] {
            let half = if round == 0 { "" } else { " Half a turn later." };
            let question = Question::of(spec).round(round).say(format!("{}{half}", spec.says));
            let reading = sheet.measure(question)?;
            readings.push(reading.mean);
            rests_on.extend(reading.entries);
        }
    }
    let [near_0, far_0, near_180, far_180] = readings.as_slice() else { return None };
    let outputs = sheet.reckon(
        &format!("axis-slope/{plane}"),
        "axis-parallelism",
        json!({
            "near_at_0": near_0, "far_at_0": far_0, "near_at_180": near_180, "far_at_180": far_180,
            "bar_length": card.fixture.parallel_span.mm(),
        }),
    )?;
    let [(axis, axis_label), (bar, bar_label)] = if plane == "y" {
        [("pickup.axis-slope-y", "axis slope in Y"), ("pickup.bar-slope-y", "bar slope in Y")]
    } else {
        [("pickup.axis-slope-z", "axis slope in Z"), ("pickup.bar-slope-z", "bar slope in Z")]
    };
    let slope = outputs.value("axis_slope")?;
    sheet.finding(axis, axis_label, shown(slope, "mm/m", 0.001), &outputs);
    sheet.finding(bar, bar_label, shown(outputs.value("bar_slope")?, "mm/m", 0.001), &outputs);
    let lever = &card.instruments.lever;
    let one = lever.repeatability.mm().hypot(lever.resolution.mm() / 12_f64.sqrt());
    sheet.hand(axis, slope, Some(1000.0 * one / card.fixture.parallel_span.mm()));
    sheet.gate(GateCheck {
        id: "pickup.axis-slope",
        about: plane.to_owned(),
        kind: GateKind::Stop,
        pass: slope.abs() <= STEEPEST_MM_M,
        measured: Some(shown(slope, "mm/m", 0.001)),
        limit: Some(shown(STEEPEST_MM_M, "mm/m", 0.001)),
        says: (
            "The axis lies along X well enough.".to_owned(),
            "The rotary stands askew: set it up again, do not compensate this.".to_owned(),
        ),
        rests_on,
    })
}

/// The same face up, to the rear and to the front; the one to touch now is marked.
fn quarter_scene(sheet: &Worksheet<'_>, now: u32) -> Scene {
    let half = sheet.card().fixture.half_height.mm();
    Scene::seen("along X, one face in three places")
        .circle((0.0, 0.0), half * 0.6)
        .mark((0.0, 0.0), "axis", false)
        .line((-half, half), (half, half))
        .line((half, -half), (half, half))
        .line((-half, -half), (-half, half))
        .mark((0.0, half), "up", now == 0)
        .mark((half, 0.0), "rear", now == 1)
        .mark((-half, 0.0), "front", now == 2)
}

/// The bar or edge along X, with its two places.
fn slope_scene(sheet: &Worksheet<'_>) -> Scene {
    let span = sheet.card().fixture.parallel_span.mm();
    Scene::seen("along the indicator, faceplate on the left")
        .outline(&[(0.0, -span / 8.0), (span, -span / 8.0), (span, span / 8.0), (0.0, span / 8.0)])
        .line((-span / 4.0, 0.0), (1.2 * span, 0.0))
        .mark((0.0, span / 8.0), "near", true)
        .mark((span, span / 8.0), "far", true)
}
