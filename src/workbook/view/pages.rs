//! The pages beside the step page: front, initials, trail, keys, what happened.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::Line;

use crate::checklist::Happening;
use crate::workbook::keymap::{BINDINGS, OTHERS};
use crate::workbook::snapshot::Snapshot;
use crate::workbook::view::{Scene, input_line, line, rows_of, said, styled, text};

const CAUTION: &str = "This workbook does sums and asks questions. It does not control the machine. The machine manual, your shop rules and local law come first.";

/// The front page: unfinished sessions first.
pub(super) fn front(frame: &mut Frame<'_>, area: Rect, scene: &Scene<'_>) {
    line(frame, area, 0, styled(" setwright", scene.theme.strong()));
    line(frame, area, 1, Line::raw(scene.theme.rule(area.width)));
    let caution = if area.height >= 16 { 3 } else { 1 };
    let list = rows_of(area, 2, area.height.saturating_sub(5 + caution));
    match &scene.model.rows {
        None => text(frame, list, vec![Line::raw("  looking at the sessions ...")]),
        Some(rows) => {
            let at = scene.model.arrow.unwrap_or(0);
            let words: Vec<&str> = rows.iter().map(|row| row.words.as_str()).collect();
            choose(frame, list, scene, &words, at);
        }
    }
    said(frame, area, area.height - 3 - caution, scene);
    line(frame, area, area.height - 2 - caution, Line::raw(scene.theme.rule(area.width)));
    text(frame, rows_of(area, area.height - 1 - caution, caution), vec![Line::raw(format!(" {CAUTION}"))]);
    line(frame, area, area.height - 1, Line::raw(" Up Down choose  Enter open  ? keys  F10 leave"));
}

/// A list with the chosen row in view.
fn choose(frame: &mut Frame<'_>, area: Rect, scene: &Scene<'_>, rows: &[&str], at: usize) {
    let height = usize::from(area.height).max(1);
    let first = at.saturating_sub(height - 1);
    for (row, (place, words)) in (0_u16..).zip(rows.iter().enumerate().skip(first).take(height)) {
        let chosen = place == at;
        let mark = if chosen { " > " } else { "   " };
        let style = if chosen { scene.theme.chosen() } else { scene.theme.plain() };
        line(frame, area, row, styled(format!("{mark}{words}"), style));
    }
}

/// Who is at the machine?
pub(super) fn who(frame: &mut Frame<'_>, area: Rect, scene: &Scene<'_>) {
    line(frame, area, 0, styled(" setwright", scene.theme.strong()));
    line(frame, area, 1, Line::raw(scene.theme.rule(area.width)));
    text(frame, rows_of(area, 3, 2), vec![Line::raw(" Who is at the machine? Every entry carries these initials.")]);
    input_line(frame, area, 5, " initials > ", &scene.model.input);
    said(frame, area, 7, scene);
    line(frame, area, area.height - 1, Line::raw(" Enter take  Esc back"));
}

/// The keys, from the one table.
pub(super) fn help(frame: &mut Frame<'_>, area: Rect, scene: &Scene<'_>) {
    line(frame, area, 0, styled(" keys", scene.theme.strong()));
    let functions = BINDINGS.iter().map(|binding| format!(" F{:<7}{}", binding.key, binding.long));
    let others = OTHERS.iter().map(|(key, words)| format!(" {key:<8}{words}"));
    let lines = functions.chain(others).map(Line::raw).collect();
    text(frame, rows_of(area, 2, area.height.saturating_sub(3)), lines);
    line(frame, area, area.height - 1, Line::raw(" Esc back"));
}

/// What happened?
pub(super) fn happened(frame: &mut Frame<'_>, area: Rect, scene: &Scene<'_>) {
    line(frame, area, 0, styled(" What happened? It decides what is void.", scene.theme.strong()));
    let words: Vec<&str> = Happening::ALL.iter().map(|happening| happening.word()).collect();
    let at = scene.model.arrow.unwrap_or(usize::MAX);
    let list = rows_of(area, 2, area.height.saturating_sub(6));
    choose(frame, list, scene, &words, at.min(words.len()));
    if let Some(happening) = Happening::ALL.get(at) {
        text(
            frame,
            rows_of(area, area.height - 4, 2),
            vec![styled(format!(" {}", happening.voids()), scene.theme.careful())],
        );
    }
    said(frame, area, area.height - 2, scene);
    line(frame, area, area.height - 1, Line::raw(" Up Down choose  F5 confirm  Esc back"));
}

/// The whole log.
pub(super) fn trail(frame: &mut Frame<'_>, area: Rect, scene: &Scene<'_>, snapshot: &Snapshot) {
    let title = if snapshot.review { "review" } else { "trail" };
    line(
        frame,
        area,
        0,
        styled(format!(" {title}: {}, {} events", snapshot.title, snapshot.trail.len()), scene.theme.strong()),
    );
    let at = scene.model.arrow.unwrap_or_else(|| snapshot.trail.len().saturating_sub(1));
    let rows: Vec<String> = snapshot
        .trail
        .iter()
        .map(|one| {
            let time = one.time.get(11..16).unwrap_or_default();
            let fate = match (&one.struck, one.void) {
                (Some(why), _) => format!(" -crossed out: {why}-"),
                (None, true) => " -void-".to_owned(),
                (None, false) => String::new(),
            };
            format!("{:>4} {time} {:<4}{}{fate}", one.seq, one.by, one.text)
        })
        .collect();
    let words: Vec<&str> = rows.iter().map(String::as_str).collect();
    choose(frame, rows_of(area, 1, area.height.saturating_sub(3)), scene, &words, at);
    said(frame, area, area.height - 2, scene);
    let keys = if snapshot.review {
        " Up Down PgUp PgDn  Esc the step  F10 back"
    } else {
        " Up Down PgUp PgDn  F4 cross out  Esc back"
    };
    line(frame, area, area.height - 1, Line::raw(keys));
}
