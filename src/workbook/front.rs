//! The rows of the front page.

use std::path::Path;

use crate::job::{self, CardUnit, Task};
use crate::session::{House, Overview, Standing, overviews};
use crate::workbook::model::{FrontRow, Opens};

/// Reads the rows: unfinished sessions first, then cards, practice, and what can be reviewed.
pub(super) fn rows(house: &House) -> Vec<FrontRow> {
    let all = overviews(&house.sessions).unwrap_or_default();
    let mut rows: Vec<FrontRow> = all.iter().filter_map(unfinished).collect();
    rows.extend(quick());
    rows.extend(cards(&house.cards));
    rows.extend(job::practice_cards().iter().map(|(id, _)| FrontRow {
        words: format!("Practise     {}", id.replace('-', " ")),
        opens: Opens::Practice(id),
    }));
    rows.extend(all.iter().filter_map(reviewable));
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

fn unfinished(overview: &Overview) -> Option<FrontRow> {
    let Standing::Unfinished(place) = &overview.standing else { return None };
    let words = format!("Go on        {}: {place}, last {}", overview.title, moment(&overview.last));
    Some(FrontRow { words, opens: Opens::Resume(overview.path.clone()) })
}

fn reviewable(overview: &Overview) -> Option<FrontRow> {
    let state = match &overview.standing {
        Standing::Unfinished(_) => return None,
        Standing::Sealed => "sealed".to_owned(),
        Standing::Unreadable(why) => format!("damaged: {why}"),
    };
    let words = format!("Review       {}: {state}, last {}", overview.title, moment(&overview.last));
    Some(FrontRow { words, opens: Opens::Review(overview.path.clone()) })
}

/// Shows a time stamp to the minute.
fn moment(stamp: &str) -> String {
    stamp.get(..16).unwrap_or(stamp).replace('T', " ")
}

fn cards(folder: &Path) -> Vec<FrontRow> {
    let entries = std::fs::read_dir(folder)
        .map(|entries| entries.filter_map(Result::ok).map(|entry| entry.path()).collect::<Vec<_>>());
    let mut paths: Vec<_> = entries
        .unwrap_or_default()
        .into_iter()
        .filter(|path| path.extension().is_some_and(|ending| ending == "json"))
        .collect();
    paths.sort();
    paths
        .into_iter()
        .map(|path| FrontRow {
            words: format!("Start        {}", path.file_stem().unwrap_or_default().to_string_lossy()),
            opens: Opens::Card(path),
        })
        .collect()
}
