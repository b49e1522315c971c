//! The brake: how far the part turns when it goes on (T4, D11).

use serde_json::json;

use crate::checklist::{GateCheck, GateKind, Question, Worksheet, shown};
use crate::job::WorkTurns;
use crate::steps::rotary_tram::tries::Level;
use crate::steps::rotary_tram::{BRAKE_FRONT, BRAKE_ON, BRAKE_REAR};

/// Reads the pads once more with the brake on. Done on the first piece; later pieces rely on it.
pub(super) fn brake(sheet: &mut Worksheet<'_>, turns: WorkTurns, level: &Level) -> Option<()> {
    sheet.tick(Question::of(&BRAKE_ON), "Put the brake on: a part that can turn in the cut breaks the drill.")?;
    if sheet.at().piece.is_some_and(|piece| piece > 1) {
        return Some(());
    }
    let card = sheet.card();
    let rear = sheet.measure(Question::of(&BRAKE_REAR))?;
    let front = sheet.measure(Question::of(&BRAKE_FRONT))?;
    let outputs = sheet.reckon(
        "brake",
        "tram-correction",
        json!({
            "rear_reading": rear.mean - level.last.difference, "front_reading": front.mean,
            "pad_span": card.fixture.pad_span.mm(), "pad_step": card.fixture.pad_step.mm(), "work_turns": turns.word(),
        }),
    )?;
    let turned = outputs.value("roll_angle")?;
    sheet.finding("tram.brake-roll", "turned by the brake", shown(turned, "deg", 0.0001), &outputs);
    let radius = card.features.iter().map(|feature| feature.radius.mm()).fold(0.0, f64::max);
    let cost =
        sheet.reckon("brake-at-radius", "angle-error-at-radius", json!({"radius": radius, "angle_error": turned}))?;
    let across = cost.value("tangential_error")?.abs();
    let share = sheet.at().handed.number("brief.tram-limit")? / card.fixture.pad_span.mm() * radius;
    let entries = rear.entries.into_iter().chain(front.entries).collect();
    sheet.gate(GateCheck {
        id: "tram.brake",
        about: String::new(),
        kind: GateKind::Ask,
        pass: across <= share,
        measured: Some(sheet.fine(across)),
        limit: Some(sheet.fine(share)),
        says: (
            "The brake does not turn the part too far.".to_owned(),
            "The brake turns the part further than its share: level it with the brake on, or find what gives."
                .to_owned(),
        ),
        rests_on: entries,
    })
}
