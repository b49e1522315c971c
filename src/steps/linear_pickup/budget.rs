//! What a datum's uncertainty is made of, term by term, and the cheapest way to halve it (D18, decisions 4).

use serde_json::{Value, json};

use crate::checklist::{GateCheck, GateKind, Outputs, Reading, Worksheet};
use crate::job::Instrument;

/// How the parts are named that vanish at centre height.
const TOUCH_HEIGHT: &str = "x height";

/// One part of an uncertainty.
#[derive(Debug, Clone, Copy)]
pub(super) struct Term {
    /// What it comes from.
    pub(super) name: &'static str,
    /// What it makes of the result, a standard uncertainty in millimetres.
    pub(super) size: f64,
    /// Its degrees of freedom, infinity when known.
    pub(super) freedom: f64,
}

impl Term {
    /// Holds a part that is known from the card.
    pub(super) const fn known(name: &'static str, size: f64) -> Self {
        Self { name, size, freedom: f64::INFINITY }
    }

    fn record(&self) -> Value {
        let freedom = if self.freedom.is_finite() { json!(self.freedom) } else { json!("infinite") };
        json!({"name": self.name, "standard_uncertainty": self.size, "degrees_of_freedom": freedom})
    }
}

/// The name of the part that falls with more touches.
const TOUCHES: &str = "touches";

/// Pools touches of one instrument at several places, each with what the datum moves by its mean.
pub(super) fn pooled(
    sheet: &mut Worksheet<'_>,
    axis: &str,
    instrument: &Instrument,
    places: &[(&Reading, f64)],
) -> Option<Vec<Term>> {
    let machine = sheet.card().datums.machine_uncertainty.mm();
    let squares: f64 = places.iter().map(|(_, sensitivity)| sensitivity.powi(2)).sum();
    let places: Vec<Value> = places
        .iter()
        .map(|(reading, sensitivity)| json!({"readings": reading.values, "sensitivity": sensitivity}))
        .collect();
    let outputs = sheet.reckon(
        &format!("touches/{axis}"),
        "pooled-touches",
        json!({
            "places": places, "repeatability": instrument.repeatability.mm(), "display_step": instrument.resolution.mm(),
        }),
    )?;
    let freedom = outputs.value("degrees_of_freedom").unwrap_or(f64::INFINITY);
    Some(vec![
        Term { name: TOUCHES, size: outputs.value("touches_uncertainty")?, freedom },
        Term::known("display steps", outputs.value("resolution_uncertainty")?),
        Term::known("machine position", machine * squares.sqrt()),
    ])
}

/// Returns the part that a difference in temperature makes of a known length; nothing when the card leaves it out.
pub(super) fn temperature(sheet: &Worksheet<'_>, length_mm: f64) -> Term {
    let datums = &sheet.card().datums;
    Term::known("temperature", length_mm * datums.expansion_per_k * datums.temperature_spread_k / 3_f64.sqrt())
}

/// Puts the parts together, shows each, and says how the whole could be halved; returns the standard uncertainty.
pub(super) fn state(
    sheet: &mut Worksheet<'_>,
    axis: &'static str,
    (instrument, limit): (&Instrument, Option<f64>),
    terms: &[Term],
    rests_on: Vec<u64>,
) -> Option<f64> {
    let terms: Vec<Term> = terms.iter().filter(|term| term.size > 0.0).copied().collect();
    if terms.is_empty() {
        return Some(0.0);
    }
    let records: Vec<Value> = terms.iter().map(Term::record).collect();
    let outputs = sheet.reckon(&format!("budget/{axis}"), "uncertainty-budget", json!({"contributions": records}))?;
    for (term, size) in terms.iter().zip(outputs.values("terms")) {
        let shown = sheet.length(size, hundredth(sheet));
        sheet.finding_about("pickup.term", &format!("{axis}/{}", term.name), "uncertainty", shown, &outputs);
    }
    let combined = outputs.value("combined_uncertainty")?;
    let expanded = sheet.length(outputs.value("expanded_uncertainty")?, hundredth(sheet));
    sheet.finding_about("pickup.expanded", axis, "95 % within", expanded.clone(), &outputs);
    let way = halving(sheet, axis, instrument.repeats, &terms)?;
    let (axis_name, advice) = (axis.to_uppercase(), way_words(sheet, &way)?);
    sheet.gate(GateCheck {
        id: "pickup.uncertainty",
        about: axis.to_owned(),
        kind: GateKind::Ask,
        pass: limit.is_none_or(|limit| combined <= limit),
        measured: Some(sheet.length(combined, hundredth(sheet))),
        limit: limit.map(|limit| sheet.length(limit, hundredth(sheet))),
        says: (
            format!("{axis_name} is known within {expanded} (95 %). {advice}"),
            format!("{axis_name} is known within {expanded} only, which is more than the budget has for it. {advice}"),
        ),
        rests_on,
    })?;
    Some(combined)
}

fn hundredth(sheet: &Worksheet<'_>) -> f64 {
    sheet.card().machine.least_length.mm() / 100.0
}

fn halving(sheet: &mut Worksheet<'_>, axis: &str, repeats: u32, terms: &[Term]) -> Option<Outputs> {
    let touches = terms.iter().find(|term| term.name == TOUCHES).map_or(0.0, |term| term.size);
    let fixed: Vec<Value> = terms
        .iter()
        .filter(|term| term.name != TOUCHES)
        .map(|term| json!({"name": term.name, "standard_uncertainty": term.size}))
        .collect();
    let inputs = json!({"touches_uncertainty": touches, "repeats": repeats.max(1), "fixed_terms": fixed});
    let outputs = sheet.reckon(&format!("halving/{axis}"), "halving-way", inputs)?;
    let wanted = sheet.length(outputs.value("wanted")?, hundredth(sheet));
    sheet.finding_about("pickup.halved", axis, "half of that", wanted, &outputs);
    Some(outputs)
}

fn way_words(sheet: &Worksheet<'_>, way: &Outputs) -> Option<String> {
    let heaviest = way.texts("better_known").into_iter().next().unwrap_or_default();
    let must = way.value("fixed_must_become").map(|size| sheet.length(size, hundredth(sheet)));
    let touches = way.value("repeats_needed").unwrap_or_default();
    if heaviest.ends_with(TOUCH_HEIGHT) && way.word("way")? != "more-touches" {
        return Some(format!("Touch at centre height: {heaviest} is then gone, and it weighs most."));
    }
    Some(match (way.word("way")?, must) {
        ("more-touches", _) => format!("{touches} touches a place would halve it."),
        ("better-known", Some(must)) => format!("To halve it: {heaviest} known to {must}; more touches hardly help."),
        ("both", Some(must)) => format!("To halve it: {touches} touches a place, and {heaviest} known to {must}."),
        _ => format!("Nothing alone halves it; {heaviest} weighs most."),
    })
}
