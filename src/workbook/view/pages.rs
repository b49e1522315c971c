//! The pages beside the step page: front, initials, trail, keys, what happened, sums, cards.

mod cards;
mod front;
mod sums;

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::Line;

use crate::checklist::Happening;
use crate::session::TrailLine;
use crate::workbook::keymap::{self, EVERYWHERE};
use crate::workbook::model::Page;
use crate::workbook::snapshot::Snapshot;
use crate::workbook::view::wrapping::{cut, paragraph};
use crate::workbook::view::{Scene, input_line, line, row_of, rows_of, said, styled, text};

pub(super) use cards::{card, cards, put_on};
pub(super) use front::front;
pub(super) use sums::{sum, sums};

/// Draws a page's name and the keys at its bottom; returns what is left between them.
fn framed(frame: &mut Frame<'_>, area: Rect, scene: &Scene<'_>, title: &str) -> Rect {
    let width = usize::from(area.width);
    line(frame, area, 0, styled(cut(&format!(" {title}"), width), scene.theme.strong()));
    line(frame, area, 1, Line::raw(scene.theme.rule(area.width)));
    let keys = keymap::bottom(scene.model.page, width.saturating_sub(1));
    line(frame, area, area.height - 1, Line::raw(format!(" {keys}")));
    rows_of(area, 2, area.height.saturating_sub(3))
}

/// A list with the chosen row in view and the real cursor on it; `row` makes the words of a place.
fn choose(
    frame: &mut Frame<'_>,
    area: Rect,
    scene: &Scene<'_>,
    count: usize,
    at: usize,
    row: impl Fn(usize) -> String,
) {
    let height = usize::from(area.height).max(1);
    let first = (at + 1).saturating_sub(height);
    let width = usize::from(area.width);
    for (line_number, place) in (0_u16..).zip((first..count).take(height)) {
        let chosen = place == at;
        let mark = if chosen { " > " } else { "   " };
        let style = if chosen { scene.theme.chosen() } else { scene.theme.plain() };
        line(frame, area, line_number, styled(cut(&format!("{mark}{}", row(place)), width), style));
        if let Some(row) = row_of(area, line_number).filter(|_| chosen) {
            frame.set_cursor_position((row.x, row.y));
        }
    }
}

/// The row below a list: what it is narrowed by, or what was said last.
fn told_below(frame: &mut Frame<'_>, area: Rect, row: u16, scene: &Scene<'_>, shown: usize) {
    let find = scene.model.find.value();
    let warned = scene.model.said.as_ref().is_some_and(|(_, bad)| *bad);
    if find.is_empty() || warned {
        said(frame, area, row, scene);
    } else {
        line(frame, area, row, styled(format!(" found {shown} with: {find}"), scene.theme.strong()));
    }
}

/// Who is at the machine?
pub(super) fn who(frame: &mut Frame<'_>, area: Rect, scene: &Scene<'_>) {
    let body = framed(frame, area, scene, "setwright");
    let words = paragraph(" ", "Who is at the machine? Every entry carries these initials.", usize::from(area.width));
    let count = u16::try_from(words.len()).unwrap_or(0);
    text(frame, body, words.into_iter().map(Line::raw).collect());
    input_line(frame, body, count + 1, " initials > ", &scene.model.input);
    said(frame, body, count + 3, scene);
}

/// The cautions of the step in full, and the keys of the page one came from, from the one table.
pub(super) fn help(frame: &mut Frame<'_>, area: Rect, scene: &Scene<'_>) {
    let width = usize::from(area.width);
    let mut lines: Vec<Line<'static>> = Vec::new();
    let answer = scene.snapshot.and_then(|snapshot| snapshot.consultation.as_ref());
    let of_step = matches!(scene.model.back, Page::Step | Page::Big | Page::Then);
    for caution in answer.filter(|_| of_step).iter().flat_map(|answer| &answer.cautions) {
        lines.extend(paragraph(" ! ", caution, width).into_iter().map(|row| styled(row, scene.theme.careful())));
    }
    if let Some(trap) = answer.filter(|_| of_step).and_then(|answer| answer.trap) {
        lines.extend(paragraph(" goes wrong: ", trap, width).into_iter().map(Line::raw));
    }
    let keys = keymap::of(scene.model.back).map(|binding| (binding.key, binding.long));
    for (key, words) in keys.chain(EVERYWHERE) {
        lines.extend(paragraph(&format!(" {key:<11}"), words, width).into_iter().map(Line::raw));
    }
    line(frame, area, 0, styled(" keys of this page", scene.theme.strong()));
    let room = usize::from(area.height.saturating_sub(2));
    let most = lines.len().saturating_sub(room);
    let from = scene.model.arrow.unwrap_or(0).min(most);
    let more = if from < most { "Up Down more  " } else { "" };
    text(frame, rows_of(area, 1, area.height.saturating_sub(2)), lines.into_iter().skip(from).collect());
    line(frame, area, area.height - 1, Line::raw(format!(" {more}Esc back")));
}

/// What happened?
pub(super) fn happened(frame: &mut Frame<'_>, area: Rect, scene: &Scene<'_>) {
    let body = framed(frame, area, scene, "What happened? It decides what is void.");
    let at = scene.model.arrow.unwrap_or(usize::MAX);
    let words = Happening::ALL.get(at).map(|happening| paragraph(" ", happening.voids(), usize::from(area.width)));
    let told = u16::try_from(words.as_ref().map_or(0, Vec::len)).unwrap_or(0).min(3) + 1;
    let list = rows_of(body, 0, body.height.saturating_sub(told));
    choose(frame, list, scene, Happening::ALL.len(), at.min(Happening::ALL.len()), |place| {
        Happening::ALL.get(place).map_or_else(String::new, |happening| happening.word().to_owned())
    });
    let below = rows_of(body, body.height.saturating_sub(told), told);
    let lines = words.into_iter().flatten().map(|row| styled(row, scene.theme.careful())).collect();
    text(frame, below, lines);
    said(frame, body, body.height.saturating_sub(1), scene);
}

/// The whole log; in a review the arrow is the cursor through time.
pub(super) fn trail(frame: &mut Frame<'_>, area: Rect, scene: &Scene<'_>, snapshot: &Snapshot) {
    let model = scene.model;
    let title = if snapshot.review { "review" } else { "trail" };
    let differ = match snapshot.different.len() {
        0 if snapshot.review => ", reckoned again: all as logged".to_owned(),
        0 => String::new(),
        count => format!(", {count} CALCULATIONS DIFFER"),
    };
    let heading = format!("{title}: {}, {} entries{differ}", snapshot.title, snapshot.trail.len());
    let body = framed(frame, area, scene, &heading);
    let shown = snapshot.found(model);
    let at = model.arrow.unwrap_or_else(|| shown.len().saturating_sub(1));
    let told = u16::try_from(model.changes.len()).unwrap_or(0).min(body.height / 3) + 1;
    let list = rows_of(body, 0, body.height.saturating_sub(told));
    choose(frame, list, scene, shown.len(), at, |place| {
        let found = shown.get(place).and_then(|index| snapshot.trail.get(*index));
        found.map_or_else(String::new, |one| trail_row(one, snapshot.different.contains(&one.seq)))
    });
    let below = rows_of(body, body.height.saturating_sub(told), told.saturating_sub(1));
    let width = usize::from(area.width);
    let lines = model.changes.iter().map(|words| Line::raw(cut(&format!(" {words}"), width))).collect();
    text(frame, below, lines);
    let last = body.height.saturating_sub(1);
    told_below(frame, body, last, scene, shown.len());
}

fn trail_row(one: &TrailLine, differs: bool) -> String {
    let time = one.time.get(11..16).unwrap_or_default();
    let fate = match (&one.struck, one.void) {
        (Some(why), _) => format!(" -crossed out: {why}-"),
        (None, true) => " -void-".to_owned(),
        (None, false) => String::new(),
    };
    let differs = if differs { " DIFFERS" } else { "" };
    format!("{:>4} {time} {:<4}{}{fate}{differs}", one.seq, one.by, one.text)
}
