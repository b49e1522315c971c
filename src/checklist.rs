//! The step-state engine: an ordered checklist whose steps are pure questions.
//!
//! A person's input becomes a [`Command`]. [`Progress::decide`] turns it into [`Event`]s or a [`Refusal`] and changes
//! nothing; the log writes the events; only then does [`Progress::apply`] change the state. A [`Step`] answers a
//! [`Situation`] with a [`Consultation`]: what to ask next, the next move at the machine, findings with uncertainty,
//! gates, a verdict, what it hands on. No clock, file or terminal is known here.

mod ask;
mod consultation;
mod doubt;
mod entry;
mod event;
mod happening;
mod progress;
mod step;
mod worksheet;

pub use ask::{Ask, AskKind, AskSpec, Question, Reader, Scatter, Window};
pub use consultation::{
    About, Approach, Consultation, Fact, FactValue, Finding, Gate, GateKind, GateState, HandedOn, MachineMove, Outputs,
    Quantified, Reckoning, Verdict,
};
pub use doubt::Doubt;
pub use entry::{Entry, EntryFault, EntryValue, RegisterLine, Strike};
pub use event::{Command, Event, EventFault, Refusal, Stamp};
pub use happening::Happening;
pub use progress::{Progress, Slot, SlotState, SlotStatus};
pub use step::{Checklist, Concession, Happened, RunFacts, SERIAL, Scope, Situation, Step, WHAT_NEXT};
pub use worksheet::{GateCheck, Reading, Worksheet, shown};
