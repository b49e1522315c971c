//! Reading a card along the table of fields: every value understood, every fault named.

use super::CardFault;
use super::fields::{CARD, Field, Kind, Measure, Need, Range};
use super::json::{self, Json};
use super::node::Node;
use super::registers::{REGISTER_NAMES, register_number};
use super::spelling;
use crate::quantity::{Dimension, Length, Quantity, Unit, print, typed};

/// So many lengths that would fit in the other unit show that the whole card is meant in it.
const MEANT_IN_THE_OTHER_UNIT: usize = 3;
const LONGEST_NAME: usize = 32;

/// Reads the whole card; where something is wrong the tree has a gap and the list says why.
pub(super) fn read(json: &Json) -> (Node, Vec<CardFault>) {
    let mut reader = Reader { inches: stated_unit(json) == Some("in"), faults: Vec::new(), other_unit: 0 };
    let root = if let Json::Object(object) = json {
        reader.object("", object, &CARD)
    } else {
        let what = format!("a card is an object in braces, not {}", json.kind());
        reader.fault("card", what, "Start from a practice card.")
    };
    reader.add_hint_on_the_unit();
    (root, reader.faults)
}

fn stated_unit(json: &Json) -> Option<&str> {
    let Json::Object(object) = json else { return None };
    object.iter().find_map(|(key, value)| match value {
        Json::Text(text) if key == "unit" => Some(text.as_str()),
        _ => None,
    })
}

struct Reader {
    inches: bool,
    faults: Vec<CardFault>,
    other_unit: usize,
}

impl Reader {
    fn fault(&mut self, path: &str, what: impl Into<String>, hint: impl Into<String>) -> Node {
        self.faults.push(CardFault::new(path, what, hint));
        Node::Absent
    }

    fn object(&mut self, path: &str, object: &[(String, Json)], fields: &'static [Field]) -> Node {
        for (key, _) in object {
            if !fields.iter().any(|field| field.key == key) {
                self.unknown_key(path, key, fields);
            }
        }
        let nodes = fields.iter().map(|field| {
            let value = object.iter().find(|(key, _)| key == field.key).map(|(_, value)| value);
            (field.key, self.field(&joined(path, field.key), value, field))
        });
        Node::Object(nodes.collect())
    }

    fn unknown_key(&mut self, path: &str, key: &str, fields: &[Field]) {
        let hint = match spelling::nearest(key, fields.iter().map(|field| field.key)) {
            Some(near) => format!("Was \"{near}\" meant?"),
            None => format!("Known here: {}.", listed(fields.iter().map(|field| field.key))),
        };
        self.fault(&joined(path, &key.escape_debug().to_string()), "this key is not known", hint);
    }

    fn field(&mut self, path: &str, value: Option<&Json>, field: &'static Field) -> Node {
        match (value, field.need) {
            (Some(value), _) => self.value(path, value, &field.kind),
            (None, Need::Free) => Node::Absent,
            (None, Need::Required) => self.fault(path, "this key is missing", field.meaning),
            (None, Need::Default(metric, inch)) => {
                let text = if self.inches { inch } else { metric };
                self.value(path, &default_value(text, &field.kind), &field.kind)
            }
        }
    }

    fn value(&mut self, path: &str, value: &Json, kind: &'static Kind) -> Node {
        match (kind, value) {
            (Kind::Text(most), Json::Text(text)) => self.text(path, text, *most),
            (Kind::Name, Json::Text(text)) => self.name(path, text),
            (Kind::Register, Json::Text(text)) => self.register(path, text),
            (Kind::Flag, Json::Flag(flag)) => Node::Flag(*flag),
            (Kind::Choice(choices), Json::Text(text)) => self.choice(path, text, choices),
            (Kind::Count(least, most), Json::Number(text)) => self.count(path, text, (*least, *most)),
            (Kind::Quantity(measure), Json::Number(text)) => self.quantity(path, text, measure, true),
            (Kind::Quantity(measure), Json::Text(text)) => self.quantity(path, text, measure, false),
            (Kind::List(of, least, most), Json::List(items)) => self.list(path, items, of, (*least, *most)),
            (Kind::Object(fields), Json::Object(object)) => self.object(path, object, fields),
            _ => self.fault(path, format!("this is {}", value.kind()), format!("{} is wanted.", wanted(kind))),
        }
    }

    fn text(&mut self, path: &str, text: &str, most: usize) -> Node {
        if text.trim().is_empty() {
            return self.fault(path, "this text is blank", "Write a few words.");
        }
        if text.chars().count() > most {
            return self.fault(path, "this text is too long", format!("At most {most} characters."));
        }
        if text.chars().any(char::is_control) {
            return self.fault(path, "this text holds an invisible character", "Write it on one line, without tabs.");
        }
        Node::Text(text.trim().to_owned())
    }

    fn name(&mut self, path: &str, text: &str) -> Node {
        let allowed = |byte: u8| byte.is_ascii_lowercase() || byte.is_ascii_digit() || byte == b'-';
        if !text.is_empty() && text.len() <= LONGEST_NAME && text.bytes().all(allowed) {
            return Node::Text(text.to_owned());
        }
        let hint = format!("1 to {LONGEST_NAME} lower-case letters, digits and -, such as \"port-1\".");
        self.fault(path, "this is no short name", hint)
    }

    fn register(&mut self, path: &str, text: &str) -> Node {
        if register_number(text).is_some() {
            return Node::Text(text.to_owned());
        }
        let what = format!("\"{}\" is no work-offset register", text.escape_debug());
        self.fault(path, what, format!("One of {}.", listed(REGISTER_NAMES.into_iter())))
    }

    fn choice(&mut self, path: &str, text: &str, choices: &[&'static str]) -> Node {
        if choices.contains(&text) {
            return Node::Text(text.to_owned());
        }
        let what = format!("\"{}\" is no choice here", text.escape_debug());
        self.fault(path, what, format!("One of {}.", listed(choices.iter().copied())))
    }

    fn count(&mut self, path: &str, text: &str, (least, most): (u32, u32)) -> Node {
        let number = Unit::of(Dimension::Ratio, "1").and_then(|unit| typed::read(text, Dimension::Ratio, unit).ok());
        match number {
            Some(number) if number.count().is_some_and(|count| (least..=most).contains(&count)) => {
                Node::Quantity(number)
            }
            _ if least == most => {
                let hint = format!("This program knows {most}; a newer one may be needed.");
                self.fault(path, format!("{text} is not known"), hint)
            }
            _ => self.fault(path, format!("{text} does not fit"), format!("A whole number from {least} to {most}.")),
        }
    }

    fn quantity(&mut self, path: &str, text: &str, measure: &Measure, bare: bool) -> Node {
        let name = if self.inches { measure.inch } else { measure.metric };
        let Some(unit) = Unit::of(measure.dimension, name) else {
            return self.fault(path, format!("the unit {name} is not known"), "This is a fault of the program.");
        };
        match typed::read(text, measure.dimension, unit) {
            Ok(quantity) if is_within(&quantity, measure.range) => Node::Quantity(quantity),
            Ok(quantity) => self.out_of_range(path, &quantity, measure.range, (unit, bare)),
            Err(misread) => {
                let what = format!("\"{}\": {}", text.escape_debug(), misread.what);
                self.fault(path, what, misread.hint)
            }
        }
    }

    fn out_of_range(&mut self, path: &str, quantity: &Quantity, range: Range, (unit, bare): (&Unit, bool)) -> Node {
        let shown = |base: f64| print::at_resolution(unit.from_base(base), step_to_show(unit, base), unit);
        let what = format!("{} is hardly meant", quantity.echo());
        let mut hint = format!("{} to {} is believed.", shown(range.0), shown(range.1));
        if bare && unit.dimension == Dimension::Length && self.fits_in_the_other_unit(quantity, range) {
            self.other_unit += 1;
            let (other, name) = if self.inches { ("mm", "millimetres") } else { ("in", "inches") };
            hint = format!("{hint} Meant in {name}? Write \"{} {other}\".", quantity.text());
        }
        self.fault(path, what, hint)
    }

    fn fits_in_the_other_unit(&self, quantity: &Quantity, range: Range) -> bool {
        let other = quantity.base_value() * if self.inches { 1.0 / 25.4 } else { 25.4 };
        range.0 <= other && other <= range.1
    }

    fn list(&mut self, path: &str, items: &[Json], of: &'static Kind, (least, most): (usize, usize)) -> Node {
        if !(least..=most).contains(&items.len()) {
            let wanted =
                if least == most { format!("{most} are wanted.") } else { format!("{least} to {most} are wanted.") };
            return self.fault(path, format!("this list has {} entries", items.len()), wanted);
        }
        let nodes = items.iter().enumerate().map(|(index, item)| self.value(&format!("{path}[{index}]"), item, of));
        Node::List(nodes.collect())
    }

    fn add_hint_on_the_unit(&mut self) {
        if self.other_unit >= MEANT_IN_THE_OTHER_UNIT {
            let (stated, other) = if self.inches { ("in", "mm") } else { ("mm", "in") };
            let what = format!("{} lengths would fit if they were meant in {other}", self.other_unit);
            let hint = format!("The card says \"{stated}\": is \"{other}\" right?");
            self.faults.insert(0, CardFault::new("unit", what, hint));
        }
    }
}

fn joined(path: &str, key: &str) -> String {
    if path.is_empty() { key.to_owned() } else { format!("{path}.{key}") }
}

fn listed<'a>(words: impl Iterator<Item = &'a str>) -> String {
    words.collect::<Vec<_>>().join(", ")
}

/// A default is text as a person would type it, or JSON for lists and flags.
fn default_value(text: &str, kind: &Kind) -> Json {
    match kind {
        Kind::Flag | Kind::List(..) | Kind::Count(..) | Kind::Object(_) => json::parse(text).unwrap_or(Json::Null),
        _ => Json::Text(text.to_owned()),
    }
}

/// Lengths are compared as integers of picometres.
fn is_within(quantity: &Quantity, range: Range) -> bool {
    match quantity.length() {
        Some(length) => {
            let [low, high] = [range.0, range.1].map(Length::from_mm);
            low.is_ok_and(|low| low <= length) && high.is_ok_and(|high| length <= high)
        }
        None => (range.0..=range.1).contains(&quantity.base_value()),
    }
}

/// Three digits of a limit are enough for a person.
fn step_to_show(unit: &Unit, base: f64) -> f64 {
    let magnitude = unit.from_base(base).abs();
    if magnitude > 0.0 { 10_f64.powf((magnitude.log10() - 2.0).floor()).min(1.0) } else { 1.0 }
}

fn wanted(kind: &Kind) -> String {
    match kind {
        Kind::Text(_) => "Text in quotes".to_owned(),
        Kind::Name => "A short name in quotes".to_owned(),
        Kind::Register => "A register's name in quotes".to_owned(),
        Kind::Flag => "true or false without quotes".to_owned(),
        Kind::Choice(choices) => format!("One of {} in quotes", listed(choices.iter().copied())),
        Kind::Count(..) => "A whole number without quotes".to_owned(),
        Kind::Quantity(measure) => {
            format!("A number, or text with a unit of {},", measure.dimension.name())
        }
        Kind::List(..) => "A list in [ ]".to_owned(),
        Kind::Object(_) => "An object in braces".to_owned(),
    }
}
