//! Check touches after an interruption: what was picked up stands only if a touch agrees (job map 1D).

use serde_json::json;

use crate::checklist::{AskSpec, GateCheck, GateKind, Question, Worksheet};
use crate::steps::linear_pickup::asks::{CHECK_X, CHECK_Y, CHECK_Z, EDGE_X, MACHINE_A, X};
use crate::steps::linear_pickup::travel;
use crate::steps::voids::CHECK_TOUCH;

/// What a pickup touched, and what came of it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Touched {
    /// Mean of the readings, millimetres.
    pub(super) reading: f64,
    /// Its standard uncertainty, millimetres.
    pub(super) uncertainty: f64,
    /// What is handed on, millimetres.
    pub(super) value: f64,
}

/// What stands and may need a check touch.
pub(super) struct Standing {
    /// The back face.
    pub(super) x: Touched,
    /// The centreline.
    pub(super) y: Touched,
    /// The setter.
    pub(super) z: Touched,
}

struct Check {
    id: &'static str,
    axis: &'static str,
    spec: &'static AskSpec,
    travel: usize,
    was: Touched,
}

/// Asks for the check touches that an interruption since the pickup calls for.
pub(super) fn after_interruptions(sheet: &mut Worksheet<'_>, standing: &Standing) -> Option<()> {
    let touched = [X.id, EDGE_X.id, MACHINE_A.id].into_iter().find_map(|id| sheet.standing(id, 0).last().copied());
    let picked_up = touched.map(|entry| entry.seq)?;
    let interruptions = sheet.at().run.since(picked_up, CHECK_TOUCH);
    let Some(round) = u32::try_from(interruptions.len()).ok().filter(|count| *count > 0) else {
        return Some(());
    };
    let checks = [
        Check { id: "pickup.check-x", axis: "X", spec: &CHECK_X, travel: 0, was: standing.x },
        Check { id: "pickup.check-y", axis: "Y", spec: &CHECK_Y, travel: 1, was: standing.y },
        Check { id: "pickup.check-z", axis: "Z", spec: &CHECK_Z, travel: 2, was: standing.z },
    ];
    for check in &checks {
        touch(sheet, check, round)?;
    }
    Some(())
}

fn touch(sheet: &mut Worksheet<'_>, check: &Check, round: u32) -> Option<()> {
    let question = Question::of(check.spec).round(round).expect(travel(sheet, check.travel));
    let now = sheet.measure(question)?;
    let outputs = sheet.reckon(
        &format!("check-{}/{round}", check.axis),
        "repeat-agreement",
        json!({
            "first_value": check.was.reading, "first_expanded_uncertainty": 2.0 * check.was.uncertainty,
            "second_value": now.mean, "second_expanded_uncertainty": 2.0 * now.uncertainty,
        }),
    )?;
    let (difference, ratio) = (outputs.value("difference")?, outputs.value("agreement_ratio")?);
    let shown = sheet.fine(difference);
    sheet.finding_about(check.id, &round.to_string(), "changed by", shown.clone(), &outputs);
    let kind = if ratio > 2.0 { GateKind::Stop } else { GateKind::Ask };
    sheet.gate(GateCheck {
        id: check.id,
        about: round.to_string(),
        kind,
        pass: outputs.flag("agrees")?,
        measured: Some(shown.clone()),
        limit: Some(sheet.fine(2.0 * check.was.uncertainty.hypot(now.uncertainty))),
        says: (
            format!("{} still stands.", check.axis),
            format!(
                "{} has moved by {shown}: touch once more; if it stays, cross out the old {} touches and pick it up again.",
                check.axis, check.axis
            ),
        ),
        rests_on: now.entries,
    })
}
