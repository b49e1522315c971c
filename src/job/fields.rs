//! The table of fields: what every key of a card is, its unit, its range, its default and its meaning.

mod datums;
mod fixture;
mod limits;
mod machine;
mod part;

use crate::quantity::Dimension;

pub(super) use limits::CARD;

/// One key of a card.
#[derive(Debug)]
pub(super) struct Field {
    pub(super) key: &'static str,
    pub(super) kind: Kind,
    pub(super) need: Need,
    pub(super) meaning: &'static str,
}

/// Whether a key must stand on the card, and what holds when it does not.
#[derive(Debug, Clone, Copy)]
pub(super) enum Need {
    Required,
    /// May be left out; nothing stands in for it.
    Free,
    /// May be left out; this stands in, on a card in mm and on a card in inches. To be confirmed at the machine.
    Default(&'static str, &'static str),
}

/// What stands behind a key.
#[derive(Debug)]
pub(super) enum Kind {
    /// Text of at most so many characters, and not blank.
    Text(usize),
    /// A short name: lower-case letters, digits and `-`.
    Name,
    /// A work-offset register by its RS-274 name.
    Register,
    Flag,
    Choice(&'static [&'static str]),
    Count(u32, u32),
    Quantity(Measure),
    List(&'static Self, usize, usize),
    Object(&'static [Field]),
}

/// A number with a unit.
#[derive(Debug, Clone, Copy)]
pub(super) struct Measure {
    pub(super) dimension: Dimension,
    /// Unit of a bare number on a card in mm.
    pub(super) metric: &'static str,
    /// Unit of a bare number on a card in inches.
    pub(super) inch: &'static str,
    /// What is believed.
    pub(super) range: Range,
}

/// The range that is believed, in the base unit of the kind (mm, deg, mm/min, `MPa`, ...), both ends included.
#[derive(Debug, Clone, Copy)]
pub(super) struct Range(pub(super) f64, pub(super) f64);

const fn required(key: &'static str, kind: Kind, meaning: &'static str) -> Field {
    Field { key, kind, need: Need::Required, meaning }
}

const fn free(key: &'static str, kind: Kind, meaning: &'static str) -> Field {
    Field { key, kind, need: Need::Free, meaning }
}

const fn default(key: &'static str, kind: Kind, text: &'static str, meaning: &'static str) -> Field {
    Field { key, kind, need: Need::Default(text, text), meaning }
}

const fn default_by_unit(key: &'static str, kind: Kind, texts: [&'static str; 2], meaning: &'static str) -> Field {
    let [metric, inch] = texts;
    Field { key, kind, need: Need::Default(metric, inch), meaning }
}

const fn measure(dimension: Dimension, metric: &'static str, inch: &'static str, low: f64, high: f64) -> Kind {
    Kind::Quantity(Measure { dimension, metric, inch, range: Range(low, high) })
}

/// A length in the card's unit; the range is in mm.
const fn length(low: f64, high: f64) -> Kind {
    measure(Dimension::Length, "mm", "in", low, high)
}

const fn degrees(low: f64, high: f64) -> Kind {
    measure(Dimension::Angle, "deg", "deg", low, high)
}

/// A plain number.
const fn ratio(low: f64, high: f64) -> Kind {
    measure(Dimension::Ratio, "1", "1", low, high)
}

/// A stress; the range is in `MPa`.
const fn stress(low: f64, high: f64) -> Kind {
    measure(Dimension::Stress, "MPa", "psi", low, high)
}

/// The least length that a range "above zero" admits: one picometre.
const ABOVE_ZERO: f64 = 1e-9;
/// Longest name of a thing.
const TITLE: Kind = Kind::Text(80);

/// A place on a face of the fixture or part.
static PLACE_YZ: [Field; 2] = [
    required("y", length(-500.0, 500.0), "Y from the fixture's middle at index 0."),
    required("z", length(-500.0, 500.0), "Z from the fixture's middle at index 0."),
];
