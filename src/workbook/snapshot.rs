//! What a face may know of a session at one moment: taken after each effect, drawn until the next.

use crate::checklist::{Ask, AskSpec, Checklist, Consultation, Doubt, EntryValue, Progress, SlotState};
use crate::quantity::{Dimension, Unit};
use crate::session::{Playback, Remade, Session, TrailLine, follow_trail, unit_name};
use crate::workbook::model::Model;

/// One step in the strip.
#[derive(Debug, Clone)]
pub(super) struct StepMark {
    /// Its title.
    pub(super) title: &'static str,
    /// How it stands.
    pub(super) state: SlotState,
    /// Whether it is the one being worked on.
    pub(super) current: bool,
}

/// One entry of the current step.
#[derive(Debug, Clone)]
pub(super) struct ReadingLine {
    /// Its number in the log.
    pub(super) seq: u64,
    /// The ask, without its step.
    pub(super) what: String,
    /// The round, from 1.
    pub(super) round: u32,
    /// The value with its unit.
    pub(super) value: String,
    /// Crossed out.
    pub(super) struck: bool,
    /// Made void by something that happened.
    pub(super) void: bool,
}

/// A moment in the past of a log that is played back.
#[derive(Debug, Clone)]
pub(super) struct PastMoment {
    /// Number of the entry that happened last.
    pub(super) seq: u64,
    /// Number of the log's last entry.
    pub(super) last: u64,
    /// When it happened, as the log has it.
    pub(super) time: String,
    /// What that entry reckoned, beside what comes out now.
    pub(super) remade: Vec<Remade>,
}

/// A session at one moment.
#[derive(Debug, Clone)]
pub(super) struct Snapshot {
    /// The job's title.
    pub(super) title: String,
    /// Initials in force; empty in a review.
    pub(super) by: String,
    /// Pieces to deliver.
    pub(super) batch: u32,
    /// The piece on the machine.
    pub(super) piece: u32,
    /// Title of the current step.
    pub(super) step: &'static str,
    /// The current step's answer; `None` when all steps are closed.
    pub(super) consultation: Option<Consultation>,
    /// All steps of the piece.
    pub(super) steps: Vec<StepMark>,
    /// The entries of the current step.
    pub(super) readings: Vec<ReadingLine>,
    /// The log as lines.
    pub(super) trail: Vec<TrailLine>,
    /// A value in doubt.
    pub(super) doubt: Option<Doubt>,
    /// Whether it is closed for good.
    pub(super) sealed: bool,
    /// Whether it is only looked at.
    pub(super) review: bool,
    /// The moment in the past, when a log is played back.
    pub(super) past: Option<PastMoment>,
    /// Numbers of the calculations that come out otherwise now.
    pub(super) different: Vec<u64>,
    /// Events saved.
    pub(super) saved: u64,
    /// The unit of lengths.
    pub(super) unit: &'static str,
    checklist: Checklist,
}

impl std::fmt::Debug for Checklist {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(formatter, "checklist of {} steps", self.steps.len())
    }
}

impl Snapshot {
    /// Takes a session that is being written; `trail` holds the lines made before.
    pub(super) fn of(session: &Session, trail: Vec<TrailLine>) -> Self {
        let mut snapshot = Self::of_progress(session.progress(), session.log().events(), trail);
        session.by().clone_into(&mut snapshot.by);
        snapshot.doubt = session.doubt().cloned();
        snapshot
    }

    /// Takes a log that is played back, at its cursor.
    pub(super) fn of_playback(playback: &Playback, trail: Vec<TrailLine>) -> Self {
        let mut snapshot = Self::of_progress(playback.progress(), playback.events(), trail);
        let time = |event: &crate::session_log::Event| event.t.get(..16).unwrap_or(&event.t).replace('T', " ");
        snapshot.review = true;
        snapshot.different = playback.different().to_vec();
        snapshot.past = playback.event().map(|event| PastMoment {
            seq: event.n,
            last: playback.events().last().map_or(0, |event| event.n),
            time: time(event),
            remade: playback.remade(),
        });
        snapshot
    }

    fn of_progress(progress: &Progress, events: &[crate::session_log::Event], mut trail: Vec<TrailLine>) -> Self {
        follow_trail(&mut trail, events, progress.entries());
        let answer = progress.consult();
        let current = answer.as_ref().map(|(slot, _)| (slot.step.id(), slot.piece));
        let piece = progress.run().piece;
        Self {
            title: progress.card().title.clone(),
            by: String::new(),
            batch: progress.card().part.batch,
            piece,
            step: answer.as_ref().map_or("all steps closed", |(slot, _)| slot.step.title()),
            steps: marks(progress, piece),
            readings: readings(progress, current),
            consultation: answer.map(|(_, consultation)| consultation),
            trail,
            doubt: None,
            past: None,
            different: Vec::new(),
            sealed: progress.is_sealed(),
            review: false,
            saved: u64::try_from(events.len()).unwrap_or_default(),
            unit: unit_name(progress.unit()),
            checklist: progress.checklist(),
        }
    }

    /// Returns what is asked now.
    pub(super) fn ask(&self) -> Option<&Ask> {
        self.consultation.as_ref()?.next.as_ref()
    }

    /// Says which step of how many is being worked on.
    pub(super) fn step_of(&self) -> String {
        let place = self.steps.iter().position(|step| step.current).map_or(self.steps.len(), |place| place + 1);
        format!("{place} of {}", self.steps.len())
    }

    /// Lists the places of the trail's lines that are shown.
    pub(super) fn found(&self, model: &Model) -> Vec<usize> {
        if model.find.value().is_empty() {
            return (0..self.trail.len()).collect();
        }
        let shown = |line: &TrailLine| model.finds(&format!("{} {} {}", line.seq, line.by, line.text));
        self.trail.iter().enumerate().filter(|(_, line)| shown(line)).map(|(place, _)| place).collect()
    }

    /// Returns the words to choose from.
    pub(super) fn choices(&self) -> Vec<&'static str> {
        match self.ask() {
            Some(ask) if ask.kind == crate::checklist::AskKind::YesNo => vec!["yes", "no"],
            Some(ask) => ask.choices.clone(),
            None => Vec::new(),
        }
    }

    /// Says how a typed text is understood, or what is wrong with it.
    pub(super) fn understood(&self, text: &str) -> Option<Result<String, String>> {
        let ask = self.ask()?;
        let spec: &'static AskSpec = self.checklist.ask(ask.id)?;
        let lengths = Unit::of(Dimension::Length, self.unit)?;
        let unit = Unit::named(ask.unit);
        Some(
            EntryValue::read(spec, text, unit, lengths)
                .map(|value| value.to_string())
                .map_err(|fault| fault.to_string()),
        )
    }
}

fn marks(progress: &Progress, piece: u32) -> Vec<StepMark> {
    let of_this_piece = |own: Option<u32>| own.is_none_or(|own| own == piece);
    let statuses = progress.statuses().into_iter().filter(|status| of_this_piece(status.slot.piece));
    let mut marks: Vec<(usize, StepMark)> = statuses
        .map(|status| {
            let place = progress
                .checklist()
                .steps
                .iter()
                .position(|step| step.id() == status.slot.step.id())
                .unwrap_or_default();
            (place, StepMark { title: status.slot.step.title(), state: status.state, current: status.current })
        })
        .collect();
    marks.sort_by_key(|(place, _)| *place);
    marks.into_iter().map(|(_, mark)| mark).collect()
}

fn readings(progress: &Progress, current: Option<(&'static str, Option<u32>)>) -> Vec<ReadingLine> {
    let belongs = |entry: &&crate::checklist::Entry| current == Some((entry.step, entry.piece));
    progress
        .entries()
        .iter()
        .filter(belongs)
        .map(|entry| ReadingLine {
            seq: entry.seq,
            what: entry.spec.id.split_once('.').map_or(entry.spec.id, |(_, what)| what).to_owned(),
            round: entry.round + 1,
            value: entry.value.to_string(),
            struck: entry.struck.is_some(),
            void: entry.void.is_some(),
        })
        .collect()
}
