//! What a person entered.

use std::fmt;

use serde_json::{Map, Value, json};

use crate::checklist::{AskKind, AskSpec};
use crate::quantity::{Dimension, Quantity, Unit, typed};

/// One register with its axis values, as read back from the control.
#[derive(Debug, Clone, PartialEq)]
pub struct RegisterLine {
    /// RS-274 name, `G54` to `G59.3`, or `COMMON` for the shift common to all registers.
    pub name: String,
    /// Axis letters and values, X Y Z as lengths and A as an angle, in the order typed.
    pub axes: Vec<(char, Quantity)>,
}

impl RegisterLine {
    /// Returns the value on one axis in the base unit (mm or deg).
    pub fn axis(&self, letter: char) -> Option<f64> {
        self.axes.iter().find(|(axis, _)| *axis == letter).map(|(_, quantity)| quantity.base_value())
    }
}

/// The value of an entry.
#[derive(Debug, Clone, PartialEq)]
pub enum EntryValue {
    /// A quantity with its text as typed.
    Quantity(Quantity),
    /// A whole number.
    Count(i64),
    /// One of the words offered.
    Choice(&'static str),
    /// Yes or no.
    YesNo(bool),
    /// A line of text.
    Text(String),
    /// Registers with their axis values.
    Registers(Vec<RegisterLine>),
}

/// Why a typed text is no answer to the ask.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{0}")]
pub struct EntryFault(pub String);

/// The longest text that an entry keeps, in bytes.
const LONGEST_TEXT: usize = 400;

impl EntryValue {
    /// Reads what was typed as an answer to an ask. `unit` is what a bare number means.
    pub fn read(
        spec: &'static AskSpec,
        text: &str,
        unit: Option<&'static Unit>,
        lengths: &'static Unit,
    ) -> Result<Self, EntryFault> {
        let text = text.trim();
        if text.is_empty() {
            return Err(EntryFault(format!("Nothing was typed. Wanted: {}", wanted(spec))));
        }
        match spec.kind {
            AskKind::Count => read_count(text),
            AskKind::Choice => read_choice(spec, text),
            AskKind::YesNo => read_yes_no(text),
            AskKind::Text => read_text(text),
            AskKind::Registers => read_registers(text, lengths).map(Self::Registers),
            AskKind::Length
            | AskKind::Angle
            | AskKind::Percent
            | AskKind::Force
            | AskKind::Torque
            | AskKind::Temperature => {
                let (Some(dimension), Some(unit)) = (spec.kind.dimension(), unit) else {
                    return Err(EntryFault("This question takes no number.".to_owned()));
                };
                typed::read(text, dimension, unit)
                    .map(Self::Quantity)
                    .map_err(|misread| EntryFault(misread.to_string()))
            }
        }
    }

    /// Returns the number of the entry in the base unit of its kind, when it carries one.
    #[expect(clippy::cast_precision_loss, reason = "counts are small")]
    pub fn number(&self) -> Option<f64> {
        match self {
            Self::Quantity(quantity) => Some(quantity.base_value()),
            Self::Count(count) => Some(*count as f64),
            Self::Choice(_) | Self::YesNo(_) | Self::Text(_) | Self::Registers(_) => None,
        }
    }

    /// Returns what the entry's log data holds, and reads back with [`EntryValue::from_data`].
    pub fn to_data(&self) -> Map<String, Value> {
        match self {
            Self::Quantity(quantity) => quantity.to_entry_json().as_object().cloned().unwrap_or_default(),
            Self::Count(count) => object(json!({"raw": count.to_string(), "count": count})),
            Self::Choice(word) => object(json!({"raw": word, "choice": word})),
            Self::YesNo(yes) => object(json!({"raw": if *yes { "yes" } else { "no" }, "yes": yes})),
            Self::Text(text) => object(json!({"raw": text})),
            Self::Registers(lines) => object(
                json!({"raw": self.to_string(), "registers": lines.iter().map(register_data).collect::<Vec<_>>()}),
            ),
        }
    }

    /// Rebuilds an entry's value from its log data.
    pub fn from_data(spec: &'static AskSpec, data: &Map<String, Value>) -> Result<Self, EntryFault> {
        let wrong = || EntryFault(format!("The entry for {} in this log cannot be read.", spec.id));
        let raw = data.get("raw").and_then(Value::as_str).ok_or_else(wrong)?;
        match spec.kind {
            AskKind::Count => data.get("count").and_then(Value::as_i64).map(Self::Count).ok_or_else(wrong),
            AskKind::Choice => read_choice(spec, raw),
            AskKind::YesNo => data.get("yes").and_then(Value::as_bool).map(Self::YesNo).ok_or_else(wrong),
            AskKind::Text => Ok(Self::Text(raw.to_owned())),
            AskKind::Registers => {
                let lines = data.get("registers").and_then(Value::as_array).ok_or_else(wrong)?;
                lines.iter().map(register_from_data).collect::<Option<Vec<_>>>().map(Self::Registers).ok_or_else(wrong)
            }
            AskKind::Length
            | AskKind::Angle
            | AskKind::Percent
            | AskKind::Force
            | AskKind::Torque
            | AskKind::Temperature => Quantity::from_entry_json(&Value::Object(data.clone()))
                .map(Self::Quantity)
                .map_err(|fault| EntryFault(fault.to_string())),
        }
    }
}

impl fmt::Display for EntryValue {
    /// Writes the value as it is echoed: with its unit.
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Quantity(quantity) => write!(formatter, "{}", quantity.echo()),
            Self::Count(count) => write!(formatter, "{count}"),
            Self::Choice(word) => write!(formatter, "{word}"),
            Self::YesNo(yes) => write!(formatter, "{}", if *yes { "yes" } else { "no" }),
            Self::Text(text) => write!(formatter, "{text}"),
            Self::Registers(lines) => {
                let shown: Vec<String> = lines.iter().map(register_text).collect();
                write!(formatter, "{}", shown.join("; "))
            }
        }
    }
}

fn object(value: Value) -> Map<String, Value> {
    match value {
        Value::Object(map) => map,
        _ => Map::new(),
    }
}

fn wanted(spec: &AskSpec) -> String {
    match spec.kind {
        AskKind::Choice => format!("one of {}.", spec.choices.join(", ")),
        AskKind::YesNo => "yes or no.".to_owned(),
        _ => format!("{}.", spec.kind.word()),
    }
}

fn read_count(text: &str) -> Result<EntryValue, EntryFault> {
    match text.parse::<i64>() {
        Ok(count) if (0..=1_000_000).contains(&count) => Ok(EntryValue::Count(count)),
        _ => Err(EntryFault(format!("`{text}` is no count: type a whole number such as 3."))),
    }
}

fn read_choice(spec: &'static AskSpec, text: &str) -> Result<EntryValue, EntryFault> {
    let typed = text.to_lowercase();
    spec.choices
        .iter()
        .find(|choice| **choice == typed)
        .map(|choice| EntryValue::Choice(choice))
        .ok_or_else(|| EntryFault(format!("`{text}` is not offered here: choose one of {}.", spec.choices.join(", "))))
}

fn read_yes_no(text: &str) -> Result<EntryValue, EntryFault> {
    match text.to_lowercase().as_str() {
        "yes" | "y" => Ok(EntryValue::YesNo(true)),
        "no" | "n" => Ok(EntryValue::YesNo(false)),
        _ => Err(EntryFault(format!("`{text}` is neither yes nor no."))),
    }
}

fn read_text(text: &str) -> Result<EntryValue, EntryFault> {
    if text.len() > LONGEST_TEXT {
        return Err(EntryFault(format!("That is longer than {LONGEST_TEXT} characters: shorten it.")));
    }
    let cleaned: String = text.chars().map(|letter| if letter.is_control() { ' ' } else { letter }).collect();
    Ok(EntryValue::Text(cleaned))
}

fn read_registers(text: &str, lengths: &'static Unit) -> Result<Vec<RegisterLine>, EntryFault> {
    if text.len() > LONGEST_TEXT * 4 {
        return Err(EntryFault("That list of registers is too long: type one line a register.".to_owned()));
    }
    text.split(';').map(str::trim).filter(|part| !part.is_empty()).map(|part| read_register(part, lengths)).collect()
}

fn read_register(part: &str, lengths: &'static Unit) -> Result<RegisterLine, EntryFault> {
    let fault = |what: String| EntryFault(format!("{what} Type it as: G56 X-312.405 Y-187.463 Z-372.796 A37.412"));
    let mut words = part.split_whitespace();
    let name = words.next().unwrap_or_default().to_uppercase();
    if !is_register_name(&name) {
        return Err(fault(format!("`{name}` is no register: G54 to G59, G59.1 to G59.3, or COMMON.")));
    }
    let mut axes: Vec<(char, Quantity)> = Vec::new();
    for word in words {
        let (letter, number) = split_axis_word(word).ok_or_else(|| fault(format!("`{word}` is no axis word.")))?;
        if axes.iter().any(|(axis, _)| *axis == letter) {
            return Err(fault(format!("{letter} is given twice.")));
        }
        let dimension = if matches!(letter, 'A' | 'B') { Dimension::Angle } else { Dimension::Length };
        let unit = if dimension == Dimension::Angle { degrees() } else { lengths };
        let quantity = typed::read(number, dimension, unit).map_err(|misread| fault(misread.to_string()))?;
        axes.push((letter, quantity));
    }
    if axes.is_empty() {
        return Err(fault(format!("{name} has no values.")));
    }
    Ok(RegisterLine { name, axes })
}

fn split_axis_word(word: &str) -> Option<(char, &str)> {
    let letter = word.chars().next()?.to_ascii_uppercase();
    let number = word.get(1..)?;
    matches!(letter, 'X' | 'Y' | 'Z' | 'A' | 'B').then_some((letter, number))
}

/// Returns whether a name is one of the nine RS-274 registers, or the common shift.
fn is_register_name(name: &str) -> bool {
    matches!(name, "G54" | "G55" | "G56" | "G57" | "G58" | "G59" | "G59.1" | "G59.2" | "G59.3" | "COMMON")
}

fn degrees() -> &'static Unit {
    Dimension::Angle.base_unit()
}

fn register_text(line: &RegisterLine) -> String {
    let axes: Vec<String> = line.axes.iter().map(|(letter, quantity)| format!("{letter}{}", quantity.text())).collect();
    format!("{} {}", line.name, axes.join(" "))
}

fn register_data(line: &RegisterLine) -> Value {
    let axes: Map<String, Value> =
        line.axes.iter().map(|(letter, quantity)| (letter.to_string(), quantity.to_entry_json())).collect();
    json!({"register": line.name, "axes": axes})
}

fn register_from_data(value: &Value) -> Option<RegisterLine> {
    let name = value.get("register")?.as_str()?.to_owned();
    let axes = value.get("axes")?.as_object()?;
    let axes = axes
        .iter()
        .map(|(letter, data)| Some((letter.chars().next()?, Quantity::from_entry_json(data).ok()?)))
        .collect::<Option<Vec<_>>>()?;
    Some(RegisterLine { name, axes })
}

/// Why and by whom an entry was crossed out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Strike {
    /// Sequence number of the strike.
    pub seq: u64,
    /// The reason.
    pub why: String,
    /// Initials.
    pub by: String,
}

/// An entry as it stands in the log.
#[derive(Debug, Clone, PartialEq)]
pub struct Entry {
    /// Sequence number in the log; 0 until it is recorded.
    pub seq: u64,
    /// The step that asked.
    pub step: &'static str,
    /// The piece it belongs to, for steps that are done for each piece.
    pub piece: Option<u32>,
    /// The permanent ask.
    pub spec: &'static AskSpec,
    /// The round (trip, pass, index), from 0.
    pub round: u32,
    /// What was entered.
    pub value: EntryValue,
    /// The instrument's name, when one was read.
    pub instrument: Option<String>,
    /// The struck entry that this one replaces.
    pub replaces: Option<u64>,
    /// Initials.
    pub by: String,
    /// The number of the paper from which it was entered late.
    pub paper: Option<String>,
    /// Set when it has been crossed out.
    pub struck: Option<Strike>,
    /// Sequence number of the happening that made it void.
    pub void: Option<u64>,
}

impl Entry {
    /// Returns whether the entry counts: neither crossed out nor void.
    pub fn stands(&self) -> bool {
        self.struck.is_none() && self.void.is_none()
    }

    /// Returns its number in the base unit, or 0 when it carries none.
    pub fn number(&self) -> f64 {
        self.value.number().unwrap_or(0.0)
    }

    /// Returns whether it is a yes.
    pub fn is_yes(&self) -> bool {
        matches!(self.value, EntryValue::YesNo(true))
    }

    /// Returns the word chosen, or nothing.
    pub fn word(&self) -> &str {
        match &self.value {
            EntryValue::Choice(word) => word,
            EntryValue::Text(text) => text,
            _ => "",
        }
    }

    /// Returns the registers read, or none.
    pub fn registers(&self) -> &[RegisterLine] {
        match &self.value {
            EntryValue::Registers(lines) => lines,
            _ => &[],
        }
    }
}
