//! The card's form as a JSON Schema, made from the table of fields.

use serde_json::{Map, Value, json};

use super::fields::{CARD, Field, Kind, Measure, Need};
use super::reference::described;
use super::registers::REGISTER_NAMES;
use crate::quantity::typed::LONGEST_ENTRY;

/// Returns the JSON Schema (draft 2020-12) of a job card.
///
/// It says what shape a card has. Ranges that depend on the unit, references between fields and the order of sizes are
/// checked by [`super::read`] only.
pub fn schema() -> Value {
    let mut schema = object(&CARD);
    if let Value::Object(map) = &mut schema {
        map.insert("$schema".to_owned(), json!("https://json-schema.org/draft/2020-12/schema"));
        map.insert("title".to_owned(), json!("Job card, version 1"));
    }
    schema
}

fn object(fields: &'static [Field]) -> Value {
    let properties: Map<String, Value> = fields.iter().map(|field| (field.key.to_owned(), property(field))).collect();
    let required: Vec<&str> =
        fields.iter().filter(|field| matches!(field.need, Need::Required)).map(|field| field.key).collect();
    json!({"type": "object", "properties": properties, "required": required, "additionalProperties": false})
}

fn property(field: &'static Field) -> Value {
    let mut schema = of_kind(&field.kind);
    if let Value::Object(map) = &mut schema {
        map.insert("description".to_owned(), json!(description(field)));
        if let Some(value) = default_value(field) {
            map.insert("default".to_owned(), value);
        }
    }
    schema
}

fn description(field: &Field) -> String {
    let detail = match &field.kind {
        Kind::Quantity(_) => format!(" ({})", described(&field.kind)),
        _ => String::new(),
    };
    let default = match field.need {
        Need::Default(metric, inch) if metric != inch => {
            format!(" Default, to be confirmed: {metric} on a card in mm, {inch} on a card in inches.")
        }
        Need::Default(..) => " The default is to be confirmed.".to_owned(),
        Need::Required | Need::Free => String::new(),
    };
    format!("{}{detail}{default}", field.meaning)
}

fn default_value(field: &Field) -> Option<Value> {
    let Need::Default(metric, inch) = field.need else { return None };
    if metric != inch {
        return None;
    }
    Some(match field.kind {
        Kind::Text(_) | Kind::Name | Kind::Register | Kind::Choice(_) => json!(metric),
        _ => serde_json::from_str(metric).unwrap_or_else(|_| json!(metric)),
    })
}

fn of_kind(kind: &'static Kind) -> Value {
    match kind {
        Kind::Text(most) => json!({"type": "string", "minLength": 1, "maxLength": most}),
        Kind::Name => json!({"type": "string", "pattern": "^[a-z0-9-]{1,32}$"}),
        Kind::Register => json!({"enum": REGISTER_NAMES}),
        Kind::Flag => json!({"type": "boolean"}),
        Kind::Choice(choices) => json!({"enum": choices}),
        Kind::Count(least, most) => json!({"type": "integer", "minimum": least, "maximum": most}),
        Kind::Quantity(measure) => quantity(measure),
        Kind::List(of, least, most) => {
            json!({"type": "array", "items": of_kind(of), "minItems": least, "maxItems": most})
        }
        Kind::Object(fields) => object(fields),
    }
}

/// A bare number in the card's unit, or text with a unit as a person types it.
fn quantity(measure: &Measure) -> Value {
    let mut number = json!({"type": "number"});
    if let Value::Object(map) = &mut number
        && measure.range.0 >= 0.0
    {
        map.insert("minimum".to_owned(), json!(0));
    }
    json!({"anyOf": [number, {"type": "string", "pattern": "[0-9]", "maxLength": LONGEST_ENTRY}]})
}
