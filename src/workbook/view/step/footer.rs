//! The foot of the step page: one line to type in, what it means, what would go wrong, and the keys that matter now.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span};

use crate::checklist::{Ask, GateKind};
use crate::workbook::keymap::{Action, bottom, within};
use crate::workbook::model::Page;
use crate::workbook::snapshot::Snapshot;
use crate::workbook::view::step::{HIGH, WIDE};
use crate::workbook::view::wrapping::paragraph;
use crate::workbook::view::{Scene, input_line, line, styled};

/// The rows of the foot, with the row in which one types.
pub(super) struct Foot {
    rows: Vec<Line<'static>>,
    input: Option<(usize, String)>,
}

impl Foot {
    /// Lays the foot out for a window; it never takes more than it must, and never more than half.
    pub(super) fn of(scene: &Scene<'_>, snapshot: &Snapshot, area: Rect) -> Self {
        let mut rows = Vec::new();
        let mut input = None;
        if area.height >= HIGH {
            rows.push(Line::raw(scene.theme.rule(area.width)));
        }
        let most = usize::from(area.height / 2).saturating_sub(rows.len() + 2).max(1);
        if let Some(ask) = snapshot.ask().filter(|_| !snapshot.review) {
            input = Some((rows.len(), prompt(ask)));
            rows.push(Line::raw(""));
            rows.extend(echo(scene, snapshot, ask, area.width).into_iter().take(most));
        } else {
            rows.extend(said(scene, usize::from(area.width)).into_iter().take(most));
        }
        let trap = snapshot.consultation.as_ref().and_then(|answer| answer.trap).unwrap_or_default();
        if area.height >= HIGH {
            let spare = usize::from(area.height / 2).saturating_sub(rows.len() + 1);
            rows.extend(paragraph(" ", trap, usize::from(area.width)).into_iter().take(spare).map(Line::raw));
        }
        rows.push(Line::raw(format!(" {}", keys(snapshot, area.width))));
        Self { rows, input }
    }

    /// Returns how many rows it takes.
    pub(super) fn height(&self) -> u16 {
        u16::try_from(self.rows.len()).unwrap_or(u16::MAX)
    }

    /// Draws it, with the real cursor where one types.
    pub(super) fn draw(self, frame: &mut Frame<'_>, area: Rect, scene: &Scene<'_>) {
        for (row, content) in (0..).zip(self.rows) {
            line(frame, area, row, content);
        }
        if let Some((row, prompt)) = self.input {
            input_line(frame, area, u16::try_from(row).unwrap_or(0), &prompt, &scene.model.input);
        }
    }
}

/// What was said last, wrapped.
fn said(scene: &Scene<'_>, width: usize) -> Vec<Line<'static>> {
    let Some((words, bad)) = &scene.model.said else { return vec![Line::raw("")] };
    let style = if *bad { scene.theme.careful() } else { scene.theme.plain() };
    let rows = paragraph(" ", words, width);
    if rows.is_empty() { vec![Line::raw("")] } else { rows.into_iter().map(|row| styled(row, style)).collect() }
}

pub(super) fn prompt(ask: &Ask) -> String {
    let what = ask.id.split_once('.').map_or(ask.id, |(_, what)| what);
    let count = if ask.of > 1 { format!(" {}/{}", ask.repeat, ask.of) } else { String::new() };
    let unit = if ask.unit.is_empty() { String::new() } else { format!(" {}", ask.unit) };
    format!(" {what}{count}{unit} > ")
}

/// What the typed text means, the choices, or what was said last.
pub(super) fn echo(scene: &Scene<'_>, snapshot: &Snapshot, ask: &Ask, width: u16) -> Vec<Line<'static>> {
    let columns = usize::from(width);
    let typed = scene.model.input.value().trim();
    if !typed.is_empty() {
        let (words, style) = match snapshot.understood(typed) {
            Some(Ok(meaning)) => (format!("= {meaning}{}", expected(ask)), scene.theme.plain()),
            Some(Err(why)) => (why, scene.theme.careful()),
            None => (String::new(), scene.theme.plain()),
        };
        let rows = paragraph("   ", &words, columns);
        return rows.into_iter().map(|row| styled(row, style)).collect();
    }
    let mut rows = Vec::new();
    let choices = snapshot.choices();
    if !choices.is_empty() {
        rows.push(offered(scene, &choices, columns));
    }
    match &scene.model.said {
        Some((words, bad)) if !words.is_empty() && (*bad || rows.is_empty()) => {
            let style = if *bad { scene.theme.careful() } else { scene.theme.plain() };
            rows.extend(paragraph("   ", words, columns).into_iter().map(|row| styled(row, style)));
        }
        _ if rows.is_empty() => rows.push(Line::raw(expected(ask))),
        _ => {}
    }
    rows
}

fn offered(scene: &Scene<'_>, choices: &[&'static str], columns: usize) -> Line<'static> {
    let (first, last) = shown_choices(choices, scene.model.arrow, columns);
    let mut spans = vec![Span::raw(if first > 0 { ".. " } else { "   " })];
    for (place, word) in choices.iter().enumerate().take(last).skip(first) {
        let chosen = scene.model.arrow == Some(place);
        let style = if chosen { scene.theme.chosen() } else { scene.theme.plain() };
        spans.push(Span::styled(if chosen { format!("> {word} ") } else { format!("  {word} ") }, style));
    }
    if last < choices.len() {
        spans.push(Span::raw(".."));
    }
    Line::from(spans)
}

/// The words to choose from that fit on the line, as a range: all of them, or as many as reach up to the chosen one.
fn shown_choices(words: &[&str], chosen: Option<usize>, width: usize) -> (usize, usize) {
    // Room for the dots on both sides.
    let room = width.saturating_sub(6);
    let wide = |from: usize, to: usize| -> usize {
        words.iter().take(to).skip(from).map(|word| word.chars().count() + 3).sum()
    };
    let wanted = chosen.map_or(1, |place| place + 1).min(words.len());
    let first = (0..wanted).find(|first| wide(*first, wanted) <= room).unwrap_or(wanted.saturating_sub(1));
    let last = (wanted..=words.len()).rev().find(|last| wide(first, *last) <= room).unwrap_or(wanted);
    (first, last)
}

fn expected(ask: &Ask) -> String {
    let decimals = if ask.unit == "in" { 4 } else { 3 };
    ask.expected_shown
        .map(|window| format!("   expected {:.decimals$} to {:.decimals$} {}", window.low, window.high, ask.unit))
        .unwrap_or_default()
}

/// The keys that matter now, as many as fit.
pub(super) fn keys(snapshot: &Snapshot, width: u16) -> String {
    let blocked = snapshot.consultation.as_ref().and_then(|answer| answer.blocked_by());
    let actions: &[Action] = match (blocked.map(|gate| gate.kind), snapshot.consultation.is_none(), snapshot.review) {
        (_, _, true) => return bottom(Page::Then, usize::from(width).saturating_sub(1)),
        (Some(GateKind::Ask), _, _) => &[Action::Again, Action::GoOn, Action::Trail, Action::Help, Action::Leave],
        (Some(GateKind::Stop), _, _) => &[Action::Again, Action::Trail, Action::Help, Action::Leave],
        (None, true, _) => &[Action::Seal, Action::Note, Action::Trail, Action::Leave],
        (None, false, _) if width < WIDE => &[Action::Take, Action::Help, Action::Leave],
        (None, false, _) => {
            &[Action::Take, Action::CrossOut, Action::Big, Action::Trail, Action::Happened, Action::Help, Action::Leave]
        }
    };
    within(Page::Step, actions, usize::from(width).saturating_sub(1))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_chosen_word_is_always_on_the_line() {
        let words = ["nothing", "power-cut", "emergency-stop", "re-home", "bump", "rotary-moved", "fixture-off"];
        assert_eq!(shown_choices(&words, None, 200), (0, 7));
        for width in [12, 20, 40, 80] {
            for chosen in 0..words.len() {
                let (first, last) = shown_choices(&words, Some(chosen), width);
                assert!(first <= chosen && chosen < last, "{width} {chosen}: {first}..{last}");
            }
            assert_eq!(shown_choices(&words, None, width).0, 0);
        }
        assert_eq!(shown_choices(&[], None, 40), (0, 0));
    }
}
