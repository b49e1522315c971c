//! What a step asks for.

use crate::checklist::Happening;
use crate::job::{Instrument, JobCard};
use crate::quantity::Dimension;

/// The kind of answer that an ask wants.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum AskKind {
    /// A length in the card's unit, or with its own.
    Length,
    /// Decimal degrees.
    Angle,
    /// A whole number.
    Count,
    /// A percentage shown by a dial.
    Percent,
    /// A force.
    Force,
    /// A torque.
    Torque,
    /// A temperature.
    Temperature,
    /// One of several words.
    Choice,
    /// Yes or no.
    YesNo,
    /// A line of text.
    Text,
    /// Registers with their axis values, as `G56 Y-187.463 Z-372.796 A37.412`; several divided by `;`.
    Registers,
}

impl AskKind {
    /// Returns the name used on the wire.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Length => "length",
            Self::Angle => "angle",
            Self::Count | Self::Percent => "count",
            Self::Force => "force",
            Self::Torque => "torque",
            Self::Temperature => "temperature",
            Self::Choice => "choice",
            Self::YesNo => "yes-no",
            Self::Text => "text",
            Self::Registers => "registers",
        }
    }

    /// Returns what the answer measures, for the kinds that carry a quantity.
    pub const fn dimension(self) -> Option<Dimension> {
        match self {
            Self::Length => Some(Dimension::Length),
            Self::Angle => Some(Dimension::Angle),
            Self::Percent => Some(Dimension::Percent),
            Self::Force => Some(Dimension::Force),
            Self::Torque => Some(Dimension::Torque),
            Self::Temperature => Some(Dimension::Temperature),
            Self::Count | Self::Choice | Self::YesNo | Self::Text | Self::Registers => None,
        }
    }
}

/// An ask as it stands in the permanent table: its id never changes its meaning and is never used again.
#[derive(Debug, PartialEq)]
pub struct AskSpec {
    /// Permanent id, `step.what`.
    pub id: &'static str,
    /// The kind of answer.
    pub kind: AskKind,
    /// The words that may be chosen; empty for other kinds.
    pub choices: &'static [&'static str],
    /// What the person is asked, in a sentence.
    pub says: &'static str,
    /// What makes an earlier answer void.
    pub voided_by: &'static [Happening],
    /// The instrument that reads it.
    pub reader: Option<Reader>,
    /// Whether it is read once even where the card wants repeats of that instrument.
    pub once: bool,
    /// Whether an answer that names a happening is recorded as one as well.
    pub names_happening: bool,
}

/// Which instrument of the card reads an answer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Reader {
    /// Edge finder or probe in the spindle.
    EdgeFinder,
    /// Reference tool on the setter.
    Setter,
    /// Lever indicator.
    Lever,
    /// Bore gauge or blocks.
    BoreGauge,
    /// Micrometer.
    Micrometer,
    /// Feeler leaves.
    Feeler,
    /// Indicator on the seat corners.
    SeatIndicator,
    /// What inspects the first article.
    Inspection,
}

impl Reader {
    /// Returns the instrument on a card.
    pub const fn on(self, card: &JobCard) -> &Instrument {
        let instruments = &card.instruments;
        match self {
            Self::EdgeFinder => &instruments.edge_finder,
            Self::Setter => &instruments.setter,
            Self::Lever => &instruments.lever,
            Self::BoreGauge => &instruments.bore_gauge,
            Self::Micrometer => &instruments.micrometer,
            Self::Feeler => &instruments.feeler,
            Self::SeatIndicator => &instruments.seat_indicator,
            Self::Inspection => &instruments.inspection,
        }
    }

    /// Returns its key on the card.
    pub const fn word(self) -> &'static str {
        match self {
            Self::EdgeFinder => "edge_finder",
            Self::Setter => "setter",
            Self::Lever => "lever",
            Self::BoreGauge => "bore_gauge",
            Self::Micrometer => "micrometer",
            Self::Feeler => "feeler",
            Self::SeatIndicator => "seat_indicator",
            Self::Inspection => "inspection",
        }
    }
}

impl AskSpec {
    /// Makes a permanent ask of a kind that needs no words to choose from.
    pub const fn new(id: &'static str, kind: AskKind, says: &'static str, voided_by: &'static [Happening]) -> Self {
        Self { id, kind, choices: &[], says, voided_by, reader: None, once: false, names_happening: false }
    }

    /// Makes a permanent ask for one of several words.
    pub const fn choice(
        id: &'static str,
        choices: &'static [&'static str],
        says: &'static str,
        voided_by: &'static [Happening],
    ) -> Self {
        Self { id, kind: AskKind::Choice, choices, says, voided_by, reader: None, once: false, names_happening: false }
    }
}

impl AskSpec {
    /// Reads it with an instrument of the card, as often as the card says.
    #[must_use]
    pub const fn read_by(mut self, reader: Reader) -> Self {
        self.reader = Some(reader);
        self
    }

    /// Reads it with an instrument of the card, once.
    #[must_use]
    pub const fn read_once_by(mut self, reader: Reader) -> Self {
        self.reader = Some(reader);
        self.once = true;
        self
    }

    /// Records an answer that names a happening as one as well.
    #[must_use]
    pub const fn naming_happenings(mut self) -> Self {
        self.names_happening = true;
        self
    }

    /// Returns how many readings are wanted with this card.
    pub fn repeats(&self, card: &JobCard) -> u32 {
        match self.reader {
            Some(reader) if !self.once => reader.on(card).repeats.max(1),
            Some(_) | None => 1,
        }
    }
}

/// An interval in the base unit of its kind, both ends allowed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Window {
    /// Lowest value expected.
    pub low: f64,
    /// Highest value expected.
    pub high: f64,
}

impl Window {
    /// Holds the interval `middle` ± `half`.
    pub fn around(middle: f64, half: f64) -> Self {
        Self { low: middle - half, high: middle + half }
    }

    /// Returns whether a value lies inside or on the edge.
    pub fn holds(&self, value: f64) -> bool {
        self.low <= value && value <= self.high
    }

    /// Returns whether an angle lies inside, counted round the circle.
    pub fn holds_angle(&self, degrees: f64) -> bool {
        [-360.0, 0.0, 360.0].into_iter().any(|turn| self.holds(degrees + turn))
    }
}

/// A question that a step wants answered now: an ask with its round, its window and its words.
#[derive(Debug, Clone)]
pub struct Question {
    /// The permanent ask.
    pub spec: &'static AskSpec,
    /// Which round (trip, pass, index) the answer belongs to, from 0.
    pub round: u32,
    /// What to say in place of the ask's own words.
    pub say: Option<String>,
    /// Where the answer is expected, in the base unit.
    pub expected: Option<Window>,
    /// How many readings are wanted, when it is not what the card says.
    pub times: Option<u32>,
    /// How it is read, when it is not as the card's instrument reads.
    pub scatter: Option<Scatter>,
}

/// How finely and how well something is read, in the base unit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Scatter {
    /// Smallest step of what is typed.
    pub step: f64,
    /// Standard deviation of one reading.
    pub deviation: f64,
}

impl Question {
    /// Asks a permanent ask in round 0.
    pub const fn of(spec: &'static AskSpec) -> Self {
        Self { spec, round: 0, say: None, expected: None, times: None, scatter: None }
    }

    /// Puts the answer into a round.
    #[must_use]
    pub const fn round(mut self, round: u32) -> Self {
        self.round = round;
        self
    }

    /// Says something else than the ask's own words.
    #[must_use]
    pub fn say(mut self, say: impl Into<String>) -> Self {
        self.say = Some(say.into());
        self
    }

    /// Wants so many readings, whatever the card says.
    #[must_use]
    pub const fn times(mut self, times: u32) -> Self {
        self.times = Some(times);
        self
    }

    /// Is read so, whatever the card's instrument.
    #[must_use]
    pub const fn scatters(mut self, scatter: Scatter) -> Self {
        self.scatter = Some(scatter);
        self
    }

    /// Returns how it is read: as told, else as the card's instrument reads; `None` for what no instrument reads.
    pub fn read_as(&self, card: &JobCard) -> Option<Scatter> {
        let of_card = || {
            let tool = self.spec.reader?.on(card);
            Some(Scatter { step: tool.resolution.mm(), deviation: tool.repeatability.mm() })
        };
        self.scatter.or_else(of_card)
    }

    /// Returns how many readings are wanted with this card.
    pub fn repeats(&self, card: &JobCard) -> u32 {
        self.times.unwrap_or_else(|| self.spec.repeats(card))
    }

    /// Tells where the answer is expected, in the base unit.
    #[must_use]
    pub const fn expect(mut self, window: Window) -> Self {
        self.expected = Some(window);
        self
    }
}

/// What is asked next, ready for a face.
#[derive(Debug, Clone, PartialEq)]
pub struct Ask {
    /// Permanent id.
    pub id: &'static str,
    /// The kind of answer.
    pub kind: AskKind,
    /// Which round it belongs to, from 0.
    pub round: u32,
    /// Which repeat this is, from 1.
    pub repeat: u32,
    /// How many repeats are wanted.
    pub of: u32,
    /// The unit of a bare number, by name; empty for words.
    pub unit: &'static str,
    /// Words to choose from.
    pub choices: Vec<&'static str>,
    /// Where the answer is expected, in the base unit.
    pub expected: Option<Window>,
    /// The same window in `unit`.
    pub expected_shown: Option<Window>,
    /// What to do and what to type.
    pub say: String,
    /// Standing repeats of the same thing, in the base unit.
    pub others: Vec<f64>,
    /// One step of the instrument's display, in the base unit; 0 when unknown.
    pub display_step: f64,
    /// How far repeats may lie apart, in the base unit, with this one counted; 0 when not checked.
    pub range_limit: f64,
    /// The instrument that reads it, by name.
    pub instrument: Option<String>,
}
