//! The closed table of event kinds.

use std::fmt;

/// A kind of event. The names are permanent: a kind may be added, none may change its meaning or its name.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Kind {
    /// The first event of every log: who made it, with what, after which log.
    SessionOpen,
    /// A reading or an answer, as typed.
    EntryAdd,
    /// An entry is struck, with a reason; it stays readable.
    EntryStrike,
    /// A calculation's id, version, inputs and outputs.
    ReckoningAdd,
    /// An entry that looked like a slip was kept, with a reason.
    DoubtSure,
    /// A gate was passed by a person's decision, with a reason and initials.
    GateConcede,
    /// A step is closed: verdict and the facts it hands on.
    StepClose,
    /// Something happened at the machine: power cut, re-home, bump.
    Happened,
    /// The session goes on in a new run of the program.
    SessionResume,
    /// A free note.
    NoteAdd,
    /// The head of the chain was read to someone or written down.
    WitnessAdd,
    /// A second person has reviewed the session.
    ReviewSign,
    /// The session is closed for good; always the last event.
    SessionSeal,
    /// A torn or damaged last line was set aside when the log was opened.
    LogRecovered,
    /// The wall clock and the steady clock disagree by more than two seconds.
    ClockStep,
}

/// Every kind with its permanent name.
const TABLE: [(Kind, &str); 15] = [
    (Kind::SessionOpen, "session.open"),
    (Kind::EntryAdd, "entry.add"),
    (Kind::EntryStrike, "entry.strike"),
    (Kind::ReckoningAdd, "reckoning.add"),
    (Kind::DoubtSure, "doubt.sure"),
    (Kind::GateConcede, "gate.concede"),
    (Kind::StepClose, "step.close"),
    (Kind::Happened, "happened"),
    (Kind::SessionResume, "session.resume"),
    (Kind::NoteAdd, "note.add"),
    (Kind::WitnessAdd, "witness.add"),
    (Kind::ReviewSign, "review.sign"),
    (Kind::SessionSeal, "session.seal"),
    (Kind::LogRecovered, "log.recovered"),
    (Kind::ClockStep, "clock.step"),
];

impl Kind {
    /// Lists every kind in the order of the table.
    pub fn all() -> impl Iterator<Item = Self> {
        TABLE.iter().map(|(kind, _)| *kind)
    }

    /// Gives the permanent name that stands in the log: "entry.add".
    pub const fn name(self) -> &'static str {
        match self {
            Self::SessionOpen => "session.open",
            Self::EntryAdd => "entry.add",
            Self::EntryStrike => "entry.strike",
            Self::ReckoningAdd => "reckoning.add",
            Self::DoubtSure => "doubt.sure",
            Self::GateConcede => "gate.concede",
            Self::StepClose => "step.close",
            Self::Happened => "happened",
            Self::SessionResume => "session.resume",
            Self::NoteAdd => "note.add",
            Self::WitnessAdd => "witness.add",
            Self::ReviewSign => "review.sign",
            Self::SessionSeal => "session.seal",
            Self::LogRecovered => "log.recovered",
            Self::ClockStep => "clock.step",
        }
    }

    /// Finds the kind with this name.
    pub fn named(name: &str) -> Option<Self> {
        TABLE.iter().find(|(_, known)| *known == name).map(|(kind, _)| *kind)
    }

    /// Tells whether only the log itself writes events of this kind.
    pub(super) const fn is_the_logs_own(self) -> bool {
        matches!(self, Self::SessionOpen | Self::SessionSeal | Self::LogRecovered | Self::ClockStep)
    }
}

impl fmt::Display for Kind {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_kind_has_one_name_and_is_found_by_it() {
        let names: std::collections::BTreeSet<_> = Kind::all().map(Kind::name).collect();
        assert_eq!(names.len(), 15);
        for (kind, name) in TABLE {
            assert_eq!(kind.name(), name);
            assert_eq!(Kind::named(name), Some(kind));
        }
        assert_eq!(Kind::named("reading.correct"), None);
        assert_eq!(Kind::named("Entry.add"), None);
    }
}
