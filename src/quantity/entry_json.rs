//! An entry as the log keeps it: the text as typed, the exact amount without any float, and the unit.

use serde_json::{Map, Value};

use super::typed;
use super::{Amount, Dimension, Quantity, UNITS, Unit};

/// What an entry in a log lacks, or where its text and its amount say two things.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum EntryFault {
    /// A key is missing or of the wrong kind.
    #[error("the entry has no {0}")]
    Missing(&'static str),
    /// No such unit.
    #[error("the entry's unit \"{0}\" is not known to this version")]
    UnknownUnit(String),
    /// The text cannot be read any more.
    #[error("the entry's text \"{text}\" cannot be read: {why}")]
    Unreadable {
        /// The text as it was typed.
        text: String,
        /// What is wrong with it.
        why: String,
    },
    /// Text and amount say two things.
    #[error("the entry's text \"{text}\" means {means}, but the entry says {says}")]
    Disagrees {
        /// The text as it was typed.
        text: String,
        /// What it means.
        means: String,
        /// What stands beside it.
        says: String,
    },
}

impl Quantity {
    /// Returns `{"raw":"0.111","pm":111000000,"unit":"mm"}` for a length and `{"raw":…,"value":"37.595","unit":"deg"}`
    /// for anything else. No float occurs in it.
    ///
    /// Where two kinds share a unit's name (a temperature and a difference of temperatures), `"kind"` tells them apart.
    pub fn to_entry_json(&self) -> Value {
        let mut entry = Map::new();
        entry.insert("raw".to_owned(), self.text().into());
        match self.amount() {
            Amount::Length(length) => entry.insert("pm".to_owned(), length.picometres().into()),
            Amount::Other(decimal) => entry.insert("value".to_owned(), decimal.text().into()),
        };
        entry.insert("unit".to_owned(), self.unit().name.into());
        if !Unit::named(self.unit().name).is_some_and(|first| std::ptr::eq(first, self.unit())) {
            entry.insert("kind".to_owned(), self.unit().dimension.name().into());
        }
        Value::Object(entry)
    }

    /// Rebuilds a quantity from an entry of the log: the text is read again and must give the amount that stands
    /// beside it. Keys that are not its own are left alone.
    pub fn from_entry_json(entry: &Value) -> Result<Self, EntryFault> {
        let text = entry.get("raw").and_then(Value::as_str).ok_or(EntryFault::Missing("text as typed (raw)"))?;
        let name = entry.get("unit").and_then(Value::as_str).ok_or(EntryFault::Missing("unit"))?;
        let kind = entry.get("kind").and_then(Value::as_str);
        let unit = unit_of_kind(name, kind).ok_or_else(|| EntryFault::UnknownUnit(name.to_owned()))?;
        let quantity = read_again(text, unit)
            .map_err(|misread| EntryFault::Unreadable { text: text.to_owned(), why: misread.to_string() })?;
        let says = said_amount(entry, unit)?;
        if quantity.unit() == unit && quantity.text() == text && quantity.amount_text() == says {
            return Ok(quantity);
        }
        let means = format!("{} ({})", quantity.echo(), quantity.amount_text());
        Err(EntryFault::Disagrees { text: text.to_owned(), means, says: format!("{says}, unit {name}") })
    }

    fn amount_text(&self) -> String {
        match self.amount() {
            Amount::Length(length) => format!("{} pm", length.picometres()),
            Amount::Other(decimal) => decimal.text().to_owned(),
        }
    }
}

fn said_amount(entry: &Value, unit: &Unit) -> Result<String, EntryFault> {
    if unit.dimension == Dimension::Length {
        let picometres = entry.get("pm").and_then(Value::as_i64).ok_or(EntryFault::Missing("whole picometres (pm)"))?;
        return Ok(format!("{picometres} pm"));
    }
    let value = entry.get("value").and_then(Value::as_str).ok_or(EntryFault::Missing("value as text"))?;
    Ok(value.to_owned())
}

fn unit_of_kind(name: &str, kind: Option<&str>) -> Option<&'static Unit> {
    match kind {
        Some(kind) => UNITS.iter().find(|unit| unit.name == name && unit.dimension.name() == kind),
        None => Unit::named(name),
    }
}

fn read_again(text: &str, unit: &'static Unit) -> Result<Quantity, typed::Misread> {
    typed::read(text, unit.dimension, unit).or_else(|misread| {
        if unit.name == "deg" { typed::read_degrees_minutes_seconds(text).or(Err(misread)) } else { Err(misread) }
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    fn read(text: &str, dimension: Dimension, unit: &str) -> Quantity {
        typed::read(text, dimension, Unit::of(dimension, unit).unwrap()).unwrap()
    }

    #[test]
    fn an_entry_holds_no_float_and_comes_back_the_same() {
        let length = read("0.111", Dimension::Length, "mm");
        assert_eq!(length.to_entry_json(), json!({"raw": "0.111", "pm": 111_000_000, "unit": "mm"}));
        let angle = read("37.595", Dimension::Angle, "deg");
        assert_eq!(angle.to_entry_json(), json!({"raw": "37.595", "value": "37.595", "unit": "deg"}));
        let in_thirds = typed::read_degrees_minutes_seconds("-0 20 00").unwrap();
        let rise = read("1.8 degF", Dimension::TemperatureDifference, "K");
        assert_eq!(rise.to_entry_json().get("kind"), Some(&json!("temperature difference")));
        for quantity in [length, angle, in_thirds, rise, read("1.25 - 3 thou", Dimension::Length, "in")] {
            assert_eq!(Quantity::from_entry_json(&quantity.to_entry_json()), Ok(quantity));
        }
    }

    #[test]
    fn an_entry_that_disagrees_with_its_text_is_refused() {
        let refused = |entry: Value| Quantity::from_entry_json(&entry).unwrap_err().to_string();
        let wrong = refused(json!({"raw": "0.111", "pm": 1_110_000_000, "unit": "mm"}));
        assert!(wrong.contains("means 0.111 mm") && wrong.contains("1110000000 pm"), "{wrong}");
        assert!(refused(json!({"raw": "0.111 in", "pm": 111_000_000, "unit": "mm"})).contains("0.111 in"));
        assert!(refused(json!({"raw": "0.111", "pm": 111_000_000.0, "unit": "mm"})).contains("picometres"));
        assert!(refused(json!({"raw": "37.595", "value": 37.595, "unit": "deg"})).contains("value as text"));
        assert!(refused(json!({"raw": "1e5", "pm": 1, "unit": "mm"})).contains("cannot be read"));
        assert!(refused(json!({"raw": "5", "pm": 1, "unit": "furlong"})).contains("furlong"));
        assert!(refused(json!([])).contains("raw"));
    }
}
