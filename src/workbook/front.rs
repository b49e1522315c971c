//! The rows of the front page: unfinished sessions first, then what can be begun, then what can be reviewed.

use std::path::{Path, PathBuf};

use crate::calc;
use crate::job::{self, CardUnit, Task};
use crate::session::{House, Overview, Standing, ago, card_files};
use crate::session_log::Moment;
use crate::workbook::model::{FrontRow, Opens};

/// The rows that need no session to be read.
pub(super) fn fixed(house: &House) -> Vec<FrontRow> {
    let mut rows = quick();
    rows.extend(card_files(&house.cards).into_iter().map(card));
    rows.extend(
        job::practice_cards()
            .iter()
            .map(|(id, _)| plain("Practise", id.replace('-', " "), "a practice card", Opens::Practice(id))),
    );
    let questions = format!("{} questions", calc::all().count());
    rows.push(plain("Sums", questions, "of the trade, one input at a time", Opens::Sums));
    rows.push(plain("Cards", "job cards", "make one from another, change, check", Opens::Cards));
    rows
}

fn plain(verb: &'static str, title: impl Into<String>, place: &str, opens: Opens) -> FrontRow {
    FrontRow { verb, title: title.into(), place: place.to_owned(), when: String::new(), void: String::new(), opens }
}

/// What is begun without a card.
fn quick() -> Vec<FrontRow> {
    let rows = [
        ("Level now", "a part, in mm", "span, A, rear, front: the move", Task::Level, CardUnit::Millimetre),
        ("Level now", "a part, in inches", "", Task::Level, CardUnit::Inch),
        ("Run-out", "of a part, in mm", "round a turn", Task::RunOut, CardUnit::Millimetre),
        ("Run-out", "of a part, in inches", "", Task::RunOut, CardUnit::Inch),
    ];
    rows.into_iter()
        .map(|(verb, title, place, task, unit)| plain(verb, title, place, Opens::Quick(task, unit)))
        .collect()
}

fn card(path: PathBuf) -> FrontRow {
    plain("Start", file_name(&path), "", Opens::Card(path))
}

/// Returns a file's name without its ending.
pub(super) fn file_name(path: &Path) -> String {
    path.file_stem().unwrap_or_default().to_string_lossy().into_owned()
}

/// Puts a session that was read where it belongs: unfinished ones first, newest first, the others at the end.
/// Returns its place.
pub(super) fn add(rows: &mut Vec<FrontRow>, overview: &Overview, now: &Moment) -> usize {
    let unfinished = rows.iter().take_while(|row| matches!(row.opens, Opens::Resume(_))).count();
    let row = session(overview, now);
    let place = if matches!(row.opens, Opens::Resume(_)) { unfinished } else { rows.len() };
    rows.insert(place, row);
    place
}

fn session(overview: &Overview, now: &Moment) -> FrontRow {
    let when = ago(&overview.last, now);
    let row = |verb, title: &str, place: &str, void: String, opens| FrontRow {
        verb,
        title: title.to_owned(),
        place: place.to_owned(),
        when: when.clone(),
        void,
        opens,
    };
    match &overview.standing {
        Standing::Unfinished(stopped) => {
            let void =
                if stopped.void.is_empty() { String::new() } else { format!("VOID: {}", stopped.void.join(", ")) };
            row(
                "Go on",
                &overview.title,
                &stopped.place.replace(" (level)", ""),
                void,
                Opens::Resume(overview.path.clone()),
            )
        }
        Standing::Sealed => {
            row("Review", &overview.title, "sealed", String::new(), Opens::Review(overview.path.clone()))
        }
        Standing::Unreadable(why) => {
            let why = why.replace(&format!("{}: ", overview.path.display()), "");
            row(
                "Review",
                &overview.name,
                &format!("DAMAGED: {why}"),
                String::new(),
                Opens::Review(overview.path.clone()),
            )
        }
    }
}
