//! What is known so far: readings, findings with their doubt, gates as bars.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::style::Style;
use ratatui::text::{Line, Span};

use crate::checklist::{Consultation, Finding, Gate, GateState, Verdict};
use crate::quantity::print::with_uncertainty;
use crate::workbook::snapshot::ReadingLine;
use crate::workbook::view::wrapping::{cut, paragraph};
use crate::workbook::view::{Scene, styled, text};

/// Shows the newest readings of the step; what is crossed out or void stays between dashes.
pub(super) fn readings(frame: &mut Frame<'_>, area: Rect, scene: &Scene<'_>, readings: &[ReadingLine]) {
    let room = usize::from(area.height);
    let width = usize::from(area.width).saturating_sub(1);
    let shown = readings.iter().skip(readings.len().saturating_sub(room));
    let lines = shown.map(|reading| {
        let gone = reading.struck || reading.void;
        let value = if gone { format!("-{}-", reading.value) } else { reading.value.clone() };
        let fate = match (reading.struck, reading.void) {
            (true, _) if width < 44 => "",
            (true, _) => " crossed out",
            (false, true) => " void",
            (false, false) => "",
        };
        let round =
            if reading.round > 1 && reading.round < 100 { format!(" {}", reading.round) } else { String::new() };
        let what = format!(" {:>4} {}{round}", reading.seq, reading.what);
        // The value is never cut; what it is of may be.
        let left = cut(&what, width.saturating_sub(value.chars().count() + fate.len() + 2));
        styled(format!("{left}  {value}{fate}"), if gone { scene.theme.gone() } else { scene.theme.plain() })
    });
    text(frame, area, lines.collect());
}

/// Shows gates that were failed or gone past, findings, and as many bars as there is room for.
pub(super) fn draw(frame: &mut Frame<'_>, area: Rect, scene: &Scene<'_>, answer: &Consultation) {
    let width = usize::from(area.width);
    let room = usize::from(area.height);
    let mut lines: Vec<Line<'static>> = Vec::new();
    let telling = |gate: &&Gate| matches!(gate.state, GateState::Fail | GateState::Conceded) && answer.next.is_some();
    for gate in answer.gates.iter().filter(telling) {
        let lead = format!(" {}: ", gate.state.word().to_uppercase());
        let rows = paragraph(&lead, &gate.says, width);
        lines.extend(rows.into_iter().map(|row| styled(row, scene.theme.careful())));
    }
    lines.truncate(room.saturating_sub(2));
    let left = room.saturating_sub(lines.len());
    let bars: Vec<Line<'static>> =
        newest_of_each(&answer.gates).filter_map(|gate| bar(scene, gate, area.width)).collect();
    let findings = left.saturating_sub(bars.len().min(left.div_ceil(2))).min(answer.findings.len());
    let skipped = answer.findings.len() - findings;
    lines.extend(answer.findings.iter().skip(skipped).map(|finding| finding_line(scene, finding, width)));
    lines.extend(bars.into_iter().take(left - findings));
    text(frame, area, lines);
}

/// The newest gate of every id, the newest first.
fn newest_of_each(gates: &[Gate]) -> impl Iterator<Item = &Gate> {
    let later = |place: usize, id: &str| gates.iter().skip(place + 1).any(|gate| gate.id == id);
    let newest = move |(place, gate): &(usize, &Gate)| !later(*place, gate.id);
    gates.iter().enumerate().filter(newest).map(|(_, gate)| gate).rev()
}

fn finding_line(scene: &Scene<'_>, finding: &Finding, width: usize) -> Line<'static> {
    let about = about_words(&finding.about);
    let value = match finding.uncertainty {
        Some(uncertainty) if uncertainty > 0.0 => {
            with_uncertainty(finding.shown.value, uncertainty, finding.shown.unit)
        }
        Some(_) | None => finding.shown.to_string(),
    };
    let value = scene.theme.plus_minus(&value);
    let word = finding.verdict.map(|verdict| format!("  {}", verdict_word(verdict))).unwrap_or_default();
    // Value and verdict are never cut; what they are of may be.
    let room = width.saturating_sub(value.chars().count() + word.len() + 2);
    let label = cut(&format!(" {}{about}", finding.label), room);
    let mut spans = vec![Span::raw(format!("{label}  {value}"))];
    spans.extend(finding.verdict.map(|verdict| Span::styled(word, verdict_style(scene, verdict))));
    Line::from(spans)
}

/// Rounds are counted from 1 for a person; features and slots go by their names.
fn about_words(about: &str) -> String {
    match about.parse::<u32>() {
        Ok(round) => format!(" {}", round + 1),
        Err(_) if about.is_empty() => String::new(),
        Err(_) => format!(" {about}"),
    }
}

const fn verdict_word(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Open => "OPEN",
        Verdict::Within => "WITHIN",
        Verdict::NotProven => "NOT PROVEN",
        Verdict::Outside => "OUTSIDE",
    }
}

fn verdict_style(scene: &Scene<'_>, verdict: Verdict) -> Style {
    match verdict {
        Verdict::Within => scene.theme.good(),
        Verdict::NotProven | Verdict::Open => scene.theme.careful(),
        Verdict::Outside => scene.theme.bad(),
    }
}

/// Shows a gate's measured value against its limit, `=` up to what was measured and `|` at the limit, with its word.
pub(super) fn bar(scene: &Scene<'_>, gate: &Gate, width: u16) -> Option<Line<'static>> {
    let (measured, limit) = (gate.measured.as_ref()?, gate.limit.as_ref()?);
    if limit.value <= 0.0 || gate.state == GateState::Open {
        return None;
    }
    let name = gate.id.split_once('.').map_or(gate.id, |(_, name)| name);
    let (before, after) = (format!(" {name} {measured} ["), format!("] limit {limit} "));
    let (word, style) = match gate.state {
        GateState::Pass => ("ok", scene.theme.good()),
        GateState::Conceded => ("with reason", scene.theme.careful()),
        GateState::Fail | GateState::Open => ("OUTSIDE", scene.theme.bad()),
    };
    let words = before.chars().count() + after.chars().count() + word.len();
    let cells = usize::from(width).saturating_sub(words).min(24);
    if cells < 5 {
        return Some(styled(cut(&format!(" {name} {measured} limit {limit} {word}"), usize::from(width)), style));
    }
    let edge = cells * 2 / 3;
    let share = (measured.value.abs() / limit.value).min(1.5) / 1.5;
    let cell = |place: usize| match (place == edge, half_cell(place, cells) < share) {
        (true, _) => '|',
        (false, true) => '=',
        (false, false) => '.',
    };
    let row: String = (0..cells).map(cell).collect();
    Some(Line::from(vec![Span::raw(before), Span::styled(row, style), Span::raw(after), Span::styled(word, style)]))
}

#[expect(clippy::cast_precision_loss, reason = "a bar has a few dozen cells")]
fn half_cell(cell: usize, cells: usize) -> f64 {
    (cell as f64 + 0.5) / cells as f64
}
