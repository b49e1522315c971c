//! The tries as they stand in the log, gathered in one look over the entries.

use serde_json::{Value, json};

use crate::checklist::{Entry, GateCheck, GateKind, Worksheet};
use crate::steps::levelling::Setting;

/// The entries of one try.
#[derive(Debug, Clone, Default)]
pub(super) struct Entries<'a> {
    pub(super) machine_a: Option<&'a Entry>,
    pub(super) approach: Option<&'a Entry>,
    pub(super) rear: Vec<&'a Entry>,
    pub(super) front: Vec<&'a Entry>,
}

impl Entries<'_> {
    /// Returns whether the fit can use it.
    fn is_usable(&self) -> bool {
        self.machine_a.is_some() && !self.rear.is_empty() && !self.front.is_empty()
    }

    /// Lists the numbers of its entries.
    pub(super) fn all(&self) -> Vec<u64> {
        self.rear.iter().chain(&self.front).chain(&self.machine_a).map(|entry| entry.seq).collect()
    }

    fn is_empty(&self) -> bool {
        self.machine_a.is_none() && self.approach.is_none() && self.rear.is_empty() && self.front.is_empty()
    }
}

/// All tries; the place in the list is the round.
pub(super) struct Tries<'a> {
    rounds: Vec<Entries<'a>>,
}

impl<'a> Tries<'a> {
    /// Gathers the standing entries by round.
    pub(super) fn gather(sheet: &Worksheet<'a>, setting: &Setting) -> Self {
        let asks = setting.asks;
        let mut rounds: Vec<Entries<'a>> = vec![Entries::default()];
        for entry in sheet.at().entries.iter().copied() {
            let spec = entry.spec;
            let is_of_try =
                [asks.machine_a, asks.approach, asks.rear, asks.front].into_iter().any(|ask| std::ptr::eq(ask, spec));
            let round = usize::try_from(entry.round).unwrap_or(usize::MAX);
            if !is_of_try || entry.round > super::MOST_TRIES {
                continue;
            }
            if rounds.len() <= round {
                rounds.resize(round + 1, Entries::default());
            }
            let Some(place) = rounds.get_mut(round) else { continue };
            if std::ptr::eq(spec, asks.rear) {
                place.rear.push(entry);
            } else if std::ptr::eq(spec, asks.front) {
                place.front.push(entry);
            } else if std::ptr::eq(spec, asks.machine_a) {
                place.machine_a = Some(entry);
            } else {
                place.approach = Some(entry);
            }
        }
        Self { rounds }
    }

    /// Returns the newest round that has entries, or the first.
    pub(super) fn newest(&self) -> u32 {
        let last = self.rounds.iter().rposition(|round| !round.is_empty()).unwrap_or(0);
        u32::try_from(last).unwrap_or(0)
    }

    /// Returns the entries of a round.
    pub(super) fn of(&self, round: u32) -> Entries<'a> {
        usize::try_from(round).ok().and_then(|place| self.rounds.get(place)).cloned().unwrap_or_default()
    }

    /// Returns whether a round has all that a try needs, as many rear readings as front ones.
    pub(super) fn is_read(&self, round: u32, setting: &Setting) -> bool {
        let entries = self.of(round);
        let wanted = usize::try_from(wanted(setting, round)).unwrap_or(1);
        let approached = entries.approach.is_some() || (round == 0 && !setting.approach_first);
        entries.is_usable()
            && approached
            && entries.rear.len() >= wanted
            && entries.front.len() >= wanted
            && entries.rear.len() == entries.front.len()
    }

    /// Returns the tries before a round, when the fit can use one of them.
    pub(super) fn before(&self, round: u32) -> Option<Self> {
        let rounds: Vec<_> = self.rounds.iter().take(usize::try_from(round).unwrap_or(0)).cloned().collect();
        rounds.last().is_some_and(Entries::is_usable).then_some(Self { rounds })
    }

    /// Returns the rounds that the fit uses: what can be used and came from the same side as the newest.
    pub(super) fn usable(&self) -> Vec<&Entries<'a>> {
        let side = self.rounds.last().and_then(|newest| newest.approach).map(Entry::word);
        let same =
            |round: &&Entries<'_>| round.approach.is_none_or(|entry| side.is_none_or(|side| side == entry.word()));
        self.rounds.iter().filter(|round| round.is_usable()).filter(same).collect()
    }

    /// Returns the round of the first try that the fit uses.
    pub(super) fn first_usable(&self) -> Option<u32> {
        let first = *self.usable().first()?;
        let place = self.rounds.iter().position(|round| std::ptr::eq(round, first))?;
        u32::try_from(place).ok()
    }

    /// Returns the tries as the fit takes them.
    pub(super) fn for_fit(&self) -> Value {
        let numbers = |entries: &[&Entry]| entries.iter().map(|entry| entry.number()).collect::<Vec<f64>>();
        let one = |round: &&Entries<'_>| {
            json!({
                "machine_angle": round.machine_a.map_or(0.0, Entry::number),
                "rear_readings": numbers(&round.rear), "front_readings": numbers(&round.front),
            })
        };
        self.usable().iter().map(one).collect()
    }

    /// Holds every try against the side from which the first one came.
    pub(super) fn came_from_one_side(&self, sheet: &mut Worksheet<'_>, setting: &Setting) -> Option<()> {
        let Some(first) = self.rounds.iter().find_map(|round| round.approach) else { return Some(()) };
        for (round, entries) in self.rounds.iter().enumerate() {
            let Some(approach) = entries.approach else { continue };
            if approach.word() != first.word() {
                other_side(sheet, setting, round, (approach, first))?;
            }
        }
        Some(())
    }
}

/// Returns how many readings of each place a try begins with.
pub(super) fn wanted(setting: &Setting, round: u32) -> u32 {
    if round == 0 { setting.readings.0 } else { setting.readings.1 }
}

fn other_side(
    sheet: &mut Worksheet<'_>,
    setting: &Setting,
    round: usize,
    (approach, first): (&Entry, &Entry),
) -> Option<()> {
    sheet.gate(GateCheck {
        id: setting.names.one_way,
        about: round.to_string(),
        kind: GateKind::Ask,
        pass: false,
        measured: None,
        limit: None,
        says: (
            String::new(),
            format!(
                "A came {} now and {} before: the play of the rotary is in this try. Go past, come back from the same side, and read again.",
                approach.word(),
                first.word()
            ),
        ),
        rests_on: vec![approach.seq],
    })
}
