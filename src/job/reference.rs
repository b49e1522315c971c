//! The table of fields as rows, for whoever writes a card.

use super::fields::{CARD, Field, Kind, Measure, Need};
use crate::quantity::{Dimension, Unit, print};

/// One key of the card, as the reference shows it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FieldRow {
    /// Where it stands: `features[].bore.window.smallest`.
    pub path: String,
    /// What stands there: "length", "one of mm, in".
    pub kind: String,
    /// "required", "may be left out", or the default, which is to be confirmed at the machine.
    pub need: String,
    /// What it means.
    pub meaning: &'static str,
}

/// Returns every key that a card may have, in the order of the table.
pub fn field_rows() -> Vec<FieldRow> {
    let mut rows = Vec::new();
    add(&mut rows, "", &CARD);
    rows
}

fn add(rows: &mut Vec<FieldRow>, prefix: &str, fields: &'static [Field]) {
    for field in fields {
        let path = format!("{prefix}{}", field.key);
        let (kind, need, meaning) = (described(&field.kind), needed(field.need), field.meaning);
        rows.push(FieldRow { path: path.clone(), kind, need, meaning });
        match &field.kind {
            Kind::Object(inner) => add(rows, &format!("{path}."), inner),
            Kind::List(Kind::Object(inner), ..) => add(rows, &format!("{path}[]."), inner),
            _ => {}
        }
    }
}

fn needed(need: Need) -> String {
    match need {
        Need::Required => "required".to_owned(),
        Need::Free => "may be left out".to_owned(),
        Need::Default(metric, inch) if metric == inch => format!("default {metric}, to be confirmed"),
        Need::Default(metric, inch) => format!("default {metric} on a card in mm, {inch} in inches, to be confirmed"),
    }
}

/// Describes what stands behind a key, with unit and range.
pub(super) fn described(kind: &Kind) -> String {
    match kind {
        Kind::Text(most) => format!("text of at most {most} characters"),
        Kind::Name => "short name of lower-case letters, digits and -".to_owned(),
        Kind::Register => "register G54 to G59.3".to_owned(),
        Kind::Flag => "true or false".to_owned(),
        Kind::Choice(choices) => format!("one of {}", choices.join(", ")),
        Kind::Count(least, most) => format!("whole number, {least} to {most}"),
        Kind::Quantity(measure) => measured(measure),
        Kind::List(of, least, most) => format!("list of {least} to {most}: {}", described(of)),
        Kind::Object(_) => "object".to_owned(),
    }
}

fn measured(measure: &Measure) -> String {
    let base = Unit::of(measure.dimension, measure.metric);
    let limit = |base_value: f64| base.map_or(base_value, |unit| unit.from_base(base_value));
    let (low, high) = (print::shortest(limit(measure.range.0)), print::shortest(limit(measure.range.1)));
    if measure.dimension == Dimension::Ratio {
        return format!("number, {low} to {high}");
    }
    let units = if measure.metric == measure.inch {
        measure.metric.to_owned()
    } else {
        format!("{} (card in inches: {})", measure.metric, measure.inch)
    };
    format!("{} in {units}, {low} to {high} {}", measure.dimension.name(), measure.metric)
}
