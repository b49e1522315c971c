//! The front page: unfinished sessions first.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::Line;

use crate::workbook::keymap;
use crate::workbook::model::{FrontRow, Model, Opens, Page};
use crate::workbook::view::pages::{choose, told_below};
use crate::workbook::view::wrapping::{cut, paragraph};
use crate::workbook::view::{Scene, line, rows_of, styled, text};

const CAUTION: &str = "This workbook does sums and asks questions. It does not control the machine. The machine manual, your shop rules and local law come first.";

/// What is never left out, for a small window.
const SHORT_CAUTION: &str = "It does not control the machine.";

/// Draws the page.
pub(in crate::workbook::view) fn front(frame: &mut Frame<'_>, area: Rect, scene: &Scene<'_>) {
    let model = scene.model;
    let width = usize::from(area.width);
    line(frame, area, 0, styled(title(model, width), scene.theme.strong()));
    line(frame, area, 1, Line::raw(scene.theme.rule(area.width)));
    let caution = paragraph(" ", if area.height >= 16 { CAUTION } else { SHORT_CAUTION }, width);
    let foot = u16::try_from(caution.len()).unwrap_or(1) + 3;
    let body = rows_of(area, 2, area.height.saturating_sub(2 + foot));
    let empty = rows_of(body, 0, empty_state(frame, body, scene));
    let list = rows_of(body, empty.height, body.height.saturating_sub(empty.height));
    let shown = model.found_rows();
    let room = width.saturating_sub(4);
    choose(frame, list, scene, shown.len(), model.arrow.unwrap_or(0), |place| {
        shown.get(place).map_or_else(String::new, |row| words_of(row, room))
    });
    let top = area.height.saturating_sub(foot);
    told_below(frame, area, top, scene, shown.len());
    line(frame, area, top + 1, Line::raw(scene.theme.rule(area.width)));
    let rows = rows_of(area, top + 2, foot.saturating_sub(3));
    text(frame, rows, caution.into_iter().map(Line::raw).collect());
    line(frame, area, area.height - 1, Line::raw(format!(" {}", keymap::bottom(Page::Front, width.saturating_sub(1)))));
}

fn title(model: &Model, width: usize) -> String {
    let count = model.rows.iter().filter(|row| matches!(row.opens, Opens::Resume(_))).count();
    let right = match (model.unread, count) {
        (0, 0) => String::new(),
        (0, count) => format!("{count} unfinished "),
        (unread, _) => format!("reading {unread} sessions "),
    };
    let room = width.saturating_sub(10 + right.chars().count());
    cut(&format!(" setwright{}{right}", " ".repeat(room)), width)
}

/// Says what to do when nothing is unfinished; returns how many rows that took.
fn empty_state(frame: &mut Frame<'_>, area: Rect, scene: &Scene<'_>) -> u16 {
    let model = scene.model;
    let something = model.unread > 0 || model.rows.iter().any(|row| matches!(row.opens, Opens::Resume(_)));
    if something || !model.find.value().is_empty() || area.height < 8 {
        return 0;
    }
    let words = "No setup is unfinished. Begin with a practice card, or level a part now: no card is needed for that.";
    let rows = paragraph(" ", words, usize::from(area.width));
    let count = u16::try_from(rows.len()).unwrap_or(0);
    text(frame, area, rows.into_iter().map(Line::raw).collect());
    count + 1
}

/// Writes a row for a width: in columns where there is room, else one after the other.
fn words_of(row: &FrontRow, width: usize) -> String {
    let parts =
        |parts: &[&str]| parts.iter().copied().filter(|part| !part.is_empty()).collect::<Vec<&str>>().join(", ");
    if width < 66 {
        return format!("{}: {}", row.verb, parts(&[&row.title, &row.void, &row.when, &row.place]));
    }
    let title = cut(&row.title, 20);
    format!("{:<10} {title:<20} {}", row.verb, parts(&[&row.void, &row.when, &row.place]))
}
