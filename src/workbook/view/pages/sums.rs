//! The sums: every calculation, and one asked an input at a time.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::Line;

use crate::calc::Questionnaire;
use crate::workbook::model::Model;
use crate::workbook::view::pages::{choose, framed, told_below};
use crate::workbook::view::wrapping::{cut, paragraph};
use crate::workbook::view::{Scene, input_line, rows_of, styled, text};

/// Every calculation by its question.
pub(in crate::workbook::view) fn sums(frame: &mut Frame<'_>, area: Rect, scene: &Scene<'_>) {
    let found = scene.model.found_sums();
    let body = framed(frame, area, scene, &format!("sums: {} questions of the trade", crate::calc::all().count()));
    let list = rows_of(body, 0, body.height.saturating_sub(1));
    choose(frame, list, scene, found.len(), scene.model.arrow.unwrap_or(0), |place| {
        found.get(place).map_or_else(String::new, |one| format!("{:<24} {}", one.id, one.question))
    });
    let last = body.height.saturating_sub(1);
    told_below(frame, body, last, scene, found.len());
}

/// One calculation: what was answered, what is asked now, and the answer.
pub(in crate::workbook::view) fn sum(frame: &mut Frame<'_>, area: Rect, scene: &Scene<'_>) {
    let Some(form) = &scene.model.sum else { return };
    let calculation = form.calculation();
    let body = framed(frame, area, scene, calculation.id);
    let width = usize::from(area.width);
    let mut above: Vec<Line<'static>> =
        paragraph(" ", calculation.question, width).into_iter().map(|row| styled(row, scene.theme.strong())).collect();
    above.extend(form.answered().iter().map(|(name, given)| Line::raw(cut(&format!("   {name}: {given}"), width))));
    let (below, prompt) = match &scene.model.outcome {
        Some(outcome) => (answer(scene, form, outcome, width), None),
        None => asked(scene, form, width),
    };
    let typing = u16::from(prompt.is_some());
    let foot = u16::try_from(below.len()).unwrap_or(u16::MAX).min(body.height.saturating_sub(typing)) + typing;
    let room = usize::from(body.height.saturating_sub(foot));
    let shown = above.len().min(room);
    // The newest answers stay in view.
    let skipped = above.len() - shown;
    text(frame, rows_of(body, 0, body.height - foot), above.into_iter().skip(skipped).collect());
    let top = u16::try_from(shown).unwrap_or(0);
    let asked = foot - typing;
    text(frame, rows_of(body, top, asked), below);
    if let Some(prompt) = prompt {
        input_line(frame, body, top + asked, &prompt, &scene.model.input);
    }
}

fn asked(scene: &Scene<'_>, form: &Questionnaire, width: usize) -> (Vec<Line<'static>>, Option<String>) {
    let Some(asked) = form.next() else { return (Vec::new(), None) };
    let mut lines: Vec<Line<'static>> = paragraph(" ", asked.meaning, width).into_iter().map(Line::raw).collect();
    if !asked.choices.is_empty() {
        let words: Vec<String> = (0..).zip(asked.choices).map(|(at, word)| marked(scene.model, at, word)).collect();
        lines.extend(paragraph(" ", &words.join("  "), width).into_iter().map(Line::raw));
    }
    if let Some(empty) = &asked.if_empty {
        lines.extend(paragraph(" ", &format!("Enter alone: {empty}"), width).into_iter().map(Line::raw));
    }
    let typed = scene.model.input.value().trim();
    let (words, good) = match (&scene.model.said, typed.is_empty()) {
        (Some((words, bad)), true) => (words.clone(), !bad),
        (None, true) => (String::new(), true),
        (_, false) => match form.understand(typed) {
            Ok(meaning) => (format!("= {meaning}"), true),
            Err(why) => (why, false),
        },
    };
    let style = if good { scene.theme.plain() } else { scene.theme.careful() };
    lines.extend(paragraph("   ", &words, width).into_iter().map(|row| styled(row, style)));
    let unit = if matches!(asked.unit, "" | "1") { String::new() } else { format!(" {}", asked.unit) };
    (lines, Some(format!(" {}{unit} > ", asked.name)))
}

fn marked(model: &Model, at: usize, word: &str) -> String {
    if model.arrow == Some(at) { format!("> {word}") } else { word.to_owned() }
}

fn answer(
    scene: &Scene<'_>,
    form: &Questionnaire,
    outcome: &Result<Vec<String>, String>,
    width: usize,
) -> Vec<Line<'static>> {
    let calculation = form.calculation();
    let mut lines = Vec::new();
    match outcome {
        Ok(rows) => {
            for row in rows {
                lines.extend(paragraph(" = ", row, width).into_iter().map(|row| styled(row, scene.theme.number())));
            }
            lines.extend(paragraph(" holds for: ", calculation.validity, width).into_iter().map(Line::raw));
            lines.extend(paragraph(" source: ", calculation.source, width).into_iter().map(Line::raw));
        }
        Err(why) => {
            lines.extend(paragraph(" ", why, width).into_iter().map(|row| styled(row, scene.theme.careful())));
            lines.push(Line::raw(" Esc takes the last answer back."));
        }
    }
    lines
}
