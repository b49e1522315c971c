//! Where sessions, cards and what is learned of machines live, and what a log takes from outside.

use std::path::{Path, PathBuf};

use crate::session_log::{FixedClock, FixedIds, Surroundings};

/// The folders of this program, and for tests a fixed clock and fixed ids.
#[derive(Clone)]
pub struct House {
    /// Logs.
    pub sessions: PathBuf,
    /// Job cards of the shop.
    pub cards: PathBuf,
    /// What is learned of each machine.
    pub machines: PathBuf,
    /// Where a session is copied when its own file can no longer be trusted.
    pub fallback: PathBuf,
    /// Whether every event is synced twice.
    pub sync_twice: bool,
    /// A fixed clock, for sample logs and tests only.
    pub test_clock: Option<FixedClock>,
    /// The seed of fixed ids, for sample logs and tests only.
    pub test_ids: Option<String>,
}

impl House {
    /// Puts all folders under one.
    pub fn under(home: &Path) -> Self {
        Self {
            sessions: home.join("sessions"),
            cards: home.join("cards"),
            machines: home.join("machines"),
            fallback: home.join("fallback"),
            sync_twice: false,
            test_clock: None,
            test_ids: None,
        }
    }

    /// Returns the same folders with rehearsals kept apart: their logs are no sessions, and nothing is learned from them.
    #[must_use]
    pub fn for_rehearsals(&self) -> Self {
        let apart = self.sessions.with_file_name("rehearsals");
        Self { machines: apart.join("machines"), sessions: apart, ..self.clone() }
    }

    /// Returns what a log takes from outside.
    pub fn surroundings(&self) -> Surroundings {
        let mut around = Surroundings::real(self.fallback.clone());
        around.sync_twice = self.sync_twice;
        around.machines = Some(self.machines.clone());
        if let Some(clock) = &self.test_clock {
            around.clock = Box::new(clock.clone());
        }
        if let Some(seed) = &self.test_ids {
            around.ids = Box::new(FixedIds::new(seed));
        }
        around
    }
}
