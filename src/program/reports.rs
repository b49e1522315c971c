//! The troubles found, counted by kind, and the first ones of each kind kept: a program of any length needs little memory.

use std::collections::BTreeMap;

use crate::program::trouble::{Severity, Trouble};

/// How many reports of one kind are kept; the others are counted.
pub const KEPT_OF_A_KIND: u64 = 20;
/// How many different words that are not understood are kept by name.
const MOST_NAMES: usize = 64;

/// Where in the program something stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct At {
    /// Line in the file, from 1; 0 for the program as a whole.
    pub line: u64,
    /// The N number.
    pub number: Option<u32>,
}

/// One trouble with its place.
#[derive(Debug, Clone, PartialEq)]
pub struct Report {
    /// Where it stands.
    pub at: At,
    /// What is wrong.
    pub trouble: Trouble,
    /// How often it was met in all, where it is counted by name; otherwise 1.
    pub times: u64,
}

/// All troubles of a program.
#[derive(Debug, Clone, Default)]
pub struct Reports {
    kept: Vec<Report>,
    counts: BTreeMap<&'static str, u64>,
    names: BTreeMap<String, usize>,
    worst: Option<Severity>,
}

impl Reports {
    /// Takes a trouble in.
    pub fn add(&mut self, at: At, trouble: Trouble) {
        self.worst = self.worst.max(Some(trouble.severity()));
        let count = self.counts.entry(trouble.id()).or_default();
        *count += 1;
        match &trouble {
            Trouble::NotUnderstood(name) | Trouble::MachineFunction(name) => {
                if let Some(place) = self.names.get(name) {
                    if let Some(known) = self.kept.get_mut(*place) {
                        known.times += 1;
                    }
                    return;
                }
                if self.names.len() >= MOST_NAMES {
                    return;
                }
                self.names.insert(name.clone(), self.kept.len());
            }
            _ if *count > KEPT_OF_A_KIND => return,
            _ => {}
        }
        self.kept.push(Report { at, trouble, times: 1 });
    }

    /// Lists what is kept, in the order found.
    pub fn kept(&self) -> &[Report] {
        &self.kept
    }

    /// Returns how often each kind was met.
    pub fn counts(&self) -> &BTreeMap<&'static str, u64> {
        &self.counts
    }

    /// Returns the worst of all; `None` when nothing was found.
    pub const fn worst(&self) -> Option<Severity> {
        self.worst
    }

    /// Returns whether a kind was met.
    pub fn has(&self, id: &str) -> bool {
        self.counts.contains_key(id)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_flood_is_counted_and_not_kept() {
        let mut reports = Reports::default();
        for line in 0..100_000 {
            reports.add(At { line, number: None }, Trouble::SpindleOff);
            reports.add(At { line, number: None }, Trouble::NotUnderstood(format!("G{}", line % 100)));
        }
        assert_eq!(reports.kept().len(), 20 + MOST_NAMES);
        assert_eq!(reports.counts()["spindle-off"], 100_000);
        assert_eq!(reports.counts()["not-understood"], 100_000);
        assert_eq!(
            reports.kept().iter().find(|report| report.trouble.id() == "not-understood").map(|report| report.times),
            Some(1000)
        );
        assert_eq!(reports.worst(), Some(Severity::Stop));
    }
}
