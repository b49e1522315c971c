//! Drawing: pure functions of the model and the snapshot.

mod digits;
mod grid;
mod pages;
mod picture;
mod plot;
mod step;
mod wrapping;

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::style::Style;
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;

use crate::workbook::model::{Model, Page, Panel, ReasonFor};
use crate::workbook::snapshot::Snapshot;
use crate::workbook::theme::Theme;
use wrapping::{cut, paragraph};

/// The smallest window that shows a page.
const LEAST: (u16, u16) = (40, 10);

/// Everything that drawing a page needs.
pub(super) struct Scene<'a> {
    /// What the screen remembers.
    pub(super) model: &'a Model,
    /// The session.
    pub(super) snapshot: Option<&'a Snapshot>,
    /// How things look.
    pub(super) theme: Theme,
}

/// Draws the whole screen.
pub(super) fn draw(frame: &mut Frame<'_>, model: &Model, snapshot: Option<&Snapshot>, theme: Theme) {
    let area = frame.area();
    let scene = Scene { model, snapshot, theme };
    if area.width < LEAST.0 || area.height < LEAST.1 {
        let words = format!("window {}x{}, {}x{} needed", area.width, area.height, LEAST.0, LEAST.1);
        return text(frame, area, vec![Line::raw(words)]);
    }
    // The real cursor stands somewhere on every page: a screen reader follows it.
    frame.set_cursor_position((area.x, area.y));
    match (model.page, snapshot) {
        (Page::Who, _) => pages::who(frame, area, &scene),
        (Page::Help, _) => pages::help(frame, area, &scene),
        (Page::Happened, _) => pages::happened(frame, area, &scene),
        (Page::Sums, _) => pages::sums(frame, area, &scene),
        (Page::Sum, _) => pages::sum(frame, area, &scene),
        (Page::Cards, _) => pages::cards(frame, area, &scene),
        (Page::Card, _) => pages::card(frame, area, &scene),
        (Page::PutOn, _) => pages::put_on(frame, area, &scene),
        (Page::Trail | Page::Past, Some(snapshot)) => pages::trail(frame, area, &scene, snapshot),
        (Page::Big, Some(snapshot)) => step::big(frame, area, &scene, snapshot),
        (Page::Step | Page::Then, Some(snapshot)) => step::draw(frame, area, &scene, snapshot),
        (Page::Front, _) | (Page::Trail | Page::Past | Page::Then | Page::Big | Page::Step, None) => {
            pages::front(frame, area, &scene);
        }
    }
    if let Some(panel) = &model.panel {
        draw_panel(frame, area, &scene, panel);
    }
}

/// Draws lines into an area; they are wrapped already, and whatever does not fit is cut.
pub(super) fn text(frame: &mut Frame<'_>, area: Rect, lines: Vec<Line<'_>>) {
    frame.render_widget(Paragraph::new(lines), area);
}

/// Draws one line without wrapping.
pub(super) fn line(frame: &mut Frame<'_>, area: Rect, row: u16, content: Line<'_>) {
    if let Some(area) = row_of(area, row) {
        frame.render_widget(Paragraph::new(content), area);
    }
}

/// Returns one row of an area, counted from its top.
pub(super) fn row_of(area: Rect, row: u16) -> Option<Rect> {
    (row < area.height).then(|| Rect { y: area.y + row, height: 1, ..area })
}

/// Returns rows `from` to the end, as many as asked and there are.
pub(super) fn rows_of(area: Rect, from: u16, count: u16) -> Rect {
    let from = from.min(area.height);
    Rect { y: area.y + from, height: count.min(area.height - from), ..area }
}

/// A text with one style.
pub(super) fn styled(words: impl Into<String>, style: Style) -> Line<'static> {
    Line::from(Span::styled(words.into(), style))
}

/// Draws an input line with the real cursor in it.
pub(super) fn input_line(frame: &mut Frame<'_>, area: Rect, row: u16, prompt: &str, input: &tui_input::Input) {
    let Some(area) = row_of(area, row) else { return };
    let lead = u16::try_from(unicode_width::UnicodeWidthStr::width(prompt)).unwrap_or(u16::MAX);
    let room = usize::from(area.width.saturating_sub(lead).saturating_sub(1));
    let scroll = input.visual_scroll(room);
    let shown: String = input.value().chars().skip(scroll).collect();
    frame.render_widget(Paragraph::new(Line::raw(format!("{prompt}{shown}"))), area);
    let at = u16::try_from(input.visual_cursor().saturating_sub(scroll)).unwrap_or(0);
    let x = area.x.saturating_add(lead).saturating_add(at).min(area.right().saturating_sub(1));
    frame.set_cursor_position((x, area.y));
}

/// Draws a panel over the bottom of the page.
fn draw_panel(frame: &mut Frame<'_>, area: Rect, scene: &Scene<'_>, panel: &Panel) {
    let height = PANEL.min(area.height);
    let area = Rect { y: area.bottom() - height, height, ..area };
    frame.render_widget(ratatui::widgets::Clear, area);
    line(frame, area, 0, Line::raw(scene.theme.rule(area.width)));
    match panel {
        Panel::Doubt(at) => doubt_panel(frame, area, scene, *at),
        Panel::Reason(what) => reason_panel(frame, area, scene, what),
    }
}

/// Rows of a panel: rule, title and question, answers, what was said, keys.
const PANEL: u16 = 10;

fn doubt_panel(frame: &mut Frame<'_>, area: Rect, scene: &Scene<'_>, at: usize) {
    let question =
        scene.snapshot.and_then(|snapshot| snapshot.doubt.as_ref()).map_or("", |doubt| doubt.question.as_str());
    let rows = paragraph(" SURE? ", question, usize::from(area.width));
    let lines = rows.into_iter().map(|row| styled(row, scene.theme.careful())).collect();
    text(frame, rows_of(area, 1, 4), lines);
    for (row, words) in (5..).zip(["it was a slip: type it again", "it is right, because ..."]) {
        let chosen = usize::from(row - 5) == at;
        let mark = if chosen { " > " } else { "   " };
        let style = if chosen { scene.theme.chosen() } else { scene.theme.plain() };
        line(frame, area, row, styled(format!("{mark}{words}"), style));
        if let Some(row) = row_of(area, row).filter(|_| chosen) {
            frame.set_cursor_position((row.x, row.y));
        }
    }
    let words = scene.model.said.as_ref().map_or("", |(words, _)| words.as_str());
    let lines =
        paragraph(" ", words, usize::from(area.width)).into_iter().map(|row| styled(row, scene.theme.careful()));
    text(frame, rows_of(area, 7, 2), lines.collect());
    line(frame, area, 9, Line::raw(cut(" Up Down choose  F5 confirm  (not Enter)", area.width.into())));
}

fn reason_panel(frame: &mut Frame<'_>, area: Rect, scene: &Scene<'_>, what: &ReasonFor) {
    let (title, prompt) = match what {
        ReasonFor::Sure => ("Kept, because".to_owned(), "because "),
        ReasonFor::Strike(seq) => (format!("Cross out entry {seq}: it stays readable. Why?"), "why "),
        ReasonFor::Again(gate) => (format!("Cross out what {gate} rests on and measure again. Why?"), "why "),
        ReasonFor::GoOn(gate) => (format!("Go on past {gate} with a reason, under your initials"), "because "),
        ReasonFor::Note => ("A note for the log".to_owned(), "note "),
        ReasonFor::Seal => ("Close the session for good: nothing can be added afterwards. Type seal".to_owned(), "> "),
    };
    let width = usize::from(area.width);
    let mut lines: Vec<Line<'static>> =
        paragraph(" ", &title, width).into_iter().map(|row| styled(row, scene.theme.careful())).collect();
    if matches!(what, ReasonFor::Strike(_)) {
        lines.extend(scene.model.changes.iter().map(|words| Line::raw(cut(&format!(" {words}"), width))));
    }
    text(frame, rows_of(area, 1, 5), lines);
    input_line(frame, area, 6, &format!(" {prompt}"), &scene.model.reason);
    said(frame, area, 8, scene);
    line(frame, area, 9, Line::raw(" F5 confirm  Esc back"));
}

/// Shows what was said last.
pub(super) fn said(frame: &mut Frame<'_>, area: Rect, row: u16, scene: &Scene<'_>) {
    if let Some((words, bad)) = &scene.model.said {
        let style = if *bad { scene.theme.careful() } else { scene.theme.plain() };
        line(frame, area, row, styled(cut(&format!(" {words}"), area.width.into()), style));
    }
}
