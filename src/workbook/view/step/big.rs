//! The next number as large as the screen allows, to be read at two metres; one can type here as well.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::Line;

use crate::checklist::Consultation;
use crate::workbook::snapshot::Snapshot;
use crate::workbook::view::step::{footer, known, round};
use crate::workbook::view::wrapping::{cut, paragraph};
use crate::workbook::view::{Scene, digits, input_line, line, rows_of, styled, text};

/// Draws the page: step n of m, one instruction, the number, the limits, the line to type in.
pub(in crate::workbook::view) fn draw(frame: &mut Frame<'_>, area: Rect, scene: &Scene<'_>, snapshot: &Snapshot) {
    let width = usize::from(area.width);
    line(frame, area, 0, styled(cut(&title(snapshot), width), scene.theme.strong()));
    let Some(answer) = &snapshot.consultation else {
        text(frame, rows_of(area, 2, 1), vec![styled(" Every step is closed.", scene.theme.strong())]);
        return line(frame, area, area.height - 1, Line::raw(" F2 back"));
    };
    let (number, words) = shown(scene, snapshot, answer);
    let says = paragraph(" ", &words, width);
    let said = says.len().min(2);
    let lines = says.into_iter().take(said).map(|row| styled(row, scene.theme.strong())).collect();
    text(frame, rows_of(area, 1, 2), lines);
    let top = 1 + u16::try_from(said).unwrap_or(0);
    let foot = if area.height < ROOM_FOR_LIMITS { 2 } else { 3 };
    let room = rows_of(area, top, area.height.saturating_sub(top + foot));
    let size = (width.saturating_sub(2), usize::from(room.height));
    if let Some(rows) = number.as_deref().and_then(|number| digits::fitting(number, size, scene.theme.ascii)) {
        let lines = rows.into_iter().map(|row| styled(format!("  {row}"), scene.theme.number())).collect();
        text(frame, room, lines);
    }
    limits(frame, area, scene, snapshot, answer);
}

/// Below this the number goes before the limits.
const ROOM_FOR_LIMITS: u16 = 12;

/// Step n of m, with its try or pass.
fn title(snapshot: &Snapshot) -> String {
    format!(" STEP {}: {}{}", snapshot.step_of().to_uppercase(), snapshot.step, round(snapshot))
}

/// The number that matters now, and the words to it: what is typed, else what is to be set, else the newest reading.
fn shown(scene: &Scene<'_>, snapshot: &Snapshot, answer: &Consultation) -> (Option<String>, String) {
    let typed = scene.model.input.value().trim();
    let say = || match (&answer.next, answer.blocked_by()) {
        (Some(ask), _) => ask.say.clone(),
        (None, Some(gate)) => gate.says.clone(),
        (None, None) => String::new(),
    };
    let first = |words: &str| words.split(' ').next().map(str::to_owned);
    match (&answer.machine_move, typed.is_empty()) {
        (_, false) => (Some(typed.to_owned()), say()),
        (Some(to), true) => {
            let shown = to.to.to_string();
            (first(&shown), format!("SET {} TO {shown}: {}", to.axis.to_uppercase(), to.says))
        }
        (None, true) => {
            let newest = snapshot.readings.iter().rev().find(|reading| !reading.struck && !reading.void);
            (newest.and_then(|reading| first(&reading.value)), say())
        }
    }
}

/// The last three rows: the newest limit, the line to type in, and the keys or what was typed means.
fn limits(frame: &mut Frame<'_>, area: Rect, scene: &Scene<'_>, snapshot: &Snapshot, answer: &Consultation) {
    let bottom = area.height;
    let gates = answer.gates.iter().filter(|_| bottom >= ROOM_FOR_LIMITS);
    if let Some(bar) = gates.rev().find_map(|gate| known::bar(scene, gate, area.width)) {
        line(frame, area, bottom - 3, bar);
    }
    let Some(ask) = snapshot.ask().filter(|_| !snapshot.review) else {
        return line(frame, area, bottom - 1, Line::raw(" F2 back"));
    };
    input_line(frame, area, bottom - 2, &footer::prompt(ask), &scene.model.input);
    let echo = footer::echo(scene, snapshot, ask, area.width.saturating_sub(10)).into_iter().next();
    line(frame, area, bottom - 1, echo.unwrap_or_default());
    let back = Rect { x: area.right().saturating_sub(9), width: 9, ..area };
    line(frame, back, bottom - 1, Line::raw(" F2 back"));
}
