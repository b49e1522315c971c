//! The job cards: the list, one card field by field with its faults, and the fields that it could have besides.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::Line;

use crate::job;
use crate::workbook::model::CardTable;
use crate::workbook::view::pages::{choose, framed, told_below};
use crate::workbook::view::wrapping::{cut, paragraph};
use crate::workbook::view::{Scene, input_line, rows_of, styled, text};

/// The cards that can be changed or copied.
pub(in crate::workbook::view) fn cards(frame: &mut Frame<'_>, area: Rect, scene: &Scene<'_>) {
    let found = scene.model.found_cards();
    let body = framed(frame, area, scene, "job cards: open one to change it, or a practice card to begin from a copy");
    choose(
        frame,
        rows_of(body, 0, body.height.saturating_sub(1)),
        scene,
        found.len(),
        scene.model.arrow.unwrap_or(0),
        |place| {
            found.get(place).map_or_else(String::new, |row| {
                format!("{:<12} {}", if row.path.is_some() { "card" } else { "practice" }, row.title)
            })
        },
    );
    told_below(frame, body, body.height.saturating_sub(1), scene, found.len());
}

/// One card.
pub(in crate::workbook::view) fn card(frame: &mut Frame<'_>, area: Rect, scene: &Scene<'_>) {
    let Some(table) = &scene.model.card else { return };
    let faults = table.draft.faults();
    let state = match (faults.len(), table.changed) {
        (0, true) => "no fault, not kept yet".to_owned(),
        (0, false) => "no fault".to_owned(),
        (1, _) => "1 FAULT".to_owned(),
        (count, _) => format!("{count} FAULTS"),
    };
    let body = framed(frame, area, scene, &format!("card {}: {state}", table.draft.name()));
    let rows = scene.model.found_fields();
    let at = scene.model.arrow.unwrap_or(0);
    let below = told(scene, table, &faults, rows.get(at).map(|row| row.path.as_str()), usize::from(area.width));
    let typing = u16::from(table.typing.is_some());
    let column = usize::from(area.width).saturating_sub(4).div_ceil(2).min(40);
    let told = u16::try_from(below.len()).unwrap_or(0).min(body.height.saturating_sub(3 + typing));
    let list = rows_of(body, 0, body.height.saturating_sub(told + 1 + typing));
    choose(frame, list, scene, rows.len(), at, |place| {
        rows.get(place).map_or_else(String::new, |row| {
            let faulty = faults.iter().any(|fault| fault.path == row.path);
            format!("{:<column$} {}{}", cut(&row.path, column), row.text, if faulty { "  FAULT" } else { "" })
        })
    });
    text(frame, rows_of(body, list.height, told), below);
    if let Some(path) = &table.typing {
        input_line(frame, body, list.height + told, &format!(" {path} > "), &scene.model.input);
    }
    told_below(frame, body, body.height.saturating_sub(1), scene, rows.len());
}

/// What the field means, and what is wrong with it; else the first fault of the card.
fn told(
    scene: &Scene<'_>,
    table: &CardTable,
    faults: &[job::CardFault],
    path: Option<&str>,
    width: usize,
) -> Vec<Line<'static>> {
    let path = table.typing.as_deref().or(path).unwrap_or_default();
    let mut lines = Vec::new();
    if let Some(field) = job::about(path) {
        let words = format!("{} ({}; {})", field.meaning, field.kind, field.need);
        lines.extend(paragraph(" ", &words, width).into_iter().map(Line::raw));
    }
    // While one types, the value is checked as it would stand on the card.
    let typed = table.typing.as_deref().map(|path| {
        let mut tried = table.draft.clone();
        tried.set(path, scene.model.input.value());
        tried.faults()
    });
    let faults = typed.as_deref().unwrap_or(faults);
    let own = faults.iter().find(|fault| fault.path == path);
    let words = match (own.or_else(|| faults.first()), typed.is_some()) {
        (Some(fault), _) => format!("{}: {}. {}", fault.path, fault.what, fault.hint),
        (None, true) => "ok as it stands".to_owned(),
        (None, false) => String::new(),
    };
    let style = if faults.is_empty() { scene.theme.good() } else { scene.theme.careful() };
    lines.extend(paragraph(" ", &words, width).into_iter().map(|row| styled(row, style)));
    lines
}

/// The fields that the card could have besides.
pub(in crate::workbook::view) fn put_on(frame: &mut Frame<'_>, area: Rect, scene: &Scene<'_>) {
    let found = scene.model.found_absent();
    let body = framed(frame, area, scene, "fields that could stand on the card besides");
    let at = scene.model.arrow.unwrap_or(0);
    let list = rows_of(body, 0, body.height.saturating_sub(3));
    choose(frame, list, scene, found.len(), at, |place| {
        found.get(place).map_or_else(String::new, |row| format!("{:<40} {}", row.path, row.need))
    });
    let words = found.get(at).map(|row| format!("{} ({})", row.meaning, row.kind)).unwrap_or_default();
    let lines = paragraph(" ", &words, usize::from(area.width)).into_iter().map(Line::raw).collect();
    text(frame, rows_of(body, list.height, 2), lines);
    told_below(frame, body, body.height.saturating_sub(1), scene, found.len());
}
