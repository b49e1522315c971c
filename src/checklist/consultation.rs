//! A step's answer: what it asks, what it found, what stands in the way, what it hands on.

use std::collections::BTreeMap;
use std::fmt;

use serde_json::{Map, Value};

use crate::checklist::Ask;
use crate::quantity::Unit;
use crate::scene::{Plot, Scene};

/// Which one of several equal things a number is about: a slot, a feature, a trip. Empty when there is only one.
pub type About = String;

/// A registered calculation with the inputs it was given and the outputs it gave.
#[derive(Debug, Clone, PartialEq)]
pub struct Reckoning {
    /// What the number is for, within its step: permanent.
    pub role: String,
    /// Id of the calculation.
    pub calculation: &'static str,
    /// Version of the calculation.
    pub version: u32,
    /// The inputs by key.
    pub inputs: Map<String, Value>,
    /// The outputs by key.
    pub outputs: Map<String, Value>,
}

/// The outputs of a calculation.
#[derive(Debug, Clone, PartialEq)]
pub struct Outputs {
    /// The role of the reckoning they came from.
    pub role: String,
    /// Outputs by key.
    pub map: Map<String, Value>,
}

impl Outputs {
    /// Returns a quantity or plain number in the unit that the catalogue states; `None` when it does not exist here.
    pub fn value(&self, key: &str) -> Option<f64> {
        let found = self.map.get(key)?;
        found.as_f64().or_else(|| found.get("value").and_then(Value::as_f64))
    }

    /// Returns a list of quantities.
    pub fn values(&self, key: &str) -> Vec<f64> {
        let list = self.map.get(key).and_then(Value::as_array);
        list.map(|list| list.iter().filter_map(|item| item.get("value").and_then(Value::as_f64)).collect())
            .unwrap_or_default()
    }

    /// Returns a true/false output.
    pub fn flag(&self, key: &str) -> Option<bool> {
        self.map.get(key)?.as_bool()
    }

    /// Returns a word.
    pub fn word(&self, key: &str) -> Option<&str> {
        self.map.get(key)?.as_str()
    }

    /// Returns a list of texts.
    pub fn texts(&self, key: &str) -> Vec<String> {
        let list = self.map.get(key).and_then(Value::as_array);
        list.map(|list| list.iter().filter_map(Value::as_str).map(str::to_owned).collect()).unwrap_or_default()
    }
}

/// What the readings say about a limit (ISO 14253-1's idea: shown with 95 % probability or not).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Verdict {
    /// Readings are still wanted.
    Open,
    /// Shown to be within.
    Within,
    /// Neither shown to be within nor outside.
    NotProven,
    /// Shown to be outside.
    Outside,
}

impl Verdict {
    /// Returns the word used in the log and on the wire.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Open => "open",
            Self::Within => "within",
            Self::NotProven => "not-proven",
            Self::Outside => "outside",
        }
    }

    /// Finds a verdict by its word.
    pub fn named(word: &str) -> Option<Self> {
        [Self::Open, Self::Within, Self::NotProven, Self::Outside].into_iter().find(|verdict| verdict.word() == word)
    }

    /// Judges a probability of being inside: within from 0.95 up, outside from 0.05 down (decisions 5).
    pub fn from_probability(inside: f64) -> Self {
        if inside >= 0.95 {
            Self::Within
        } else if inside <= 0.05 {
            Self::Outside
        } else {
            Self::NotProven
        }
    }
}

/// A number with the unit and the resolution in which it is shown.
#[derive(Debug, Clone, PartialEq)]
pub struct Quantified {
    /// The number, in `unit`, not rounded.
    pub value: f64,
    /// The unit.
    pub unit: &'static Unit,
    /// The step to which a face rounds it.
    pub resolution: f64,
}

impl fmt::Display for Quantified {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(formatter, "{}", crate::quantity::print::at_resolution(self.value, self.resolution, self.unit))
    }
}

/// A result with its uncertainty, in the unit in which it is shown.
#[derive(Debug, Clone, PartialEq)]
pub struct Finding {
    /// Permanent id.
    pub id: &'static str,
    /// Which one of several.
    pub about: About,
    /// What it is, for a person.
    pub label: &'static str,
    /// Value, unit and resolution.
    pub shown: Quantified,
    /// Standard uncertainty in the same unit, when one is known.
    pub uncertainty: Option<f64>,
    /// The verdict on it, when it has a limit.
    pub verdict: Option<Verdict>,
    /// The role of the reckoning it came from.
    pub reckoning: String,
}

/// Whether a gate can be passed with a reason.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum GateKind {
    /// Only new readings open it.
    Stop,
    /// It may be conceded with a written reason and initials.
    Ask,
}

/// How a gate stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum GateState {
    /// Not judged yet.
    Open,
    /// Passed.
    Pass,
    /// Failed.
    Fail,
    /// Failed, and gone on with a reason.
    Conceded,
}

impl GateState {
    /// Returns the word used on the wire.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Open => "open",
            Self::Pass => "pass",
            Self::Fail => "fail",
            Self::Conceded => "conceded",
        }
    }
}

/// A condition for going on.
#[derive(Debug, Clone, PartialEq)]
pub struct Gate {
    /// Permanent id.
    pub id: &'static str,
    /// Which one of several.
    pub about: About,
    /// Whether it can be conceded.
    pub kind: GateKind,
    /// How it stands.
    pub state: GateState,
    /// What was measured.
    pub measured: Option<Quantified>,
    /// What is allowed.
    pub limit: Option<Quantified>,
    /// In words: what it says, and what to do when it fails.
    pub says: String,
    /// The entries that it rests on.
    pub rests_on: Vec<u64>,
}

/// From which side a move ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Approach {
    /// Ending upwards, so that play is always on the same side.
    FromBelow,
    /// Ending downwards.
    FromAbove,
}

impl Approach {
    /// Returns the words used on screen and wire.
    pub const fn word(self) -> &'static str {
        match self {
            Self::FromBelow => "from-below",
            Self::FromAbove => "from-above",
        }
    }
}

/// The next number to set at the machine.
#[derive(Debug, Clone, PartialEq)]
pub struct MachineMove {
    /// Axis letter, or a short word such as `wall` for what is programmed.
    pub axis: &'static str,
    /// What to set.
    pub to: Quantified,
    /// From which side.
    pub approach: Option<Approach>,
    /// In words.
    pub says: String,
}

/// The value of a fact.
#[derive(Debug, Clone, PartialEq)]
pub enum FactValue {
    /// A number in the base unit of its kind.
    Number(f64),
    /// A word.
    Word(String),
}

/// What a step hands on to later steps.
#[derive(Debug, Clone, PartialEq)]
pub struct Fact {
    /// Permanent id.
    pub id: &'static str,
    /// Which one of several.
    pub about: About,
    /// The value.
    pub value: FactValue,
    /// Its standard uncertainty in the base unit.
    pub uncertainty: Option<f64>,
}

/// Everything that closed steps have handed on.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct HandedOn {
    facts: BTreeMap<(Option<u32>, String, About), Fact>,
}

impl HandedOn {
    /// Takes a fact in; `piece` tells which piece it is about.
    pub fn take(&mut self, piece: Option<u32>, fact: Fact) {
        self.facts.insert((piece, fact.id.to_owned(), fact.about.clone()), fact);
    }

    /// Returns a number handed on by a step of the setup.
    pub fn number(&self, id: &str) -> Option<f64> {
        self.number_of(None, id)
    }

    /// Returns a number handed on for a piece.
    pub fn number_of(&self, piece: Option<u32>, id: &str) -> Option<f64> {
        match &self.fact(piece, id)?.value {
            FactValue::Number(number) => Some(*number),
            FactValue::Word(_) => None,
        }
    }

    /// Returns the standard uncertainty handed on with a number of the setup.
    pub fn uncertainty(&self, id: &str) -> Option<f64> {
        self.fact(None, id)?.uncertainty
    }

    /// Returns a word handed on for a piece or by the setup.
    pub fn word_of(&self, piece: Option<u32>, id: &str) -> Option<&str> {
        match &self.fact(piece, id)?.value {
            FactValue::Word(word) => Some(word),
            FactValue::Number(_) => None,
        }
    }

    /// Returns a fact by its id, about nothing in particular.
    pub fn fact(&self, piece: Option<u32>, id: &str) -> Option<&Fact> {
        self.facts.get(&(piece, id.to_owned(), String::new()))
    }

    /// Returns a number about one of several things.
    pub fn number_about(&self, piece: Option<u32>, id: &str, about: &str) -> Option<f64> {
        match &self.facts.get(&(piece, id.to_owned(), about.to_owned()))?.value {
            FactValue::Number(number) => Some(*number),
            FactValue::Word(_) => None,
        }
    }

    /// Lists the numbers handed on under one id for each piece, in the order of the pieces.
    pub fn by_piece(&self, id: &str) -> Vec<(u32, f64)> {
        let numbers = self.facts.iter().filter(|((_, fact, _), _)| fact == id);
        numbers
            .filter_map(|((piece, _, _), fact)| match (piece, &fact.value) {
                (Some(piece), FactValue::Number(number)) => Some((*piece, *number)),
                _ => None,
            })
            .collect()
    }
}

/// A step's answer to a situation.
#[derive(Debug, Clone, PartialEq)]
pub struct Consultation {
    /// What to ask next; `None` when the step has all it needs or a gate stands in the way.
    pub next: Option<Ask>,
    /// The next number to set at the machine.
    pub machine_move: Option<MachineMove>,
    /// Every calculation made.
    pub reckonings: Vec<Reckoning>,
    /// What is known.
    pub findings: Vec<Finding>,
    /// What must hold.
    pub gates: Vec<Gate>,
    /// The step's verdict.
    pub verdict: Verdict,
    /// What it hands on when it closes.
    pub hands_on: Vec<Fact>,
    /// Cautions of this step, in plain words.
    pub cautions: Vec<&'static str>,
    /// What would go wrong here, in one line.
    pub trap: Option<&'static str>,
    /// Where to touch, as a picture.
    pub scene: Option<Scene>,
    /// What was read so far against what was set, as a plot.
    pub plot: Option<Plot>,
    /// Whether the step has all it needs and may be closed.
    pub complete: bool,
}

impl Consultation {
    /// Returns an answer that knows nothing yet.
    pub(super) const fn empty() -> Self {
        Self {
            next: None,
            machine_move: None,
            reckonings: Vec::new(),
            findings: Vec::new(),
            gates: Vec::new(),
            verdict: Verdict::Open,
            hands_on: Vec::new(),
            cautions: Vec::new(),
            trap: None,
            scene: None,
            plot: None,
            complete: false,
        }
    }

    /// Returns the gate that stands in the way, when one does.
    pub fn blocked_by(&self) -> Option<&Gate> {
        if self.next.is_some() {
            return None;
        }
        self.gates.iter().find(|gate| gate.state == GateState::Fail)
    }
}
