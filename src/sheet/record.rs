//! Everything that a session's log says, gathered once for all forms.

use std::collections::HashMap;

use serde_json::{Map, Value};

use crate::checklist::{Consultation, Entry, Finding, SlotStatus};
use crate::job::{CardUnit, JobCard};
use crate::quantity::{Unit, print};
use crate::session::{Review, session_name};
use crate::session_log::{self, Class};
use crate::sheet::document::Alarm;

/// A step of the session, with what it says now.
pub(super) struct StepRecord {
    pub(super) status: SlotStatus,
    pub(super) answer: Consultation,
}

/// A calculation as it stands in the log.
pub(super) struct LoggedReckoning<'a> {
    pub(super) seq: u64,
    pub(super) step: &'a str,
    pub(super) piece: Option<u64>,
    pub(super) role: &'a str,
    pub(super) calculation: &'a str,
    pub(super) inputs: &'a Map<String, Value>,
    pub(super) outputs: &'a Map<String, Value>,
}

/// A session, gathered.
pub(super) struct Record<'a> {
    pub(super) review: &'a Review,
    pub(super) steps: Vec<StepRecord>,
    pub(super) reckonings: Vec<LoggedReckoning<'a>>,
    times: HashMap<u64, &'a str>,
}

impl<'a> Record<'a> {
    /// Gathers a session that was read from its log.
    pub(super) fn of(review: &'a Review) -> Self {
        let statuses = review.progress.statuses();
        let ask = |status: SlotStatus| StepRecord { status, answer: review.progress.consult_slot(status.slot) };
        Self {
            review,
            steps: statuses.into_iter().map(ask).collect(),
            reckonings: review.events.iter().filter_map(logged).collect(),
            times: review.events.iter().map(|event| (event.n, event.t.as_str())).collect(),
        }
    }

    pub(super) fn card(&self) -> &JobCard {
        self.review.progress.card()
    }

    pub(super) fn name(&self) -> String {
        session_name(&self.review.path)
    }

    /// When an event was recorded, as the log has it.
    pub(super) fn time(&self, seq: u64) -> &'a str {
        self.times.get(&seq).copied().unwrap_or_default()
    }

    pub(super) fn entries(&self) -> &[Entry] {
        self.review.progress.entries()
    }

    /// Writes a time for a person: without the day and the offset where they are those of the first event.
    pub(super) fn moment(&self, time: &str) -> String {
        let words = moment(time);
        let first = self.review.events.first().map(|event| moment(&event.t)).unwrap_or_default();
        let (Some((day, rest)), Some((first_day, first_rest))) = (words.split_once(' '), first.split_once(' ')) else {
            return words;
        };
        let (Some((clock, offset)), Some((_, first_offset))) = (rest.split_once(' '), first_rest.split_once(' '))
        else {
            return words;
        };
        if day == first_day && offset == first_offset { clock.to_owned() } else { words }
    }

    /// The events of one kind.
    pub(super) fn events(&self, kind: &str) -> impl Iterator<Item = &'a session_log::Event> {
        self.review.events.iter().filter(move |event| event.kind.name() == kind)
    }

    /// What a step found, for a piece where it is done for each.
    pub(super) fn step(&self, id: &str, piece: Option<u32>) -> Option<&StepRecord> {
        self.steps.iter().find(|record| record.status.slot.step.id() == id && record.status.slot.piece == piece)
    }

    /// The findings of every step for the setup and of the steps for one piece.
    pub(super) fn findings_for(&self, piece: u32) -> impl Iterator<Item = &Finding> {
        let wanted = move |record: &&StepRecord| record.status.slot.piece.is_none_or(|own| own == piece);
        self.steps.iter().filter(wanted).flat_map(|record| &record.answer.findings)
    }

    /// The number of the log's line that holds the calculation behind a finding.
    pub(super) fn line_of(&self, record: &StepRecord, role: &str) -> Option<u64> {
        let slot = record.status.slot;
        let same = |logged: &&LoggedReckoning<'_>| {
            logged.step == slot.step.id() && logged.piece == slot.piece.map(u64::from) && logged.role == role
        };
        self.reckonings.iter().rev().find(same).map(|logged| logged.seq)
    }

    /// The bores of a feature from piece to piece, in millimetres.
    pub(super) fn bores(&self, feature: &str) -> Vec<(u32, f64)> {
        let handed = self.review.progress.handed();
        let size = |piece: u32| {
            let found = handed.number_about(Some(piece), "check.bore", feature);
            found.or_else(|| handed.number_of(Some(piece), "check.bore"))
        };
        (1..=self.review.progress.run().piece).filter_map(|piece| Some((piece, size(piece)?))).collect()
    }

    /// What must be said before anything else: that the log is damaged, or not closed.
    pub(super) fn alarms(&self) -> Vec<Alarm> {
        let check = &self.review.check;
        let mut alarms = Vec::new();
        if !matches!(check.class, Class::Clean | Class::Unterminated) {
            let problem = check.problem.as_ref();
            let place =
                problem.map(|problem| format!(" at line {}: {}", problem.line, problem.what)).unwrap_or_default();
            let says = format!(
                "Damaged{place}. Only what stands before the damage is shown here; nothing after it can be trusted."
            );
            alarms.push(Alarm { mark: "DAMAGED LOG", says });
        }
        if !check.sealed {
            alarms.push(Alarm {
                mark: "NOT SEALED",
                says: "This session is not finished. Lines cut off at its end could not be noticed.".to_owned(),
            });
        }
        if self.card().practice {
            alarms.push(practice());
        }
        alarms
    }

    /// Writes a length given in millimetres in the card's unit, at a tenth of the machine's least increment.
    pub(super) fn length(&self, mm: f64) -> String {
        let unit = self.length_unit();
        let step = unit.from_base(self.card().machine.least_length.mm()) / 10.0;
        // The tenth of an inch display is no short decimal in every case: five places of an inch, four of a millimetre.
        let resolution = if step > 0.0 { 10_f64.powf(step.log10().floor()) } else { 0.0 };
        print::at_resolution(unit.from_base(mm), resolution, unit)
    }

    /// Writes an angle at the machine's least increment.
    pub(super) fn angle(&self, degrees: f64) -> String {
        let unit = crate::quantity::Dimension::Angle.base_unit();
        print::at_resolution(degrees, self.card().machine.least_angle_deg, unit)
    }

    /// The card's unit of length.
    pub(super) fn length_unit(&self) -> &'static Unit {
        let name = match self.card().unit {
            CardUnit::Millimetre => "mm",
            CardUnit::Inch => "in",
        };
        Unit::named(name).unwrap_or_else(|| crate::quantity::Dimension::Length.base_unit())
    }
}

/// Says that nothing of it is real.
pub(super) fn practice() -> Alarm {
    Alarm { mark: "PRACTICE", says: "Part, machine and readings are invented.".to_owned() }
}

fn logged(event: &session_log::Event) -> Option<LoggedReckoning<'_>> {
    if event.kind.name() != "reckoning.add" {
        return None;
    }
    let text = |key: &str| event.data.get(key).and_then(Value::as_str);
    Some(LoggedReckoning {
        seq: event.n,
        step: text("step")?,
        piece: event.data.get("piece").and_then(Value::as_u64),
        role: text("role")?,
        calculation: text("id")?,
        inputs: event.data.get("inputs")?.as_object()?,
        outputs: event.data.get("outputs")?.as_object()?,
    })
}

/// Names a finding with what it is about.
pub(super) fn named(finding: &Finding) -> String {
    let about = if finding.about.is_empty() { String::new() } else { format!(" ({})", finding.about) };
    format!("{}{about}", finding.label)
}

/// Writes a finding as a person reads it: with its standard uncertainty where one is known.
pub(super) fn shown(finding: &Finding) -> String {
    match finding.uncertainty {
        Some(uncertainty) if uncertainty > 0.0 => {
            print::with_uncertainty(finding.shown.value, uncertainty, finding.shown.unit)
        }
        _ => finding.shown.to_string(),
    }
}

/// Writes a time of the log for a person: to the second, with the offset of its clock.
pub(super) fn moment(time: &str) -> String {
    let plain = time.replacen('T', " ", 1);
    match plain.split_once('.') {
        Some((seconds, rest)) => {
            let offset = rest.trim_start_matches(|letter: char| letter.is_ascii_digit());
            format!("{seconds} {offset}")
        }
        None => plain,
    }
}

/// Writes a step with its piece.
pub(super) fn place(title: &str, piece: Option<u32>) -> String {
    piece.map_or_else(|| title.to_owned(), |piece| format!("{title}, piece {piece}"))
}
