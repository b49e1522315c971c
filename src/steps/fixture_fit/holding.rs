//! Whether the ring holds the part and the brake holds the rotary against what every hole asks of them.

use serde_json::json;

use super::asks::RING_TORQUE;
use crate::checklist::{GateCheck, GateKind, Outputs, Question, Window, Worksheet, shown};
use crate::job::{Clamp, Depth, Feature};

/// Friction and preload are known to a factor of two: half of a grip is the most that is used. A shop default.
const MOST_USE: f64 = 0.5;
/// A ring tightened over its torque by more than this bends the part. A shop default.
const OVER_TIGHT: f64 = 1.2;
/// A plain drill point pushes harder than the reckoned thrust, by up to this (a trade guess).
const CHISEL_EDGE: f64 = 1.6;

/// Judges ring and brake, as far as the card tells what they can hold.
pub(super) fn holding(sheet: &mut Worksheet<'_>) -> Option<()> {
    let card = sheet.card();
    if let Some(clamp) = card.fixture.clamp.as_ref().filter(|_| card.depth != Depth::Quick) {
        ring(sheet, clamp)?;
    }
    let Some(brake) = card.machine.brake_torque_nm else { return Some(()) };
    for feature in &card.features {
        let loads = loads(sheet, feature)?;
        brake_use(sheet, feature, &loads, brake)?;
    }
    Some(())
}

fn loads(sheet: &mut Worksheet<'_>, feature: &Feature) -> Option<Outputs> {
    let card = sheet.card();
    let tool = card.tools.iter().find(|tool| tool.number == feature.tool)?;
    let material = &card.part.material;
    sheet.reckon(
        &format!("loads/{}", feature.id),
        "drill-loads",
        json!({
            "drill_diameter": tool.diameter.mm(), "feed_per_rev": tool.feed_mm_rev,
            "cutting_speed": tool.cutting_speed_m_min, "point_angle": tool.point_angle_deg,
            "specific_force": material.specific_cutting_force_mpa, "chip_exponent": material.chip_exponent,
        }),
    )
}

fn ring(sheet: &mut Worksheet<'_>, clamp: &Clamp) -> Option<()> {
    let card = sheet.card();
    let wanted = clamp.screw_torque_nm;
    let torque = sheet.answer(Question::of(&RING_TORQUE).expect(Window { low: wanted / 2.0, high: wanted * 2.0 }))?;
    let rests_on = vec![torque.seq];
    sheet.gate(GateCheck {
        id: "fit.ring-tight",
        about: String::new(),
        kind: GateKind::Ask,
        pass: torque.number() <= wanted * OVER_TIGHT,
        measured: Some(shown(torque.number(), "N m", 0.1)),
        limit: Some(shown(wanted * OVER_TIGHT, "N m", 0.1)),
        says: (
            "The ring is not over-tight.".to_owned(),
            "The ring is over-tight: the part is bent, and round only while it is clamped. Release, tighten as on the card."
                .to_owned(),
        ),
        rests_on: rests_on.clone(),
    })?;
    let hold = sheet.reckon(
        "ring-hold",
        "ring-clamp-hold",
        json!({
            "screw_torque": torque.number(), "screw_diameter": clamp.screw_diameter.mm(),
            "torque_coefficient": clamp.torque_coefficient, "friction": clamp.friction,
            "ring_radius": card.part.diameter.mm() / 2.0, "ring_width": clamp.ring_width.mm(),
        }),
    )?;
    let slip = shown(hold.value("slip_torque")?, "N m", 0.1);
    sheet.finding("fit.slip-torque", "part turns in the ring at", slip, &hold);
    for feature in &card.features {
        ring_use(sheet, feature, clamp, &hold, &rests_on)?;
    }
    Some(())
}

fn ring_use(
    sheet: &mut Worksheet<'_>,
    feature: &Feature,
    clamp: &Clamp,
    hold: &Outputs,
    rests_on: &[u64],
) -> Option<()> {
    let loads = loads(sheet, feature)?;
    let outputs = sheet.reckon(
        &format!("holding/{}", feature.id),
        "holding-use",
        json!({
            "thrust": loads.value("thrust")? * CHISEL_EDGE, "drill_torque": loads.value("torque")?,
            "lateral_offset": feature.across.mm(), "slip_torque": hold.value("slip_torque")?,
            "slip_thrust": hold.value("slip_thrust")?, "ring_width": clamp.ring_width.mm(),
        }),
    )?;
    let share = outputs.value("use")?;
    let used = shown(100.0 * share, "%", 0.1);
    sheet.finding_about("fit.holding", &feature.id, "of the ring's grip used", used.clone(), &outputs);
    sheet.gate(GateCheck {
        id: "fit.holding",
        about: feature.id.clone(),
        kind: GateKind::Stop,
        pass: share <= MOST_USE,
        measured: Some(used),
        limit: Some(shown(100.0 * MOST_USE, "%", 1.0)),
        says: (
            "The ring holds the part with more than twice what the cut asks.".to_owned(),
            "The part would turn in the ring when this hole is cut: tighten the screw to its torque; if that is not enough, \
             a smaller feed, a smaller drill first, or a ring that grips better."
                .to_owned(),
        ),
        rests_on: rests_on.to_vec(),
    })
}

fn brake_use(sheet: &mut Worksheet<'_>, feature: &Feature, loads: &Outputs, brake: f64) -> Option<()> {
    let outputs = sheet.reckon(
        &format!("brake/{}", feature.id),
        "brake-moment",
        json!({
            "thrust": loads.value("thrust")? * CHISEL_EDGE, "lateral_offset": feature.across.mm(), "brake_torque": brake,
        }),
    )?;
    let share = outputs.value("brake_use")?;
    let used = shown(100.0 * share, "%", 0.1);
    sheet.finding_about("fit.brake-use", &feature.id, "of the brake used", used.clone(), &outputs);
    sheet.gate(GateCheck {
        id: "fit.brake-use",
        about: feature.id.clone(),
        kind: GateKind::Ask,
        pass: share <= MOST_USE,
        measured: Some(used),
        limit: Some(shown(100.0 * MOST_USE, "%", 1.0)),
        says: (
            "The brake holds with more than twice what the cut asks.".to_owned(),
            "This hole asks more than half of the rotary's brake: a smaller feed, a pilot hole, or a clamp on the rotary."
                .to_owned(),
        ),
        rests_on: Vec::new(),
    })
}
