//! The return touch: the back face once more, in work coordinates, after the register was written. It proves X end to end
//! where a single face alone says where X is.

use serde_json::json;

use crate::checklist::{AskKind, AskSpec, GateCheck, GateKind, Question, Reader, Window, Worksheet};
use crate::job::{ReturnTouch, TipSide, XMethod};
use crate::steps::voids::REGISTERS;

pub(in crate::steps) static RETURN_X: AskSpec = AskSpec::new(
    "capture.return-x",
    AskKind::Length,
    "Edge finder in, the claimed register live. Wipe the fixture's back face and touch it again, the same way as at the pickup. WORK X at the touch.",
    REGISTERS,
)
.read_once_by(Reader::EdgeFinder);

/// Tells whether the card wants the return touch.
fn is_wanted(sheet: &Worksheet<'_>) -> bool {
    let datums = &sheet.card().datums;
    match datums.return_touch {
        ReturnTouch::Always => true,
        ReturnTouch::LeftOut => false,
        ReturnTouch::WhenSingle => datums.x.by == XMethod::SingleFace,
    }
}

/// Touches the back face in work coordinates, with the radius of the card and not the one typed at the pickup.
pub(super) fn return_touch(sheet: &mut Worksheet<'_>) -> Option<()> {
    if !is_wanted(sheet) {
        return Some(());
    }
    let card = sheet.card();
    let travel = card.machine.travel.first().map_or(f64::INFINITY, |travel| travel.mm());
    let touch = sheet.answer(Question::of(&RETURN_X).expect(Window::around(0.0, travel)))?;
    let radius = card.instruments.tip_radius.mm();
    let side = if card.fixture.back_face_side == TipSide::Plus { "plus-side" } else { "minus-side" };
    let outputs = sheet.reckon(
        "return-x",
        "touched-face",
        json!({"reading": touch.number(), "tip_radius": radius, "tip_stands_on": side}),
    )?;
    let face = outputs.value("face_position")?;
    let edge_finder = &card.instruments.edge_finder;
    let least = card.machine.least_length.mm();
    let limit = sheet.reckon(
        "return-limit",
        "uncertainty-combine",
        json!({"contributions": [
            {"sensitivity": 3.0, "standard_uncertainty": sheet.at().handed.uncertainty("pickup.x").unwrap_or(0.0)},
            {"sensitivity": 3.0, "standard_uncertainty": edge_finder.repeatability.mm()},
            {"sensitivity": 2.0, "standard_uncertainty": edge_finder.resolution.mm()},
            {"sensitivity": 1.0, "standard_uncertainty": least},
        ]}),
    )?;
    let allowed = limit.value("combined_uncertainty")?;
    let shown = sheet.fine(face);
    sheet.finding("capture.return-x", "back face in work X", shown.clone(), &outputs);
    sheet.gate(GateCheck {
        id: "capture.return-x",
        about: String::new(),
        kind: GateKind::Stop,
        pass: face.abs() <= allowed,
        measured: Some(shown.clone()),
        limit: Some(sheet.fine(allowed)),
        says: (
            "The back face stands at work X 0: X was picked up and written right.".to_owned(),
            format!("The back face should stand at work X 0 and stands at {shown}. {}", words(face, radius, allowed)),
        ),
        rests_on: vec![touch.seq],
    })
}

fn words(face: f64, radius: f64, allowed: f64) -> &'static str {
    if (face.abs() - 2.0 * radius).abs() <= allowed {
        "That is a whole tip diameter: the radius went in with the wrong sign, or the other side was touched."
    } else if (face.abs() - radius).abs() <= allowed {
        "That is the tip's radius: a diameter typed for a radius, or a radius left out."
    } else {
        "A chip at one of the touches, a digit slipped, or another register live. Wipe, touch again; if it stays, cross out the X touches of the pickup."
    }
}
