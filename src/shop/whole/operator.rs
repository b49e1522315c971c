//! An operator who plays the whole setup alone: types what is shown, reads again what does not agree, looks for what was
//! wrong when a gate stops, and goes on with a reason where that is allowed.

use crate::checklist::{GateKind, GateState, Progress};
use crate::shop::whole::{Moment, Shop};

/// How often the same gate is measured again before it is gone past or given up.
const MOST_AGAIN: u32 = 2;

/// What the operator does next.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Typed {
    /// Types an answer.
    Answer(String),
    /// Crosses out what a gate rests on, and measures again.
    Again(String, String),
    /// Goes on past a gate, with a reason.
    GoOn(String, String),
    /// Closes the session for good.
    Seal,
    /// Does not know what to do, for this reason.
    Stuck(String),
}

impl Shop {
    /// Says what the operator does next.
    pub fn next(&mut self, progress: &Progress) -> Typed {
        let Some((slot, answer)) = progress.consult() else { return Typed::Seal };
        let Some(ask) = answer.next.as_ref() else {
            let failed = answer.gates.iter().find(|gate| gate.state == GateState::Fail);
            return failed.map_or_else(
                || Typed::Stuck("nothing is asked and nothing has failed".to_owned()),
                |gate| self.before_a_gate(gate.id, &gate.about, gate.kind, &gate.says),
            );
        };
        let moment = Moment { progress, piece: slot.piece.unwrap_or(progress.run().piece), ask, answer: &answer };
        match self.shown(&moment) {
            Some(text) => Typed::Answer(text),
            None => Typed::Stuck(format!("nothing in this shop shows {}", ask.id)),
        }
    }

    /// What is shown, with every plant that shows itself in it marked.
    pub(super) fn shown(&mut self, at: &Moment<'_>) -> Option<String> {
        let with = self.truthful(at);
        for place in 0..self.planted.len() {
            let Some(planted) = self.planted.get_mut(place) else { continue };
            if planted.caught_by.is_some() || planted.shown {
                continue;
            }
            // What would be shown without it; the control must not remember this look.
            planted.caught_by = Some(String::new());
            let control = self.control.clone();
            let without = self.truthful(at);
            self.control = control;
            if let Some(planted) = self.planted.get_mut(place) {
                planted.caught_by = None;
                planted.shown = with != without;
            }
        }
        with
    }

    fn before_a_gate(&mut self, id: &str, about: &str, kind: GateKind, says: &str) -> Typed {
        let was_planted = self.caught(&format!("gate {id}"));
        let count = self.again.entry(format!("{id}/{about}")).or_default();
        *count += 1;
        let why = if was_planted { "found what was wrong and put it right" } else { "wiped and read again" };
        if *count <= MOST_AGAIN && (was_planted || kind == GateKind::Stop || *count == 1) {
            return Typed::Again(id.to_owned(), why.to_owned());
        }
        match kind {
            GateKind::Ask => {
                Typed::GoOn(id.to_owned(), "read again with the same result; looked at and sound".to_owned())
            }
            GateKind::Stop => Typed::Stuck(format!("{id}: {says}")),
        }
    }

    /// The workbook doubted what was typed. Returns whether something planted was behind it, which is put right now.
    pub fn doubted(&mut self) -> bool {
        self.caught("a question before it was taken")
    }
}
