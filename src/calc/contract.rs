//! What a calculation promises: its question, its inputs and outputs with units, its limits and its source.
//!
//! A declaration is read by a person as much as by the program, so inputs and outputs are built by naming what they
//! are: `Input::quantity("pad_span", "mm", "distance between the pads").above(0.0)`.

use super::answer::Answer;
use super::given::Given;
use super::refused::Refused;

/// One calculation: one question and its answer.
#[derive(Debug)]
pub struct Calculation {
    /// Permanent name, as it stands in logs.
    pub id: &'static str,
    /// Grows when an answer for the same inputs changes.
    pub version: u32,
    /// The chapter it belongs to.
    pub topic: &'static str,
    /// The question it answers, in one sentence.
    pub question: &'static str,
    /// The formula in the keys of inputs and outputs.
    pub formula: &'static str,
    /// What it takes.
    pub inputs: &'static [Input],
    /// What it answers, in the order in which it is printed.
    pub outputs: &'static [Output],
    /// What it refuses beyond the limits of single inputs.
    pub refusals: &'static [Refusal],
    /// How people usually get it wrong.
    pub usual_mistake: &'static str,
    /// Where it stops being true.
    pub validity: &'static str,
    /// Where the formula comes from.
    pub source: &'static str,
    /// A JSON object of inputs that really runs.
    pub example: &'static str,
    /// Answers the question from inputs that keep to all the limits of single inputs.
    pub solve: fn(&Given) -> Result<Answer, Refused>,
}

/// Something that is checked between inputs.
#[derive(Debug)]
pub struct Refusal {
    /// The input to blame.
    pub input: &'static str,
    /// When it is refused.
    pub why: &'static str,
}

impl Refusal {
    /// States what is refused and which input is to blame.
    pub const fn of(input: &'static str, why: &'static str) -> Self {
        Self { input, why }
    }
}

/// What sort of thing an input is.
#[derive(Debug, Clone, Copy)]
pub enum InputKind {
    /// A number in the unit of the key, or text with a unit of the same kind.
    Quantity,
    /// A list of quantities.
    Quantities,
    /// A fixed number of quantities.
    Vector(usize),
    /// A list of vectors of this many quantities.
    Points(usize),
    /// A whole number.
    Count,
    /// A list of whole numbers.
    Counts,
    /// One of these words.
    Word(&'static [&'static str]),
    /// Any text.
    Text,
    /// A number, or the word "infinite".
    DegreesOfFreedom,
    /// A list of objects with these fields.
    Records(&'static [Input]),
}

/// What stands in for an input that is left out.
#[derive(Debug, Clone, Copy)]
pub enum Fallback {
    /// Nothing: the input must be given.
    Required,
    /// Nothing, and that means something.
    LeftOut,
    /// This number.
    Number(f64),
    /// These numbers.
    Numbers(&'static [f64]),
    /// This word.
    Word(&'static str),
    /// An empty list.
    Empty,
}

/// The limits of a number, in the unit of its key.
#[derive(Debug, Clone, Copy)]
pub struct Bounds {
    /// It must be greater than this.
    pub above: Option<f64>,
    /// It must not be less than this.
    pub at_least: Option<f64>,
    /// It must be less than this.
    pub below: Option<f64>,
    /// It must not be greater than this.
    pub at_most: Option<f64>,
    /// It must not be zero.
    pub nonzero: bool,
}

/// An input of a calculation.
#[derive(Debug)]
pub struct Input {
    /// Its key in the JSON object.
    pub key: &'static str,
    /// What sort of thing it is.
    pub kind: InputKind,
    /// The unit of a plain number; "1" for a plain ratio, empty where there is none.
    pub unit: &'static str,
    /// What it means at the machine.
    pub meaning: &'static str,
    /// What stands in for it.
    pub fallback: Fallback,
    /// Limits of the number, or of each number of a list.
    pub bounds: Bounds,
    /// Fewest entries of a list.
    pub least_items: usize,
    /// The list that must have as many entries.
    pub same_length_as: Option<&'static str>,
}

impl Input {
    const fn new(key: &'static str, kind: InputKind, unit: &'static str, meaning: &'static str) -> Self {
        let bounds = Bounds { above: None, at_least: None, below: None, at_most: None, nonzero: false };
        Self { key, kind, unit, meaning, fallback: Fallback::Required, bounds, least_items: 0, same_length_as: None }
    }

    /// Declares a number with a unit.
    pub const fn quantity(key: &'static str, unit: &'static str, meaning: &'static str) -> Self {
        Self::new(key, InputKind::Quantity, unit, meaning)
    }

    /// Declares a list of numbers with a unit.
    pub const fn quantities(key: &'static str, unit: &'static str, meaning: &'static str) -> Self {
        Self::new(key, InputKind::Quantities, unit, meaning)
    }

    /// Declares a vector of `items` numbers.
    pub const fn vector(key: &'static str, items: usize, unit: &'static str, meaning: &'static str) -> Self {
        Self::new(key, InputKind::Vector(items), unit, meaning)
    }

    /// Declares a list of points of `items` numbers each.
    pub const fn points(key: &'static str, items: usize, unit: &'static str, meaning: &'static str) -> Self {
        Self::new(key, InputKind::Points(items), unit, meaning)
    }

    /// Declares a whole number.
    pub const fn count(key: &'static str, meaning: &'static str) -> Self {
        Self::new(key, InputKind::Count, "", meaning)
    }

    /// Declares a list of whole numbers.
    pub const fn counts(key: &'static str, meaning: &'static str) -> Self {
        Self::new(key, InputKind::Counts, "", meaning)
    }

    /// Declares a choice between words.
    pub const fn word(key: &'static str, choices: &'static [&'static str], meaning: &'static str) -> Self {
        Self::new(key, InputKind::Word(choices), "", meaning)
    }

    /// Declares the turning sense of the rotary, which many calculations need in the same words.
    pub const fn work_turns() -> Self {
        Self::word(
            "work_turns",
            &["right-hand", "left-hand"],
            "sense in which the WORK turns about +X when a positive angle is commanded: 'right-hand' takes +Y to +Z; \
             'left-hand' is the other way (a table-carried axis named after ISO 841)",
        )
    }

    /// Declares a piece of text.
    pub const fn text(key: &'static str, meaning: &'static str) -> Self {
        Self::new(key, InputKind::Text, "", meaning)
    }

    /// Declares degrees of freedom: a number or the word "infinite".
    pub const fn degrees_of_freedom(key: &'static str, meaning: &'static str) -> Self {
        Self::new(key, InputKind::DegreesOfFreedom, "1", meaning)
    }

    /// Declares a list of objects with fields.
    pub const fn records(key: &'static str, fields: &'static [Self], meaning: &'static str) -> Self {
        Self::new(key, InputKind::Records(fields), "", meaning)
    }

    /// Demands a number greater than `limit`.
    #[must_use]
    pub const fn above(mut self, limit: f64) -> Self {
        self.bounds.above = Some(limit);
        self
    }

    /// Demands a number not less than `limit`.
    #[must_use]
    pub const fn at_least(mut self, limit: f64) -> Self {
        self.bounds.at_least = Some(limit);
        self
    }

    /// Demands a number less than `limit`.
    #[must_use]
    pub const fn below(mut self, limit: f64) -> Self {
        self.bounds.below = Some(limit);
        self
    }

    /// Demands a number not greater than `limit`.
    #[must_use]
    pub const fn at_most(mut self, limit: f64) -> Self {
        self.bounds.at_most = Some(limit);
        self
    }

    /// Demands a number other than zero.
    #[must_use]
    pub const fn nonzero(mut self) -> Self {
        self.bounds.nonzero = true;
        self
    }

    /// Demands at least this many entries.
    #[must_use]
    pub const fn least_items(mut self, items: usize) -> Self {
        self.least_items = items;
        self
    }

    /// Demands as many entries as another list has.
    #[must_use]
    pub const fn same_length_as(mut self, other: &'static str) -> Self {
        self.same_length_as = Some(other);
        self
    }

    /// May be left out, which then means something of its own.
    #[must_use]
    pub const fn may_be_left_out(mut self) -> Self {
        self.fallback = Fallback::LeftOut;
        self
    }

    /// Stands for `number` when left out.
    #[must_use]
    pub const fn or(mut self, number: f64) -> Self {
        self.fallback = Fallback::Number(number);
        self
    }

    /// Stands for these numbers when left out.
    #[must_use]
    pub const fn or_numbers(mut self, numbers: &'static [f64]) -> Self {
        self.fallback = Fallback::Numbers(numbers);
        self
    }

    /// Stands for this word when left out.
    #[must_use]
    pub const fn or_word(mut self, word: &'static str) -> Self {
        self.fallback = Fallback::Word(word);
        self
    }

    /// Stands for infinitely many degrees of freedom when left out.
    #[must_use]
    pub const fn or_infinite(self) -> Self {
        self.or(f64::INFINITY)
    }

    /// Stands for an empty list when left out.
    #[must_use]
    pub const fn or_empty(mut self) -> Self {
        self.fallback = Fallback::Empty;
        self
    }
}

/// What sort of thing an output is.
#[derive(Debug, Clone, Copy)]
pub enum OutputKind {
    /// `{"value": …, "unit": …}`.
    Quantity,
    /// A list of quantities.
    Quantities,
    /// A plain whole number.
    Count,
    /// true or false.
    Flag,
    /// One of these words.
    Word(&'static [&'static str]),
    /// A list of texts.
    Texts,
    /// A quantity of unit 1, or the word "infinite".
    DegreesOfFreedom,
}

/// An output of a calculation.
#[derive(Debug)]
pub struct Output {
    /// Its key in the JSON object.
    pub key: &'static str,
    /// What sort of thing it is.
    pub kind: OutputKind,
    /// Its unit; "1" for a plain ratio, empty where there is none.
    pub unit: &'static str,
    /// What it means at the machine.
    pub meaning: &'static str,
    /// When it does not exist.
    pub null_when: Option<&'static str>,
    /// True for angles of which 0 and 360 are the same.
    pub round_the_circle: bool,
}

impl Output {
    const fn new(key: &'static str, kind: OutputKind, unit: &'static str, meaning: &'static str) -> Self {
        Self { key, kind, unit, meaning, null_when: None, round_the_circle: false }
    }

    /// Declares a number with a unit.
    pub const fn quantity(key: &'static str, unit: &'static str, meaning: &'static str) -> Self {
        Self::new(key, OutputKind::Quantity, unit, meaning)
    }

    /// Declares a list of numbers with a unit.
    pub const fn quantities(key: &'static str, unit: &'static str, meaning: &'static str) -> Self {
        Self::new(key, OutputKind::Quantities, unit, meaning)
    }

    /// Declares a whole number.
    pub const fn count(key: &'static str, meaning: &'static str) -> Self {
        Self::new(key, OutputKind::Count, "", meaning)
    }

    /// Declares a true or false.
    pub const fn flag(key: &'static str, meaning: &'static str) -> Self {
        Self::new(key, OutputKind::Flag, "", meaning)
    }

    /// Declares one of several words.
    pub const fn word(key: &'static str, choices: &'static [&'static str], meaning: &'static str) -> Self {
        Self::new(key, OutputKind::Word(choices), "", meaning)
    }

    /// Declares a list of texts.
    pub const fn texts(key: &'static str, meaning: &'static str) -> Self {
        Self::new(key, OutputKind::Texts, "", meaning)
    }

    /// Declares degrees of freedom: infinity is printed as the word "infinite".
    pub const fn degrees_of_freedom(key: &'static str, meaning: &'static str) -> Self {
        Self::new(key, OutputKind::DegreesOfFreedom, "1", meaning)
    }

    /// Does not exist in this situation.
    #[must_use]
    pub const fn null_when(mut self, situation: &'static str) -> Self {
        self.null_when = Some(situation);
        self
    }

    /// Is an angle of which 0 and 360 are the same.
    #[must_use]
    pub const fn round_the_circle(mut self) -> Self {
        self.round_the_circle = true;
        self
    }
}
