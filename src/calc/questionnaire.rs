//! A calculation asked one number or word at a time: lists, points and records are taken apart into single answers.
//!
//! The answers given so far are kept as typed; what is asked next follows from them alone, so going back is taking the
//! last one away.

use serde_json::{Map, Value, json};

use super::contract::{Calculation, Fallback, Input, InputKind};
use super::read_input;
use crate::quantity::{Unit, typed};

/// What is asked next.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Asked {
    /// What to call it: `readings 3`, `features 2, angle`.
    pub name: String,
    /// What it means at the machine.
    pub meaning: &'static str,
    /// The unit of a bare number; empty where there is none.
    pub unit: &'static str,
    /// The words to choose from; empty for other kinds.
    pub choices: &'static [&'static str],
    /// What an empty answer means; `None` when one is needed.
    pub if_empty: Option<String>,
}

/// A calculation with the answers given so far.
#[derive(Debug, Clone)]
pub struct Questionnaire {
    calculation: &'static Calculation,
    answers: Vec<String>,
}

impl Questionnaire {
    /// Begins with nothing answered.
    pub const fn of(calculation: &'static Calculation) -> Self {
        Self { calculation, answers: Vec::new() }
    }

    /// Returns the calculation.
    pub const fn calculation(&self) -> &'static Calculation {
        self.calculation
    }

    /// Returns what is asked next; `None` when everything is answered.
    pub fn next(&self) -> Option<Asked> {
        self.walk().err().map(|stop| stop.asked)
    }

    /// Returns the inputs, once everything is answered.
    pub fn inputs(&self) -> Option<Map<String, Value>> {
        self.walk().ok()
    }

    /// Takes an answer to what is asked next.
    ///
    /// # Errors
    /// Says what is wrong with it; nothing is taken then.
    pub fn answer(&mut self, text: &str) -> Result<(), String> {
        let Err(stop) = self.walk() else { return Err("Everything is answered.".to_owned()) };
        let text = text.trim();
        if text.is_empty() {
            if stop.asked.if_empty.is_none() {
                return Err("This one is needed.".to_owned());
            }
        } else {
            understood(stop.input, text)?;
        }
        self.answers.push(text.to_owned());
        Ok(())
    }

    /// Says how a text is understood as the next answer, without taking it.
    ///
    /// # Errors
    /// Says what is wrong with it.
    pub fn understand(&self, text: &str) -> Result<String, String> {
        let Err(stop) = self.walk() else { return Err("Everything is answered.".to_owned()) };
        let value = understood(stop.input, text.trim())?;
        let words = value.as_str().map_or_else(|| value.to_string(), str::to_owned);
        Ok(if matches!(stop.asked.unit, "" | "1") { words } else { format!("{words} {}", stop.asked.unit) })
    }

    /// Takes the last answer back and returns its text.
    pub fn back(&mut self) -> Option<String> {
        self.answers.pop()
    }

    /// Lists what has been answered: the name and the text of each.
    pub fn answered(&self) -> Vec<(String, String)> {
        let before = |count: usize| Self {
            calculation: self.calculation,
            answers: self.answers.iter().take(count).cloned().collect(),
        };
        let name = |count: usize| before(count).next().map(|asked| asked.name).unwrap_or_default();
        self.answers.iter().enumerate().map(|(count, text)| (name(count), text.clone())).collect()
    }

    fn walk(&self) -> Result<Map<String, Value>, Stop> {
        Walker { answers: self.answers.iter() }.all(self.calculation.inputs)
    }
}

/// Where the answers run out.
struct Stop {
    asked: Asked,
    input: &'static Input,
}

struct Walker<'a> {
    answers: std::slice::Iter<'a, String>,
}

impl Walker<'_> {
    fn all(&mut self, inputs: &'static [Input]) -> Result<Map<String, Value>, Stop> {
        let mut map = Map::new();
        for input in inputs {
            if let Some(value) = self.input(input, &words(input.key), &map, None)? {
                map.insert(input.key.to_owned(), value);
            }
        }
        Ok(map)
    }

    /// Takes an input; `end` is what an empty answer to the first of it means, when that is not what the input says.
    fn input(
        &mut self,
        input: &'static Input,
        name: &str,
        before: &Map<String, Value>,
        end: Option<String>,
    ) -> Result<Option<Value>, Stop> {
        let end = end.or_else(|| if_left_out(input));
        let wanted = input.same_length_as.and_then(|other| before.get(other)).and_then(Value::as_array).map(Vec::len);
        match input.kind {
            InputKind::Quantities | InputKind::Counts => {
                self.list(input, name, (wanted, end), |walker, name, end| walker.one(input, name, end))
            }
            InputKind::Points(items) => {
                self.list(input, name, (wanted, end), |walker, name, end| walker.point(input, name, items, end))
            }
            InputKind::Records(fields) => {
                self.list(input, name, (wanted, end), |walker, name, end| walker.record(fields, name, end))
            }
            InputKind::Vector(items) => self.point(input, name, items, end),
            InputKind::Quantity
            | InputKind::Count
            | InputKind::Word(_)
            | InputKind::Text
            | InputKind::DegreesOfFreedom => self.one(input, name, end),
        }
    }

    /// Takes items until an empty answer ends the list, or as many as another list has.
    fn list(
        &mut self,
        input: &'static Input,
        name: &str,
        (wanted, end): (Option<usize>, Option<String>),
        mut item: impl FnMut(&mut Self, &str, Option<String>) -> Result<Option<Value>, Stop>,
    ) -> Result<Option<Value>, Stop> {
        let mut items: Vec<Value> = Vec::new();
        let optional = end.is_some();
        while wanted.is_none_or(|wanted| items.len() < wanted) {
            let count = items.len();
            let may_end = wanted.is_none() && count >= input.least_items;
            let last = || "that was the last".to_owned();
            let end = if count == 0 { end.clone() } else { may_end.then(last) };
            match item(self, &format!("{name} {}", count + 1), end)? {
                Some(value) => items.push(value),
                None => break,
            }
        }
        Ok(if items.is_empty() && optional { None } else { Some(Value::Array(items)) })
    }

    fn point(
        &mut self,
        input: &'static Input,
        name: &str,
        items: usize,
        end: Option<String>,
    ) -> Result<Option<Value>, Stop> {
        let Some(first) = self.one(input, &format!("{name}, 1 of {items}"), end)? else { return Ok(None) };
        let mut numbers = vec![first];
        for place in 2..=items {
            numbers.extend(self.one(input, &format!("{name}, {place} of {items}"), None)?);
        }
        Ok(Some(Value::Array(numbers)))
    }

    fn record(&mut self, fields: &'static [Input], name: &str, end: Option<String>) -> Result<Option<Value>, Stop> {
        let mut fields = in_turn(fields);
        let Some(first) = fields.next() else { return Ok(None) };
        let first_name = format!("{name}, {}", words(first.key));
        let mut map = Map::new();
        let Some(value) = self.input(first, &first_name, &map, end)? else { return Ok(None) };
        map.insert(first.key.to_owned(), value);
        for field in fields {
            if let Some(value) = self.input(field, &format!("{name}, {}", words(field.key)), &map, None)? {
                map.insert(field.key.to_owned(), value);
            }
        }
        Ok(Some(Value::Object(map)))
    }

    /// Takes one answer; an empty one is nothing.
    fn one(&mut self, input: &'static Input, name: &str, if_empty: Option<String>) -> Result<Option<Value>, Stop> {
        let Some(text) = self.answers.next() else {
            let choices = if let InputKind::Word(words) = input.kind { words } else { &[] };
            let asked = Asked { name: name.to_owned(), meaning: input.meaning, unit: input.unit, choices, if_empty };
            return Err(Stop { asked, input });
        };
        Ok(if text.is_empty() { None } else { understood(input, text).ok() })
    }
}

/// The fields of a record as they are asked: one that is needed comes first, so that an empty answer to it ends the list.
fn in_turn(fields: &'static [Input]) -> impl Iterator<Item = &'static Input> {
    let needed = |field: &&Input| matches!(field.fallback, Fallback::Required);
    let first = fields.iter().position(|field| needed(&field)).unwrap_or(0);
    let rest = fields.iter().enumerate().filter(move |(place, _)| *place != first).map(|(_, field)| field);
    fields.get(first).into_iter().chain(rest)
}

/// Says what stands in for an input that is left out; `None` when it is needed.
fn if_left_out(input: &Input) -> Option<String> {
    match input.fallback {
        Fallback::Required => None,
        Fallback::Number(number) => Some(format!("{number} {}", if input.unit == "1" { "" } else { input.unit })),
        Fallback::Word(word) => Some(word.to_owned()),
        Fallback::LeftOut | Fallback::Empty => Some("left out".to_owned()),
        Fallback::Numbers(_) => Some("as usual".to_owned()),
    }
    .map(|words| words.trim_end().to_owned())
}

/// A key as a person reads it.
fn words(key: &str) -> String {
    key.replace('_', " ")
}

/// Reads one answer in the shop's own way of typing, and holds it against the limits of the input.
fn understood(input: &'static Input, text: &str) -> Result<Value, String> {
    let value = match input.kind {
        InputKind::Word(_) | InputKind::Text => json!(text),
        InputKind::Count | InputKind::Counts => {
            json!(text.parse::<i64>().map_err(|_| format!("`{text}` is no whole number."))?)
        }
        InputKind::DegreesOfFreedom if text == "infinite" => json!(text),
        _ => number(input, text)?,
    };
    read_input::check_one(input, &value).map_err(|what| format!("It {what}."))?;
    Ok(value)
}

/// Reads a number as a machinist types it, in the unit of the input.
fn number(input: &Input, text: &str) -> Result<Value, String> {
    match Unit::named(input.unit) {
        Some(unit) => typed::read(text, unit.dimension, unit)
            .map(|quantity| json!(quantity.value_in(unit)))
            .map_err(|misread| misread.to_string()),
        // What is not finite is no number: JSON has no word for it, and it would pass as left out.
        None => match text.parse::<f64>() {
            Ok(number) if number.is_finite() => Ok(json!(number)),
            _ => Err(format!("`{text}` is no number.")),
        },
    }
}

/// Writes an output as a person reads it.
pub fn shown(value: &Value) -> String {
    match (value.get("value"), value.get("unit").and_then(Value::as_str)) {
        (Some(number), Some("1")) => number.to_string(),
        (Some(number), Some(unit)) => format!("{number} {unit}"),
        _ if value.is_array() => value.as_array().into_iter().flatten().map(shown).collect::<Vec<String>>().join("; "),
        _ => value.as_str().map_or_else(|| value.to_string(), str::to_owned),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::calc::{all, calculation, reckon};

    /// Answers every ask of every calculation from its example, and comes to the example's inputs again.
    #[test]
    fn every_calculation_can_be_asked_one_at_a_time() {
        for calculation in all() {
            // A person types at most fifteen digits.
            let mut example: Map<String, Value> = serde_json::from_str(calculation.example).unwrap();
            example.values_mut().for_each(shorten);
            let mut form = Questionnaire::of(calculation);
            let mut answers = Vec::new();
            for input in calculation.inputs {
                flatten(input, example.get(input.key), &mut answers);
            }
            for text in &answers {
                form.answer(text).unwrap_or_else(|why| panic!("{}: {text:?}: {why}", calculation.id));
            }
            while let Some(asked) = form.next() {
                assert!(asked.if_empty.is_some(), "{}: {} is still asked", calculation.id, asked.name);
                form.answer("").unwrap();
            }
            let inputs = form.inputs().unwrap();
            let (mine, theirs) = (reckon(calculation.id, &inputs).unwrap(), reckon(calculation.id, &example).unwrap());
            let same =
                mine.len() == theirs.len() && mine.values().zip(theirs.values()).all(|(one, other)| near(one, other));
            assert!(same, "{}: {mine:?} is not {theirs:?}", calculation.id);
            assert_eq!(form.answered().len(), form.answers.len());
        }
    }

    /// A unit typed is turned in another order of operations than one in JSON.
    fn near(one: &Value, other: &Value) -> bool {
        match (one.as_f64(), other.as_f64()) {
            (Some(one), Some(other)) => (one - other).abs() <= 1e-9 * (1.0 + one.abs()),
            _ => match (one, other) {
                (Value::Object(one), Value::Object(other)) => one.values().zip(other.values()).all(|(a, b)| near(a, b)),
                (Value::Array(one), Value::Array(other)) => one.iter().zip(other).all(|(a, b)| near(a, b)),
                _ => one == other,
            },
        }
    }

    fn shorten(value: &mut Value) {
        if let Some(number) = value.as_f64().filter(|_| value.to_string().len() > 12) {
            *value = json!((number * 1e8).round() / 1e8);
        }
        value.as_array_mut().into_iter().flatten().for_each(shorten);
        value.as_object_mut().into_iter().flat_map(Map::values_mut).for_each(shorten);
    }

    fn flatten(input: &Input, value: Option<&Value>, into: &mut Vec<String>) {
        let Some(value) = value else { return into.push(String::new()) };
        let text = |value: &Value| value.as_str().map_or_else(|| value.to_string(), str::to_owned);
        match (input.kind, value.as_array()) {
            (InputKind::Points(_), Some(points)) => {
                into.extend(points.iter().flat_map(|point| point.as_array().unwrap()).map(text));
            }
            (InputKind::Records(fields), Some(items)) => {
                for item in items {
                    in_turn(fields).for_each(|field| flatten(field, item.get(field.key), into));
                }
            }
            (_, Some(items)) => into.extend(items.iter().map(text)),
            (_, None) => into.push(text(value)),
        }
        if value.is_array() && !matches!(input.kind, InputKind::Vector(_)) && input.same_length_as.is_none() {
            into.push(String::new());
        }
    }

    #[test]
    fn what_is_no_finite_number_is_told_and_never_left_out() {
        let friction = Input::quantity("friction", "1", "friction").or(0.1);
        let friction: &'static Input = Box::leak(Box::new(friction));
        for text in ["nan", "inf", "-infinity", "1e999", "x"] {
            assert!(understood(friction, text).is_err(), "{text}");
        }
        assert_eq!(understood(friction, "0.2"), Ok(json!(0.2)));
    }

    #[test]
    fn a_wrong_answer_is_told_and_not_taken_and_back_takes_one_away() {
        let mut form = Questionnaire::of(calculation("angle-error-at-radius").or_else(|| all().next()).unwrap());
        let first = form.next().unwrap();
        assert!(form.answer("what").is_err() || !first.choices.is_empty() || first.unit.is_empty());
        assert_eq!(form.next(), Some(first.clone()));
        let pads = calculation("repeated-reading").unwrap();
        let mut form = Questionnaire::of(pads);
        assert_eq!(form.next().unwrap().name, "readings 1");
        form.answer("1/8 in").unwrap();
        assert_eq!(form.next().unwrap().name, "readings 2");
        assert_eq!(form.back().as_deref(), Some("1/8 in"));
        assert_eq!(form.next().unwrap().name, "readings 1");
    }
}
