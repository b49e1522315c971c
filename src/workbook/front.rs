//! The rows of the front page.

use std::path::Path;

use crate::job::{self, CardUnit, Task};
use crate::session::{House, Overview, Standing, ago, card_files, overviews};
use crate::session_log::Moment;
use crate::workbook::model::{FrontRow, Opens};

/// Reads the rows: unfinished sessions first, then cards, practice, and what can be reviewed.
pub(super) fn rows(house: &House) -> Vec<FrontRow> {
    let all = overviews(&house.sessions).unwrap_or_default();
    let now = house.surroundings().clock.now();
    let mut rows: Vec<FrontRow> = all.iter().filter_map(|overview| unfinished(overview, &now)).collect();
    rows.extend(quick());
    rows.extend(cards(&house.cards));
    rows.extend(job::practice_cards().iter().map(|(id, _)| FrontRow {
        words: format!("Practise     {}", id.replace('-', " ")),
        opens: Opens::Practice(id),
    }));
    rows.extend(all.iter().filter_map(|overview| reviewable(overview, &now)));
    rows
}

/// What is begun without a card.
fn quick() -> impl Iterator<Item = FrontRow> {
    let rows = [
        ("Level        a part now, in mm: span, A, rear, front, and the move", Task::Level, CardUnit::Millimetre),
        ("Level        a part now, in inches", Task::Level, CardUnit::Inch),
        ("Run-out      of a part, in mm: round a turn", Task::RunOut, CardUnit::Millimetre),
        ("Run-out      of a part, in inches", Task::RunOut, CardUnit::Inch),
    ];
    rows.into_iter().map(|(words, task, unit)| FrontRow { words: words.to_owned(), opens: Opens::Quick(task, unit) })
}

fn unfinished(overview: &Overview, now: &Moment) -> Option<FrontRow> {
    let Standing::Unfinished(stopped) = &overview.standing else { return None };
    let void = if stopped.void.is_empty() { String::new() } else { format!("; VOID: {}", stopped.void.join(", ")) };
    let when = ago(&overview.last, now);
    let words = format!("Go on        {}: {}, stopped {when}{void}", overview.title, stopped.place);
    Some(FrontRow { words, opens: Opens::Resume(overview.path.clone()) })
}

fn reviewable(overview: &Overview, now: &Moment) -> Option<FrontRow> {
    let state = match &overview.standing {
        Standing::Unfinished(_) => return None,
        Standing::Sealed => "sealed".to_owned(),
        Standing::Unreadable(why) => format!("damaged: {why}"),
    };
    let words = format!("Review       {}: {state}, {}", overview.title, ago(&overview.last, now));
    Some(FrontRow { words, opens: Opens::Review(overview.path.clone()) })
}

fn cards(folder: &Path) -> Vec<FrontRow> {
    let row = |path: std::path::PathBuf| FrontRow {
        words: format!("Start        {}", path.file_stem().unwrap_or_default().to_string_lossy()),
        opens: Opens::Card(path),
    };
    card_files(folder).into_iter().map(row).collect()
}
