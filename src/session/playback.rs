//! A log played back: the state at any point of it, found quickly in both directions.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use crate::checklist::{Consultation, Progress, Reckoning, Slot};
use crate::session::audit::{is_of_this_target, remade};
use crate::session::{Remade, Review, SessionError, apply, begin};
use crate::session_log::{Check, Event};

/// So many events apart lie the states that are kept to go back to.
const MARK_EVERY: usize = 200;

/// A log with a cursor through time: so many of its events have happened.
pub struct Playback {
    path: PathBuf,
    check: Check,
    events: Vec<Event>,
    marks: BTreeMap<usize, Progress>,
    at: usize,
    progress: Progress,
    same_target: bool,
    different: Vec<u64>,
}

impl Playback {
    /// Begins at the end of a log that has been read.
    pub fn of(review: Review) -> Self {
        let same_target = review.events.first().is_some_and(is_of_this_target);
        let differs = |event: &&Event| remade(event, same_target).iter().any(|output| !output.same);
        let different = review.events.iter().filter(differs).map(|event| event.n).collect();
        Self {
            path: review.path,
            check: review.check,
            at: review.events.len(),
            events: review.events,
            marks: BTreeMap::new(),
            progress: review.progress,
            same_target,
            different,
        }
    }

    /// Returns the file of the log.
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Returns what the chain says.
    pub fn check(&self) -> &Check {
        &self.check
    }

    /// Returns every event of the log.
    pub fn events(&self) -> &[Event] {
        &self.events
    }

    /// Returns how many events have happened at the cursor.
    pub fn at(&self) -> usize {
        self.at
    }

    /// Returns the state at the cursor.
    pub fn progress(&self) -> &Progress {
        &self.progress
    }

    /// Returns the event that happened last at the cursor.
    pub fn event(&self) -> Option<&Event> {
        self.events.get(self.at.checked_sub(1)?)
    }

    /// Lists the numbers of the calculations that come out otherwise now.
    pub fn different(&self) -> &[u64] {
        &self.different
    }

    /// Makes the calculation at the cursor again; empty when the event there is none.
    pub fn remade(&self) -> Vec<Remade> {
        self.event().map(|event| remade(event, self.same_target)).unwrap_or_default()
    }

    /// Moves the cursor to after so many events; the first one, which holds the card, always stays.
    ///
    /// # Errors
    /// An event that cannot be understood; the cursor then stays where it was.
    pub fn go_to(&mut self, at: usize) -> Result<(), SessionError> {
        let at = at.clamp(1, self.events.len().max(1));
        let (mut from, mut progress) = self.start_for(at)?;
        while from < at {
            let Some(event) = self.events.get(from) else { break };
            let checklist = progress.checklist();
            apply(&mut progress, checklist, event)?;
            from += 1;
            if from % MARK_EVERY == 0 {
                self.marks.entry(from).or_insert_with(|| progress.clone());
            }
        }
        self.progress = progress;
        self.at = from;
        Ok(())
    }

    /// Finds the nearest state at or before a point.
    fn start_for(&self, at: usize) -> Result<(usize, Progress), SessionError> {
        let mark = self.marks.range(..=at).next_back();
        let marked = mark.map_or(0, |(count, _)| *count);
        match mark {
            _ if self.at <= at && self.at >= marked => Ok((self.at, self.progress.clone())),
            Some((count, progress)) => Ok((*count, progress.clone())),
            None => Ok((0, begin(&self.path, &self.events)?)),
        }
    }

    /// Lists the calculations of a step that come out otherwise than the log has them at the cursor.
    pub fn disagreeing<'a>(&self, slot: Slot, answer: &'a Consultation) -> Vec<&'a Reckoning> {
        let logged = |reckoning: &Reckoning| self.progress.logged(slot, &reckoning.role);
        let differs = |reckoning: &&Reckoning| {
            logged(reckoning)
                .is_some_and(|before| before.inputs == reckoning.inputs && before.outputs != reckoning.outputs)
        };
        answer.reckonings.iter().filter(differs).collect()
    }
}
