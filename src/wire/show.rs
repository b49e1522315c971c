//! What goes out on the wire.

use serde_json::{Value, json};

use crate::checklist::{Ask, Consultation, Finding, Gate, GateKind, MachineMove, Quantified, Reckoning, Slot};
use crate::scene::{Axis, Plot};
use crate::session::{Session, unit_name};

/// The first line: which session this is.
pub(super) fn hello(session: &Session, resumed: bool) -> Value {
    json!({
        "wire": 1,
        "program": concat!("setwright ", env!("CARGO_PKG_VERSION")),
        "session": session.name(),
        "path": session.log().path().to_string_lossy(),
        "resumed": resumed,
        "unit": unit_name(session.progress().unit()),
        "notices": session.log().notices(),
    })
}

/// The state: the current step's answer, and how every step stands.
pub(super) fn state(session: &Session) -> Value {
    let steps: Vec<Value> = session
        .progress()
        .statuses()
        .iter()
        .map(|status| {
            json!({
                "step": status.slot.step.id(), "piece": status.slot.piece, "state": status.state.word(),
                "verdict": status.verdict.map(crate::checklist::Verdict::word), "current": status.current,
            })
        })
        .collect();
    let closed: Vec<Value> = session.closed().iter().map(|(slot, consultation)| answer(*slot, consultation)).collect();
    let mut line = match session.consult() {
        Some((slot, consultation)) => answer(slot, &consultation),
        None => {
            json!({"wire": 1, "step": null, "piece": null, "round": null, "ask": null, "move": null, "verdict": "within"})
        }
    };
    if let Some(object) = line.as_object_mut() {
        object.insert("state".to_owned(), json!(steps));
        object.insert("closed".to_owned(), json!(closed));
        object.insert(
            "head".to_owned(),
            json!({"n": session.log().events().len().saturating_sub(1), "h": session.log().head().as_str()}),
        );
    }
    line
}

fn answer(slot: Slot, consultation: &Consultation) -> Value {
    json!({
        "wire": 1,
        "step": slot.step.id(),
        "title": slot.step.title(),
        "piece": slot.piece,
        "round": consultation.next.as_ref().map(|ask| ask.round),
        "ask": consultation.next.as_ref().map(ask),
        "move": consultation.machine_move.as_ref().map(machine_move),
        "reckonings": consultation.reckonings.iter().map(reckoning).collect::<Vec<_>>(),
        "findings": consultation.findings.iter().map(finding).collect::<Vec<_>>(),
        "gates": consultation.gates.iter().map(gate).collect::<Vec<_>>(),
        "verdict": consultation.verdict.word(),
        "cautions": consultation.cautions,
        "trap": consultation.trap,
        "plot": consultation.plot.as_ref().map(plot),
    })
}

fn plot(plot: &Plot) -> Value {
    let axis = |axis: &Axis| json!({"label": axis.label, "unit": axis.unit});
    let points = plot.points.iter().map(|point| {
        json!({
            "at": point.at, "u": point.uncertainty, "standing": point.standing.word(), "label": point.label,
        })
    });
    let lines = plot.lines.iter().map(|line| json!({"through": line.through, "label": line.label}));
    json!({
        "title": plot.title, "across": axis(&plot.across), "up": axis(&plot.up),
        "points": points.collect::<Vec<_>>(), "lines": lines.collect::<Vec<_>>(), "window": plot.window,
    })
}

fn ask(ask: &Ask) -> Value {
    let expected = ask.expected_shown.map(|window| json!({"low": window.low, "high": window.high}));
    json!({
        "id": ask.id, "kind": ask.kind.word(), "unit": if ask.unit.is_empty() { Value::Null } else { json!(ask.unit) },
        "choices": ask.choices, "expected": expected, "say": ask.say, "round": ask.round, "repeat": ask.repeat, "of": ask.of,
    })
}

fn machine_move(to: &MachineMove) -> Value {
    json!({
        "axis": to.axis, "to": to.to.value, "unit": to.to.unit.name, "shown": to.to.to_string(),
        "approach": to.approach.map(crate::checklist::Approach::word), "says": to.says,
    })
}

fn reckoning(reckoning: &Reckoning) -> Value {
    json!({
        "role": reckoning.role, "id": reckoning.calculation, "version": reckoning.version, "inputs": reckoning.inputs,
        "outputs": reckoning.outputs,
    })
}

fn finding(finding: &Finding) -> Value {
    json!({
        "id": finding.id, "about": finding.about, "label": finding.label, "value": finding.shown.value,
        "unit": finding.shown.unit.name, "u": finding.uncertainty,
        "verdict": finding.verdict.map(crate::checklist::Verdict::word), "shown": finding.shown.to_string(),
        "reckoning": finding.reckoning,
    })
}

fn gate(gate: &Gate) -> Value {
    json!({
        "id": gate.id, "about": gate.about, "kind": if gate.kind == GateKind::Stop { "stop" } else { "ask" },
        "state": gate.state.word(), "measured": gate.measured.as_ref().map(quantity),
        "limit": gate.limit.as_ref().map(quantity), "says": gate.says, "rests_on": gate.rests_on,
    })
}

fn quantity(quantified: &Quantified) -> Value {
    json!({"value": quantified.value, "unit": quantified.unit.name})
}
