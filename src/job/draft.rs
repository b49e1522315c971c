//! A job card being written: its fields one by one, changed as text, checked as one goes.

use serde_json::{Map, Value};

use super::{CardFault, FieldRow, field_rows, read};

/// One field of a card being written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DraftRow {
    /// Where it stands: `features[2].radius`.
    pub path: String,
    /// What stands there.
    pub text: String,
}

/// A job card being written. It may hold faults; what is not a field of its own is kept as it was.
#[derive(Debug, Clone, PartialEq)]
pub struct Draft {
    value: Value,
}

/// One part of a path.
enum Part<'a> {
    Key(&'a str),
    Index(usize),
}

impl Draft {
    /// Begins with the text of a card; `None` when it is no JSON object.
    pub fn of(text: &str) -> Option<Self> {
        let value: Value = serde_json::from_str(text).ok()?;
        value.is_object().then_some(Self { value })
    }

    /// Returns the card as the text of its file.
    pub fn text(&self) -> String {
        let mut text = serde_json::to_string_pretty(&self.value).unwrap_or_default();
        text.push('\n');
        text
    }

    /// Returns the short name of the card.
    pub fn name(&self) -> &str {
        self.value.get("id").and_then(Value::as_str).unwrap_or_default()
    }

    /// Lists the fields that stand on the card.
    pub fn rows(&self) -> Vec<DraftRow> {
        let mut rows = Vec::new();
        leaves(&self.value, String::new(), &mut rows);
        rows
    }

    /// Lists what is wrong with the card now.
    pub fn faults(&self) -> Vec<CardFault> {
        read(&self.text()).err().map(|faults| faults.faults).unwrap_or_default()
    }

    /// Changes a field to what was typed.
    pub fn set(&mut self, path: &str, text: &str) {
        let value = value_of(path, text.trim());
        if let Some(place) = place_for(&mut self.value, &parts(path)) {
            *place = value;
        }
    }

    /// Puts another entry like the one in which a field stands behind it; returns whether the field stands in a list.
    pub fn another(&mut self, path: &str) -> bool {
        let Some((list, index)) = list_of(path) else { return false };
        let Some(Value::Array(items)) = place_for(&mut self.value, &parts(list)) else { return false };
        let Some(item) = items.get(index).cloned() else { return false };
        items.insert(index + 1, item);
        true
    }

    /// Takes a field off the card; when the field must be there, the entry of the list in which it stands.
    /// Returns whether anything was taken off.
    pub fn take_off(&mut self, path: &str) -> bool {
        let required = about(path).is_some_and(|row| row.need == "required");
        match (required || path.ends_with(']'), list_of(path), path.rsplit_once('.')) {
            (true, Some((list, index)), _) => match place_for(&mut self.value, &parts(list)) {
                Some(Value::Array(items)) if index < items.len() => {
                    items.remove(index);
                    true
                }
                _ => false,
            },
            (true, None, _) => false,
            (false, _, split) => {
                let (parent, key) = split.unwrap_or(("", path));
                match place_for(&mut self.value, &parts(parent)) {
                    Some(Value::Object(map)) => map.shift_remove(key).is_some(),
                    _ => false,
                }
            }
        }
    }

    /// Lists the fields that the card could have besides, each where it would stand.
    pub fn absent(&self) -> Vec<FieldRow> {
        let here: Vec<String> = self.rows().into_iter().map(|row| row.path).collect();
        let fields = field_rows().into_iter().filter(|row| row.kind != "object" && !row.kind.starts_with("list"));
        let concrete = fields.flat_map(|row| {
            let places = self.places(&row.path);
            places.into_iter().map(move |path| FieldRow { path, ..row.clone() })
        });
        concrete.filter(|row| !here.contains(&row.path)).collect()
    }

    /// Finds every place that a path of the table means on this card: one for each entry of its lists.
    fn places(&self, path: &str) -> Vec<String> {
        let mut found = vec![String::new()];
        for (step, piece) in path.split("[]").enumerate() {
            if step > 0 {
                let count = |list: &String| match at(&self.value, &parts(list)) {
                    Some(Value::Array(items)) => items.len(),
                    _ => 0,
                };
                found = found.iter().flat_map(|list| (0..count(list)).map(move |n| format!("{list}[{n}]"))).collect();
            }
            found = found.into_iter().map(|before| format!("{before}{piece}")).collect();
        }
        found
    }
}

/// Finds what the table says of a field.
pub fn about(path: &str) -> Option<FieldRow> {
    let general = general(path);
    field_rows().into_iter().find(|row| row.path == general)
}

/// `features[2].radius` as the table has it: `features[].radius`.
fn general(path: &str) -> String {
    let mut text = String::new();
    let mut inside = false;
    for letter in path.chars() {
        match letter {
            '[' => inside = true,
            ']' => inside = false,
            _ if inside => continue,
            _ => {}
        }
        text.push(letter);
    }
    text
}

fn leaves(value: &Value, path: String, rows: &mut Vec<DraftRow>) {
    match value {
        Value::Object(map) => {
            for (key, inner) in map {
                let path = if path.is_empty() { key.clone() } else { format!("{path}.{key}") };
                leaves(inner, path, rows);
            }
        }
        Value::Array(items) => {
            for (index, inner) in items.iter().enumerate() {
                leaves(inner, format!("{path}[{index}]"), rows);
            }
        }
        Value::String(text) => rows.push(DraftRow { path, text: text.clone() }),
        other => rows.push(DraftRow { path, text: other.to_string() }),
    }
}

/// Reads what was typed as the field wants it: a flag, words, or a number as it stands (with a unit it stays text).
fn value_of(path: &str, text: &str) -> Value {
    let kind = about(path).map(|row| row.kind).unwrap_or_default();
    let words = ["text", "short name", "register", "one of"].iter().any(|start| kind.starts_with(start));
    if words {
        return Value::String(text.to_owned());
    }
    let plain = serde_json::from_str(text).ok().filter(|value: &Value| value.is_number() || value.is_boolean());
    // A number that would not come back as it was typed stays text: the card is read exactly.
    let same = |value: &Value| {
        let back = value.to_string();
        back == text
    };
    plain.filter(same).unwrap_or_else(|| Value::String(text.to_owned()))
}

fn parts(path: &str) -> Vec<Part<'_>> {
    let mut found = Vec::new();
    for piece in path.split('.').filter(|piece| !piece.is_empty()) {
        let mut pieces = piece.split('[');
        found.extend(pieces.next().filter(|key| !key.is_empty()).map(Part::Key));
        found.extend(pieces.filter_map(|index| index.trim_end_matches(']').parse().ok()).map(Part::Index));
    }
    found
}

/// Finds the innermost list on a path, and the entry of it.
fn list_of(path: &str) -> Option<(&str, usize)> {
    let (list, rest) = path.rsplit_once('[')?;
    let index = rest.split(']').next()?.parse().ok()?;
    Some((list, index))
}

fn at<'a>(value: &'a Value, path: &[Part<'_>]) -> Option<&'a Value> {
    path.iter().try_fold(value, |value, part| match part {
        Part::Key(key) => value.get(*key),
        Part::Index(index) => value.get(*index),
    })
}

/// Finds a place on the card, and makes the objects that lead there.
fn place_for<'a>(value: &'a mut Value, path: &[Part<'_>]) -> Option<&'a mut Value> {
    path.iter().try_fold(value, |value, part| match part {
        Part::Key(key) => {
            if value.is_null() {
                *value = Value::Object(Map::new());
            }
            Some(value.as_object_mut()?.entry((*key).to_owned()).or_insert(Value::Null))
        }
        Part::Index(index) => value.get_mut(*index),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::job::practice_cards;

    fn draft() -> Draft {
        let (_, text) = practice_cards()[0];
        Draft::of(text).unwrap()
    }

    #[test]
    fn a_practice_card_comes_apart_and_together_again_without_a_fault() {
        for (name, text) in practice_cards() {
            let mut draft = Draft::of(text).unwrap();
            assert_eq!(draft.name(), name);
            for row in draft.rows() {
                draft.set(&row.path, &row.text);
            }
            assert_eq!(draft.faults(), [], "{name}");
            assert_eq!(read(&draft.text()).unwrap().title, read(text).unwrap().title);
        }
    }

    #[test]
    fn a_field_is_changed_checked_and_told_what_is_wrong() {
        let mut draft = draft();
        draft.set("fixture.width", "about right");
        let faults = draft.faults();
        assert!(faults.iter().any(|fault| fault.path == "fixture.width"), "{faults:?}");
        draft.set("fixture.width", "2.50 in");
        assert!(!draft.faults().iter().any(|fault| fault.what.contains("about right")));
        draft.set("id", "7");
        assert_eq!(draft.name(), "7", "a name stays text");
    }

    #[test]
    fn entries_of_lists_come_and_go() {
        let mut draft = draft();
        let count = |draft: &Draft| draft.value["features"].as_array().unwrap().len();
        let before = count(&draft);
        let path = draft.rows().into_iter().find(|row| row.path.starts_with("features[0]")).unwrap().path;
        assert!(draft.another(&path));
        assert_eq!(count(&draft), before + 1);
        assert!(draft.take_off(&path));
        assert_eq!(count(&draft), before);
        assert!(!draft.another("id") && !draft.take_off("id"), "a name is needed and stands in no list");
    }

    #[test]
    fn a_field_that_may_be_left_out_comes_off_and_is_offered_again() {
        let mut draft = draft();
        let optional = draft.rows().into_iter().find(|row| {
            !row.path.contains('[')
                && row.path.contains('.')
                && about(&row.path).is_some_and(|field| field.need != "required")
        });
        let path = optional.unwrap().path;
        assert!(draft.take_off(&path));
        assert!(draft.absent().iter().any(|row| row.path == path), "{path}");
        draft.set(&path, "1");
        assert!(draft.rows().iter().any(|row| row.path == path));
    }
}
