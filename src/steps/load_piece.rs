//! Loading a piece: clean, in the ring, seen down all round, the gap of the ring felt (F7, D17).

use serde_json::json;

use crate::checklist::{AskSpec, GateCheck, GateKind, Question, Worksheet};

/// The three asks of loading, which belong to the step that loads.
pub(super) struct LoadingAsks {
    /// Clean, in, seen down before and after tightening.
    pub(super) seen_down: &'static AskSpec,
    /// The gap at the split.
    pub(super) ring_gap: &'static AskSpec,
    /// Id of the finding of the gap expected.
    pub(super) expected_gap: &'static str,
    /// Id of the gate.
    pub(super) gap_gate: &'static str,
}

/// A gap may differ from what the part's diameter asks for by this many feeler steps (job map 1C, a shop default).
const GAP_FEELER_STEPS: f64 = 3.0;

/// Loads a piece and judges the ring gap.
pub(super) fn load(sheet: &mut Worksheet<'_>, asks: &LoadingAsks) -> Option<()> {
    let card = sheet.card();
    sheet.tick(
        Question::of(asks.seen_down),
        "Take the piece out, clean part and ring, and seat it again: light must not show under it.",
    )?;
    let feeler = &card.instruments.feeler;
    let gap = sheet.measure(Question::of(asks.ring_gap))?;
    let outputs = sheet.reckon(
        "ring-gap",
        "ring-gap",
        json!({
            "free_gap": card.fixture.free_gap.mm(), "ring_bore": card.fixture.ring_bore.mm(),
            "part_diameter": card.part.diameter.mm(), "measured_gap": gap.mean,
        }),
    )?;
    let (expected, step) = (outputs.value("gap")?, feeler.resolution.mm());
    let shown = sheet.fine(expected);
    sheet.finding(asks.expected_gap, "ring gap expected", shown, &outputs);
    let off = (gap.mean - expected).abs();
    sheet.gate(GateCheck {
        id: asks.gap_gate,
        about: String::new(),
        kind: GateKind::Stop,
        pass: off <= GAP_FEELER_STEPS * step,
        measured: Some(sheet.length(off, step)),
        limit: Some(sheet.length(GAP_FEELER_STEPS * step, step)),
        says: (
            "The ring gap fits the part's diameter. (It does not prove that no chip is under the part.)".to_owned(),
            format!(
                "The gap means a part of {}: wrong piece, wrong size or something between. Take it out, clean, measure, load again.",
                sheet.length(outputs.value("diameter_from_gap")?, 0.01)
            ),
        ),
        rests_on: gap.entries,
    })
}
