//! Two sessions side by side: does what carries over to the next setup still hold?

use serde_json::{Value, json};

use crate::calc;
use crate::checklist::{Finding, Quantified};
use crate::quantity::{Unit, print};
use crate::sheet::record::{Record, named};
use crate::sheet::setup::CARRIED_OVER;

/// What became of one number from the earlier session to the later.
#[derive(Debug, Clone, PartialEq)]
pub enum Agreement {
    /// Both hold it with an uncertainty: the normalised error, which is 1 or less where they agree.
    Judged {
        /// |later − earlier| over the root of the sum of the squared expanded uncertainties.
        ratio: f64,
        /// Later minus earlier, in the unit of the later.
        difference: Quantified,
    },
    /// Both hold it, and one at least states no uncertainty: to be looked at by a person.
    Unjudged,
    /// Only one of them holds it.
    OneSided,
}

/// One number that carries over, in two sessions.
#[derive(Debug, Clone, PartialEq)]
pub struct Compared {
    /// Permanent id of the finding or, for what stands on the card, its key.
    pub id: &'static str,
    /// What it is, for a person.
    pub label: String,
    /// In the earlier session.
    pub earlier: Option<Measured>,
    /// In the later session.
    pub later: Option<Measured>,
    /// Whether they agree.
    pub agreement: Agreement,
}

/// A value with the uncertainty that its session gives it.
#[derive(Debug, Clone, PartialEq)]
pub struct Measured {
    /// The value as it is shown.
    pub shown: Quantified,
    /// Its standard uncertainty in the same unit, where one is known.
    pub uncertainty: Option<f64>,
}

/// Two sessions, compared.
#[derive(Debug, Clone, PartialEq)]
pub struct Comparison {
    /// Names of the earlier and the later session.
    pub sessions: [String; 2],
    /// What must be known before any number is read: other fixtures, other machines, damaged logs.
    pub warnings: Vec<String>,
    /// The numbers, in the order of the job.
    pub numbers: Vec<Compared>,
}

impl Comparison {
    /// Returns whether something was compared, nothing disagrees and nothing stands in the way of comparing.
    pub fn all_agree(&self) -> bool {
        self.warnings.is_empty()
            && self.numbers.iter().any(|number| matches!(number.agreement, Agreement::Judged { .. }))
            && !self.numbers.iter().any(Compared::disagrees)
    }

    /// Writes it for a person, one number a line.
    pub fn to_text(&self) -> String {
        let [earlier, later] = &self.sessions;
        let mut text = format!("Earlier {earlier}\nLater   {later}\n");
        for warning in &self.warnings {
            text.push_str(&format!("\n{warning}\n"));
        }
        text.push_str("\nValues ± twice the standard uncertainty. E_n is 1 or less where two results agree.\n\n");
        for number in &self.numbers {
            text.push_str(&format!("{}\n", number.line()));
        }
        text.push_str(&format!("\n{}\n", self.conclusion()));
        text
    }

    /// Writes it as JSON.
    pub fn to_json(&self) -> Value {
        json!({
            "schema": "setwright/comparison/1", "earlier": self.sessions[0], "later": self.sessions[1],
            "warnings": self.warnings, "agree": self.all_agree(),
            "numbers": self.numbers.iter().map(Compared::to_json).collect::<Vec<_>>(),
        })
    }

    fn conclusion(&self) -> String {
        let judged = self.numbers.iter().filter(|number| matches!(number.agreement, Agreement::Judged { .. })).count();
        let apart: Vec<&str> =
            self.numbers.iter().filter(|number| number.disagrees()).map(|number| number.label.as_str()).collect();
        match (judged, apart.as_slice()) {
            (0, _) => "Nothing can be compared yet: neither number nor uncertainty stands in both.".to_owned(),
            (_, []) => format!("All {judged} that can be judged agree."),
            _ => format!(
                "{} of {judged} do not agree: {}. Find out why, and write it in a line of the session before anything is cut.",
                apart.len(),
                apart.join(", ")
            ),
        }
    }
}

impl Compared {
    fn of(id: &'static str, label: String, earlier: Option<Measured>, later: Option<Measured>) -> Self {
        let agreement = match (&earlier, &later) {
            (Some(earlier), Some(later)) => judged(earlier, later).unwrap_or(Agreement::Unjudged),
            _ => Agreement::OneSided,
        };
        Self { id, label, earlier, later, agreement }
    }

    /// Returns whether the two results lie further apart than their uncertainties explain.
    pub fn disagrees(&self) -> bool {
        matches!(self.agreement, Agreement::Judged { ratio, .. } if ratio > 1.0)
    }

    fn word(&self) -> &'static str {
        match self.agreement {
            Agreement::Judged { ratio, .. } if ratio > 1.0 => "differs",
            Agreement::Judged { .. } => "agrees",
            Agreement::Unjudged => "look",
            Agreement::OneSided => "one only",
        }
    }

    fn line(&self) -> String {
        let value = |side: &Option<Measured>| side.as_ref().map_or_else(|| "not found".to_owned(), Measured::words);
        let (earlier, later) = (value(&self.earlier), value(&self.later));
        let more = match &self.agreement {
            Agreement::Judged { ratio, difference } => format!("E_n {ratio:.2}, changed by {difference}"),
            Agreement::Unjudged => "no uncertainty is stated: judge it by eye".to_owned(),
            Agreement::OneSided => "found in one of them only".to_owned(),
        };
        format!("{:<9} {}: {earlier} then, {later} now; {more}", self.word(), self.label)
    }

    fn to_json(&self) -> Value {
        let side = |side: &Option<Measured>| side.as_ref().map(Measured::to_json);
        let mut row = json!({
            "id": self.id, "label": self.label, "earlier": side(&self.earlier), "later": side(&self.later),
            "outcome": self.word().replace(' ', "-"),
        });
        if let Agreement::Judged { ratio, difference } = &self.agreement {
            row["e_n"] = json!(ratio);
            row["difference"] = json!({"value": difference.value, "unit": difference.unit.name});
        }
        row
    }
}

impl Measured {
    fn words(&self) -> String {
        match self.uncertainty.filter(|uncertainty| *uncertainty > 0.0) {
            Some(uncertainty) => print::with_uncertainty(self.shown.value, 2.0 * uncertainty, self.shown.unit),
            None => self.shown.to_string(),
        }
    }

    fn to_json(&self) -> Value {
        json!({
            "value": self.shown.value, "unit": self.shown.unit.name,
            "expanded_uncertainty": self.uncertainty.map(|uncertainty| 2.0 * uncertainty),
        })
    }

    /// The same in another unit of its kind.
    fn in_unit(&self, unit: &'static Unit) -> Self {
        let convert = |value: f64| unit.from_base(self.shown.unit.to_base(value));
        Self {
            shown: Quantified { value: convert(self.shown.value), unit, resolution: convert(self.shown.resolution) },
            uncertainty: self.uncertainty.map(convert),
        }
    }
}

/// Judges two results in the unit of the later; `None` when one states no uncertainty.
///
/// The calculation's keys are in millimetres; its ratio has no unit, so an angle or a force goes in as it stands.
fn judged(earlier: &Measured, later: &Measured) -> Option<Agreement> {
    let unit = later.shown.unit;
    let earlier = if earlier.shown.unit == unit { earlier.clone() } else { earlier.in_unit(unit) };
    let inputs = json!({
        "first_value": earlier.shown.value, "first_expanded_uncertainty": 2.0 * earlier.uncertainty?,
        "second_value": later.shown.value, "second_expanded_uncertainty": 2.0 * later.uncertainty?,
    });
    let outputs = calc::reckon("repeat-agreement", inputs.as_object()?).ok()?;
    let number = |key: &str| outputs.get(key)?.get("value")?.as_f64();
    let difference = Quantified { value: number("difference")?, ..later.shown.clone() };
    Some(Agreement::Judged { ratio: number("agreement_ratio")?, difference })
}

/// Compares what two sessions hold of what carries over.
pub(super) fn compare(earlier: &Record<'_>, later: &Record<'_>) -> Comparison {
    let mut numbers = vec![Compared::of(
        "machine.centre_height",
        "centre height of the rotary, from the card".to_owned(),
        Some(centre_height(earlier)),
        Some(centre_height(later)),
    )];
    for id in CARRIED_OVER {
        numbers.extend(carried(id, earlier, later));
    }
    Comparison { sessions: [earlier.name(), later.name()], warnings: warnings(earlier, later), numbers }
}

/// The same finding in both, once for each thing it is about.
fn carried(id: &'static str, earlier: &Record<'_>, later: &Record<'_>) -> Vec<Compared> {
    let (then, now) = (last_of(id, earlier), last_of(id, later));
    let mut abouts: Vec<&Finding> = then.clone();
    abouts.extend(now.iter().filter(|finding| !then.iter().any(|known| known.about == finding.about)));
    let side = |all: &[&Finding], about: &str| {
        let found = all.iter().find(|finding| finding.about == about)?;
        Some(Measured { shown: found.shown.clone(), uncertainty: found.uncertainty })
    };
    abouts
        .iter()
        .map(|finding| Compared::of(id, named(finding), side(&then, &finding.about), side(&now, &finding.about)))
        .collect()
}

/// The last word of a session on a finding, for each thing it is about.
fn last_of<'a>(id: &str, record: &'a Record<'_>) -> Vec<&'a Finding> {
    let mut kept: Vec<&Finding> = Vec::new();
    for finding in record.findings_for(1).filter(|finding| finding.id == id) {
        kept.retain(|known| known.about != finding.about);
        kept.push(finding);
    }
    kept
}

fn centre_height(record: &Record<'_>) -> Measured {
    let machine = &record.card().machine;
    let unit = record.length_unit();
    let shown = |mm: f64| unit.from_base(mm);
    Measured {
        shown: Quantified {
            value: shown(machine.centre_height.mm()),
            unit,
            resolution: shown(machine.least_length.mm()),
        },
        uncertainty: Some(shown(machine.centre_height_uncertainty.mm())),
    }
}

fn warnings(earlier: &Record<'_>, later: &Record<'_>) -> Vec<String> {
    let mut warnings = Vec::new();
    for record in [earlier, later] {
        let damage = record.alarms().into_iter().find(|alarm| alarm.mark == "DAMAGED LOG");
        warnings.extend(damage.map(|alarm| format!("{}: {}", record.name(), alarm.says)));
    }
    let (then, now) = (earlier.card(), later.card());
    for (what, then, now) in
        [("fixture", &then.fixture.id, &now.fixture.id), ("machine", &then.machine.id, &now.machine.id)]
    {
        if then != now {
            warnings.push(format!(
                "Not the same {what}: {then} then, {now} now. Nothing is expected to carry over from one to the other."
            ));
        }
    }
    warnings
}
