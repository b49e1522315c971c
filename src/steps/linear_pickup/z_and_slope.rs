//! Z from the known centre height and again by the quarter turn (D8), and the slope of the axis (D9).

use serde_json::json;

use crate::checklist::{AskSpec, GateCheck, GateKind, Question, Reading, Worksheet, shown};
use crate::job::Depth;
use crate::steps::linear_pickup::check_touch::Touched;
use crate::steps::linear_pickup::x_and_y::combined;
use crate::steps::linear_pickup::{
    SETTER_TOUCH, SLOPE_Y_FAR, SLOPE_Y_NEAR, SLOPE_Z_FAR, SLOPE_Z_NEAR, Y_TURN_MINUS, Y_TURN_PLUS, Z_TOP, travel,
};

/// Picks up Z from a touch on the setter and the certified centre height.
pub(super) fn known_height(sheet: &mut Worksheet<'_>) -> Option<Touched> {
    let card = sheet.card();
    let instruments = &card.instruments;
    let question = Question::of(&SETTER_TOUCH).expect(travel(sheet, 2));
    let touch = sheet.measure(question)?;
    let outputs = sheet.reckon(
        "z-register",
        "z-register",
        json!({
            "machine_z_at_touch": touch.mean, "reference_tool_length": instruments.reference_tool_length.mm(),
            "setter_height": instruments.setter_height.mm(), "centre_height": card.machine.centre_height.mm(),
        }),
    )?;
    let spread = combined(sheet, "z-uncertainty", &[touch.uncertainty, card.machine.centre_height_uncertainty.mm()])?;
    let register = outputs.value("z_register")?;
    let table = sheet.fine(outputs.value("table_top_z")?);
    sheet.finding("pickup.table", "Z of the table top", table, &outputs);
    let shown = sheet.fine(register);
    sheet.finding("pickup.z", "Z of the centreline", shown, &outputs);
    sheet.with_uncertainty(spread);
    sheet.hand("pickup.z", register, Some(spread));
    Some(Touched { reading: touch.mean, uncertainty: spread, value: register })
}

struct QuarterTurn {
    top: Reading,
    plus: Reading,
    minus: Reading,
}

/// Picks up Z a second, independent way, and with it the off-centre in Z. Left out in quick depth.
pub(super) fn quarter_turn(sheet: &mut Worksheet<'_>, radius: f64, z: &Touched) -> Option<()> {
    let card = sheet.card();
    if card.depth == Depth::Quick {
        sheet.hand(
            "pickup.off-centre-z",
            card.fixture.off_centre_expected.1.mm(),
            Some(card.fixture.off_centre_tolerance.mm()),
        );
        return Some(());
    }
    let top = sheet.measure(Question::of(&Z_TOP).expect(travel(sheet, 2)))?;
    let plus = sheet.measure(Question::of(&Y_TURN_PLUS).expect(travel(sheet, 1)))?;
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
    off_centre_z(sheet, outputs.value("half_height")?)
}

fn two_ways(sheet: &mut Worksheet<'_>, touches: &QuarterTurn, by_turn: f64, z: &Touched) -> Option<()> {
    let card = sheet.card();
    let tip = card.instruments.tip_radius_uncertainty.mm();
    let sides = [touches.plus.uncertainty / 2.0, touches.minus.uncertainty / 2.0];
    let spread = combined(sheet, "quarter-turn-uncertainty", &[touches.top.uncertainty, sides[0], sides[1], tip])?;
    let outputs = sheet.reckon(
        "z-two-ways",
        "repeat-agreement",
        json!({
            "first_value": z.value, "first_expanded_uncertainty": 2.0 * z.uncertainty,
            "second_value": by_turn, "second_expanded_uncertainty": 2.0 * spread,
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
        limit: Some(sheet.fine(2.0 * z.uncertainty.hypot(spread))),
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

/// Slope beyond which the rotary is set up anew and not compensated, mm/m (D3: 0.5 mrad, a default).
const STEEPEST_AXIS_MM_M: f64 = 0.5;

/// Reads the slope of the rotary axis in Y and in Z: near and far end, half a turn, near and far again.
pub(super) fn axis_slope(sheet: &mut Worksheet<'_>) -> Option<()> {
    for (plane, near, far) in [("y", &SLOPE_Y_NEAR, &SLOPE_Y_FAR), ("z", &SLOPE_Z_NEAR, &SLOPE_Z_FAR)] {
        slope_in(sheet, plane, near, far)?;
    }
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
    let (axis, bar) = if plane == "y" {
        ("pickup.axis-slope-y", "pickup.bar-slope-y")
    } else {
        ("pickup.axis-slope-z", "pickup.bar-slope-z")
    };
    let slope = outputs.value("axis_slope")?;
    sheet.finding(axis, "axis slope", shown(slope, "mm/m", 0.001), &outputs);
    sheet.finding(bar, "bar slope", shown(outputs.value("bar_slope")?, "mm/m", 0.001), &outputs);
    sheet.hand(axis, slope, None);
    sheet.gate(GateCheck {
        id: "pickup.axis-slope",
        about: plane.to_owned(),
        kind: GateKind::Stop,
        pass: slope.abs() <= STEEPEST_AXIS_MM_M,
        measured: Some(shown(slope, "mm/m", 0.001)),
        limit: Some(shown(STEEPEST_AXIS_MM_M, "mm/m", 0.001)),
        says: (
            "The axis lies along X well enough.".to_owned(),
            "The rotary stands askew: set it up again, do not compensate this.".to_owned(),
        ),
        rests_on,
    })
}
