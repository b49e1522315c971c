//! The cards of quick tasks: levelling a part and finding a run-out need no job card, only the machine's name and a unit.

use serde_json::{Value, json};

use super::card::{CardUnit, JobCard, Task};
use super::{CardFaults, practice_cards, read};

impl Task {
    /// Returns the word on the card.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Setup => "setup",
            Self::Level => "level",
            Self::RunOut => "run-out",
        }
    }

    const fn title(self) -> &'static str {
        match self {
            Self::Setup => "Setup",
            Self::Level => "Level a part",
            Self::RunOut => "Run-out of a part",
        }
    }
}

/// Makes the card of a quick task on a machine: a word of letters, digits and dashes.
///
/// # Errors
/// Lists the faults of the practice card that lends its machine, which is a fault of the program.
pub fn quick_card(task: Task, unit: CardUnit, machine: &str) -> Result<JobCard, CardFaults> {
    let [(_, metric), (_, imperial)] = practice_cards();
    let (text, unit_word) = if unit == CardUnit::Inch { (imperial, "in") } else { (metric, "mm") };
    let mut card = read(text)?;
    task.word().clone_into(&mut card.id);
    task.title().clone_into(&mut card.title);
    card.task = task;
    card.practice = false;
    card.notes.clear();
    card.features.clear();
    card.tools.clear();
    card.part.batch = 1;
    machine.clone_into(&mut card.machine.id);
    machine.clone_into(&mut card.machine.name);
    card.machine.work_turns = None;
    card.text = json!({"task": task.word(), "title": card.title, "unit": unit_word, "machine": machine}).to_string();
    Ok(card)
}

/// Reads the card of a quick task; `None` when the text is none and is to be read as a job card.
pub(super) fn read_quick(text: &str) -> Option<Result<JobCard, CardFaults>> {
    let members: Value = serde_json::from_str(text).ok()?;
    let word = members.get("task")?.as_str()?;
    let task = [Task::Level, Task::RunOut].into_iter().find(|task| task.word() == word)?;
    let unit = if members.get("unit")?.as_str()? == "in" { CardUnit::Inch } else { CardUnit::Millimetre };
    Some(quick_card(task, unit, members.get("machine")?.as_str()?))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_quick_card_reads_back_from_its_text() {
        for unit in [CardUnit::Millimetre, CardUnit::Inch] {
            let card = quick_card(Task::Level, unit, "mill-7").unwrap();
            assert_eq!(read(&card.text).unwrap(), card);
            assert_eq!((card.task, card.unit, card.machine.id.as_str()), (Task::Level, unit, "mill-7"));
        }
    }
}
