//! The step page: one instruction, the next number, where to touch, what is known, one line to type in.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::style::Style;
use ratatui::text::{Line, Span};

use crate::checklist::{Ask, Consultation, Finding, Gate, GateKind, GateState, MachineMove, SlotState, Verdict};
use crate::quantity::print::with_uncertainty;
use crate::workbook::keymap::{Action, line as keys};
use crate::workbook::snapshot::{ReadingLine, Snapshot};
use crate::workbook::view::{Scene, digits, input_line, line, picture, rows_of, styled, text};

/// From here on there is room for a picture beside the instruction.
const WIDE: u16 = 70;
/// From here on there is room for the full titles of the steps.
const LONG_STRIP: u16 = 110;
/// From here on there is room for readings and findings beside each other.
const HIGH: u16 = 18;

/// Draws the page.
pub(super) fn draw(frame: &mut Frame<'_>, area: Rect, scene: &Scene<'_>, snapshot: &Snapshot) {
    header(frame, area, scene, snapshot);
    let foot = 5;
    let body = rows_of(area, 2, area.height.saturating_sub(2 + foot));
    match &snapshot.consultation {
        None => closed(frame, body, scene, snapshot),
        Some(answer) if area.height >= HIGH => roomy(frame, body, scene, snapshot, answer),
        Some(answer) => tight(frame, body, scene, answer),
    }
    footer(frame, rows_of(area, area.height - foot, foot), scene, snapshot);
}

fn header(frame: &mut Frame<'_>, area: Rect, scene: &Scene<'_>, snapshot: &Snapshot) {
    let left = if area.width < WIDE {
        format!(" piece {}/{}", snapshot.piece, snapshot.batch)
    } else {
        format!(" {}, piece {} of {}", snapshot.title, snapshot.piece, snapshot.batch)
    };
    let round = snapshot
        .ask()
        .filter(|ask| ask.round > 0 && ask.round < 100)
        .map(|ask| format!(", {} {}", round_word(ask), ask.round + 1));
    let saved = if area.width < WIDE { String::new() } else { format!("  saved {}", snapshot.saved) };
    let right = format!("{}{}  {}{saved} ", snapshot.step, round.unwrap_or_default(), snapshot.by);
    let room = usize::from(area.width).saturating_sub(left.chars().count() + right.chars().count());
    line(frame, area, 0, styled(format!("{left}{}{right}", " ".repeat(room)), scene.theme.strong()));
    line(frame, area, 1, strip(scene, snapshot, area.width));
}

/// What a round is called, by what is asked.
fn round_word(ask: &Ask) -> &'static str {
    match ask.id.split('.').next() {
        Some("tram") => "try",
        Some("fit") => "pass",
        _ => "round",
    }
}

/// The steps: `ok` done, CAPITALS current, void and stale written out.
fn strip(scene: &Scene<'_>, snapshot: &Snapshot, width: u16) -> Line<'static> {
    let short = width < LONG_STRIP;
    let mut spans = vec![Span::raw(" ")];
    for (place, step) in snapshot.steps.iter().enumerate() {
        let title = if short { short_title(step.title) } else { step.title.split(" (").next().unwrap_or(step.title) };
        let (words, style) = match step.state {
            _ if step.current => (title.to_uppercase(), scene.theme.strong()),
            SlotState::Closed => (format!("{title} ok"), scene.theme.good()),
            SlotState::Void => (format!("{title} void"), scene.theme.bad()),
            SlotState::Stale => (format!("{title} stale"), scene.theme.careful()),
            SlotState::Open | SlotState::Waiting => (title.to_owned(), scene.theme.plain()),
        };
        if place > 0 {
            spans.push(Span::raw(if width < WIDE { " " } else { "  " }));
        }
        spans.push(Span::styled(words, style));
    }
    Line::from(spans)
}

/// The last word of a title that says enough: `fixture fit` is `fit`, but a run and an over want both words.
fn short_title(title: &'static str) -> &'static str {
    let title = title.split(" (").next().unwrap_or(title);
    match title.split(' ').next_back() {
        Some("run" | "over") | None => title,
        Some(word) => word,
    }
}

fn closed(frame: &mut Frame<'_>, area: Rect, scene: &Scene<'_>, snapshot: &Snapshot) {
    let words = if snapshot.sealed {
        " Sealed: nothing can be added."
    } else {
        " Every step is closed. F12 closes the session for good; F9 writes a note."
    };
    text(frame, area, vec![Line::raw(""), styled(words, scene.theme.strong())]);
}

fn roomy(frame: &mut Frame<'_>, area: Rect, scene: &Scene<'_>, snapshot: &Snapshot, answer: &Consultation) {
    line(frame, area, 0, Line::raw(scene.theme.rule(area.width)));
    let upper = (area.height.saturating_sub(2) * 3 / 5).max(6);
    let top = rows_of(area, 1, upper);
    let scene_room = area.width >= WIDE && answer.scene.is_some();
    let left = if scene_room { Rect { width: area.width * 3 / 5, ..top } } else { top };
    instruction(frame, left, scene, answer);
    if let (true, Some(shapes)) = (scene_room, &answer.scene) {
        let right = Rect { x: top.x + left.width, width: top.width - left.width, ..top };
        picture::draw(frame, right, shapes);
    }
    line(frame, area, upper + 1, Line::raw(scene.theme.rule(area.width)));
    let lower = rows_of(area, upper + 2, area.height.saturating_sub(upper + 2));
    let half = Rect { width: lower.width * 2 / 5, ..lower };
    readings(frame, half, scene, &snapshot.readings);
    let known = Rect { x: lower.x + half.width, width: lower.width - half.width, ..lower };
    known_so_far(frame, known, scene, answer);
}

fn instruction(frame: &mut Frame<'_>, area: Rect, scene: &Scene<'_>, answer: &Consultation) {
    let mut lines = Vec::new();
    if let Some(to) = &answer.machine_move {
        lines.extend(move_lines(scene, to, area));
    }
    match (&answer.next, answer.blocked_by()) {
        (Some(ask), _) => lines.push(styled(format!(" {}", ask.say), scene.theme.strong())),
        (None, Some(gate)) => lines.extend(gate_lines(scene, gate)),
        (None, None) => {}
    }
    for caution in answer.cautions.iter().take(usize::from(area.height).saturating_sub(lines.len() + 4)) {
        lines.push(Line::raw(format!(" ! {caution}")));
    }
    text(frame, area, lines);
}

fn move_lines(scene: &Scene<'_>, to: &MachineMove, area: Rect) -> Vec<Line<'static>> {
    let shown = to.to.to_string();
    let number = shown.split(' ').next().unwrap_or(&shown);
    let mut lines = vec![styled(format!(" Set {} to", to.axis), scene.theme.strong())];
    let large = digits::rows(number, 1, scene.theme.ascii)
        .filter(|rows| area.height >= 9 && rows.iter().all(|row| row.chars().count() + 2 <= usize::from(area.width)));
    match large {
        Some(rows) => lines.extend(rows.into_iter().map(|row| styled(format!("  {row}"), scene.theme.number()))),
        None => lines.push(styled(format!("   {shown}"), scene.theme.number())),
    }
    lines.push(Line::raw(format!("   {shown}  {}", to.says)));
    lines
}

fn gate_lines(scene: &Scene<'_>, gate: &Gate) -> Vec<Line<'static>> {
    let (word, keys) = match gate.kind {
        GateKind::Stop => ("STOP", "F6 crosses out what it rests on, to measure again."),
        GateKind::Ask => ("GATE", "F6 measures again, F7 goes on with a reason."),
    };
    let mut lines = vec![styled(format!(" {word}: {}", gate.says), scene.theme.bad())];
    if let (Some(measured), Some(limit)) = (&gate.measured, &gate.limit) {
        lines.push(Line::raw(format!("   {measured} against {limit}")));
    }
    lines.push(Line::raw(format!("   {keys}")));
    lines
}

fn readings(frame: &mut Frame<'_>, area: Rect, scene: &Scene<'_>, readings: &[ReadingLine]) {
    let room = usize::from(area.height);
    let lines: Vec<Line<'static>> = readings
        .iter()
        .skip(readings.len().saturating_sub(room))
        .map(|reading| {
            let value =
                if reading.struck || reading.void { format!("-{}-", reading.value) } else { reading.value.clone() };
            let void = if reading.void { " void" } else { "" };
            let round =
                if reading.round > 1 && reading.round < 100 { format!(" {}", reading.round) } else { String::new() };
            let width = usize::from(area.width).saturating_sub(2);
            let words: String =
                format!(" {:>4} {}{round}  {value}{void}", reading.seq, reading.what).chars().take(width).collect();
            styled(words, scene.theme.plain())
        })
        .collect();
    text(frame, area, lines);
}

fn known_so_far(frame: &mut Frame<'_>, area: Rect, scene: &Scene<'_>, answer: &Consultation) {
    let mut lines: Vec<Line<'static>> = answer
        .gates
        .iter()
        .filter(|gate| matches!(gate.state, GateState::Fail | GateState::Conceded) && answer.next.is_some())
        .map(|gate| styled(format!(" {}: {}", gate.state.word().to_uppercase(), gate.says), scene.theme.careful()))
        .collect();
    let bar = answer.gates.iter().rev().find_map(|gate| bar(gate, area.width));
    let room = usize::from(area.height).saturating_sub(lines.len() + usize::from(bar.is_some()));
    let findings = &answer.findings;
    lines.extend(findings.iter().skip(findings.len().saturating_sub(room)).map(|finding| finding_line(scene, finding)));
    lines.extend(bar.map(Line::raw));
    text(frame, area, lines);
}

fn finding_line(scene: &Scene<'_>, finding: &Finding) -> Line<'static> {
    let about = about_words(&finding.about);
    let value = match finding.uncertainty {
        Some(uncertainty) if uncertainty > 0.0 => {
            with_uncertainty(finding.shown.value, uncertainty, finding.shown.unit)
        }
        Some(_) | None => finding.shown.to_string(),
    };
    let mut spans = vec![Span::raw(scene.theme.plus_minus(&format!(" {}{about}  {value}", finding.label)))];
    if let Some(verdict) = finding.verdict {
        spans.push(Span::styled(format!("  {}", verdict_word(verdict)), verdict_style(scene, verdict)));
    }
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

/// Shows a gate's measured value against its limit: `measured [=====|   ] limit`.
fn bar(gate: &Gate, width: u16) -> Option<String> {
    let (measured, limit) = (gate.measured.as_ref()?, gate.limit.as_ref()?);
    if limit.value <= 0.0 || measured.value < 0.0 || gate.state == GateState::Open {
        return None;
    }
    let cells = 20.min(usize::from(width).saturating_sub(44));
    if cells < 4 {
        return None;
    }
    let share = (measured.value / limit.value).min(1.5) / 1.5;
    let filled = (0..cells).filter(|cell| half_cell(*cell, cells) < share).count();
    let edge = cells * 2 / 3;
    let row: String = (0..cells)
        .map(|cell| {
            if cell == edge {
                '|'
            } else if cell < filled {
                '='
            } else {
                '.'
            }
        })
        .collect();
    let name = gate.id.split_once('.').map_or(gate.id, |(_, name)| name);
    Some(format!(" {name} {measured} [{row}] limit {limit}"))
}

#[expect(clippy::cast_precision_loss, reason = "a bar has a few dozen cells")]
fn half_cell(cell: usize, cells: usize) -> f64 {
    (cell as f64 + 0.5) / cells as f64
}

/// The small page: instruction, number and the newest thing known.
fn tight(frame: &mut Frame<'_>, area: Rect, scene: &Scene<'_>, answer: &Consultation) {
    let mut lines = Vec::new();
    if let Some(to) = &answer.machine_move {
        lines.push(styled(format!(" Set {} to {}", to.axis, to.to), scene.theme.number()));
    }
    match (&answer.next, answer.blocked_by()) {
        (Some(ask), _) => lines.push(styled(format!(" {}", ask.say), scene.theme.strong())),
        (None, Some(gate)) => lines.extend(gate_lines(scene, gate)),
        (None, None) => {}
    }
    text(frame, area, lines);
}

fn footer(frame: &mut Frame<'_>, area: Rect, scene: &Scene<'_>, snapshot: &Snapshot) {
    line(frame, area, 0, Line::raw(scene.theme.rule(area.width)));
    if let Some(ask) = snapshot.ask() {
        input_line(frame, area, 1, &prompt(ask), &scene.model.input);
        line(frame, area, 2, echo(scene, snapshot, ask, area.width));
    } else {
        super::said(frame, area, 2, scene);
    }
    let trap = snapshot.consultation.as_ref().and_then(|answer| answer.trap).unwrap_or_default();
    line(frame, area, 3, Line::raw(format!(" {trap}")));
    line(frame, area, 4, Line::raw(format!(" {}", bottom_keys(snapshot, area.width))));
}

fn prompt(ask: &Ask) -> String {
    let what = ask.id.split_once('.').map_or(ask.id, |(_, what)| what);
    let count = if ask.of > 1 { format!(" {}/{}", ask.repeat, ask.of) } else { String::new() };
    let unit = if ask.unit.is_empty() { String::new() } else { format!(" {}", ask.unit) };
    format!(" {what}{count}{unit} > ")
}

/// What the typed text means, the choices, or what was said last.
fn echo(scene: &Scene<'_>, snapshot: &Snapshot, ask: &Ask, width: u16) -> Line<'static> {
    let typed = scene.model.input.value().trim();
    if !typed.is_empty() {
        return match snapshot.understood(typed) {
            Some(Ok(meaning)) => Line::raw(format!("   = {meaning}{}", expected(ask))),
            Some(Err(why)) => styled(format!("   {why}"), scene.theme.careful()),
            None => Line::raw(""),
        };
    }
    let choices = snapshot.choices();
    if !choices.is_empty() {
        let (first, last) = shown_choices(&choices, scene.model.arrow, usize::from(width));
        let mut spans = vec![Span::raw(if first > 0 { ".. " } else { "   " })];
        for (place, word) in choices.iter().enumerate().take(last).skip(first) {
            let chosen = scene.model.arrow == Some(place);
            let style = if chosen { scene.theme.chosen() } else { scene.theme.plain() };
            spans.push(Span::styled(if chosen { format!("> {word} ") } else { format!("  {word} ") }, style));
        }
        if last < choices.len() {
            spans.push(Span::raw(".."));
        }
        if let Some((words, true)) = &scene.model.said {
            spans.push(Span::styled(format!("  {words}"), scene.theme.careful()));
        }
        return Line::from(spans);
    }
    match &scene.model.said {
        Some((words, bad)) if !words.is_empty() => {
            styled(format!("   {words}"), if *bad { scene.theme.careful() } else { scene.theme.plain() })
        }
        _ => Line::raw(expected(ask)),
    }
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

fn bottom_keys(snapshot: &Snapshot, width: u16) -> String {
    let blocked = snapshot.consultation.as_ref().and_then(|answer| answer.blocked_by());
    let actions: &[Action] = match (blocked.map(|gate| gate.kind), snapshot.consultation.is_none(), snapshot.review) {
        (_, _, true) => &[Action::Trail, Action::Big, Action::Leave],
        (Some(GateKind::Ask), _, _) => &[Action::Again, Action::GoOn, Action::Trail, Action::Leave],
        (Some(GateKind::Stop), _, _) => &[Action::Again, Action::Trail, Action::Leave],
        (None, true, _) => &[Action::Seal, Action::Note, Action::Trail, Action::Leave],
        (None, false, _) if width < WIDE => &[Action::Help, Action::Leave],
        (None, false, _) => {
            &[Action::CrossOut, Action::Big, Action::Trail, Action::Happened, Action::Help, Action::Leave]
        }
    };
    let enter = if snapshot.ask().is_some() && !snapshot.review { "Enter take  " } else { "" };
    format!("{enter}{}", keys(actions))
}

/// The next number as large as the screen allows.
pub(super) fn big(frame: &mut Frame<'_>, area: Rect, scene: &Scene<'_>, snapshot: &Snapshot) {
    header(frame, area, scene, snapshot);
    let answer = snapshot.consultation.as_ref();
    let to = answer.and_then(|answer| answer.machine_move.as_ref());
    let Some(to) = to else {
        let say = answer
            .and_then(|answer| answer.next.as_ref())
            .map_or("No number is to be set now.", |ask| ask.say.as_str());
        text(
            frame,
            rows_of(area, 4, area.height.saturating_sub(5)),
            vec![styled(format!(" {say}"), scene.theme.strong())],
        );
        return line(frame, area, area.height - 1, Line::raw(" Esc back"));
    };
    let shown = to.to.to_string();
    let number = shown.split(' ').next().unwrap_or(&shown);
    line(frame, area, 3, styled(format!(" SET {} TO", to.axis.to_uppercase()), scene.theme.strong()));
    let letters = number.chars().count().max(1);
    let scale = (usize::from(area.width).saturating_sub(4) / (letters * 4))
        .min(usize::from(area.height).saturating_sub(8) / 5)
        .max(1);
    let rows = digits::rows(number, scale, scene.theme.ascii).unwrap_or_else(|| vec![shown.clone()]);
    for (row, words) in (5_u16..).zip(rows) {
        line(frame, area, row, styled(format!("  {words}"), scene.theme.number()));
    }
    line(frame, area, area.height - 2, Line::raw(format!(" {shown}  {}", to.says)));
    line(frame, area, area.height - 1, Line::raw(" Esc back"));
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
