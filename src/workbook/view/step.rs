//! The step page: one instruction, the next number, where to touch, what is known, one line to type in.

mod big;
mod footer;
mod known;

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span};

use crate::calc;
use crate::checklist::{Ask, Consultation, Gate, GateKind, MachineMove, SlotState};
use crate::workbook::snapshot::Snapshot;
use crate::workbook::view::wrapping::{cut, paragraph};
use crate::workbook::view::{Scene, digits, line, picture, plot, rows_of, styled, text};

pub(super) use big::draw as big;
use footer::Foot;

/// From here on there is room for a picture beside the instruction.
const WIDE: u16 = 70;
/// From here on there is room for the full titles of the steps, and for picture and plot at once.
const LONG_STRIP: u16 = 110;
/// Below this there is no room for the names of all steps.
const SHORT_STRIP: u16 = 58;
/// From here on there is room for readings and findings under the instruction.
const HIGH: u16 = 18;

/// Draws the page.
pub(super) fn draw(frame: &mut Frame<'_>, area: Rect, scene: &Scene<'_>, snapshot: &Snapshot) {
    header(frame, area, scene, snapshot);
    let foot = Foot::of(scene, snapshot, area);
    let body = rows_of(area, 2, area.height.saturating_sub(2 + foot.height()));
    match &snapshot.consultation {
        None => closed(frame, body, scene, snapshot),
        Some(answer) if area.height >= HIGH => roomy(frame, body, scene, snapshot, answer),
        Some(answer) => instruction(frame, body, scene, answer),
    }
    let place = rows_of(area, area.height.saturating_sub(foot.height()), foot.height());
    foot.draw(frame, place, scene);
}

/// Two rows: whose job this is and where in it, and the steps.
fn header(frame: &mut Frame<'_>, area: Rect, scene: &Scene<'_>, snapshot: &Snapshot) {
    let wide = area.width >= WIDE;
    let left = match (wide, &snapshot.past) {
        (_, Some(past)) => format!(" PAST: after entry {} of {}, {}", past.seq, past.last, past.time),
        (false, None) => format!(" piece {}/{}", snapshot.piece, snapshot.batch),
        (true, None) => format!(" {}, piece {} of {}", snapshot.title, snapshot.piece, snapshot.batch),
    };
    let saved = if wide && !snapshot.review { format!("  saved {}", snapshot.saved) } else { String::new() };
    let right = format!("{}{}  {}{saved} ", snapshot.step, round(snapshot), snapshot.by);
    let width = usize::from(area.width);
    let right = cut(&right, width / 2);
    let left = cut(&left, width.saturating_sub(right.chars().count() + 1));
    let room = width.saturating_sub(left.chars().count() + right.chars().count());
    line(frame, area, 0, styled(format!("{left}{}{right}", " ".repeat(room)), scene.theme.strong()));
    line(frame, area, 1, strip(scene, snapshot, area.width));
}

/// The round that is asked for, in the word of its step.
fn round(snapshot: &Snapshot) -> String {
    let counted = snapshot.ask().filter(|ask| ask.round > 0 && ask.round < 100);
    counted.map(|ask| format!(", {} {}", round_word(ask), ask.round + 1)).unwrap_or_default()
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
    if width < SHORT_STRIP {
        return counted(scene, snapshot, width);
    }
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

/// In a small window: step n of m, and whatever is void or stale, written out.
fn counted(scene: &Scene<'_>, snapshot: &Snapshot, width: u16) -> Line<'static> {
    let shaken = snapshot.steps.iter().filter(|step| matches!(step.state, SlotState::Void | SlotState::Stale));
    let shaken: Vec<String> =
        shaken.map(|step| format!("; {} {}", short_title(step.title), step.state.word())).collect();
    let current = short_title(snapshot.step);
    let style = if shaken.is_empty() { scene.theme.plain() } else { scene.theme.bad() };
    styled(
        cut(&format!(" step {}: {}{}", snapshot.step_of(), current.to_uppercase(), shaken.concat()), width.into()),
        style,
    )
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
    // A number to set gets the room for its large digits; four rows stay for what is known.
    let share = area.height.saturating_sub(2);
    let upper = if answer.machine_move.is_some() {
        share.saturating_sub(4).min((share * 3 / 5).max(11))
    } else {
        share * 3 / 5
    }
    .max(6);
    let top = rows_of(area, 1, upper);
    let both = area.width >= LONG_STRIP;
    let plot_above = !both && shows_plot(scene, answer);
    let beside = area.width >= WIDE && (answer.scene.is_some() || plot_above);
    let left = if beside { Rect { width: area.width * 3 / 5, ..top } } else { top };
    instruction(frame, left, scene, answer);
    if beside {
        let right = Rect { x: top.x + left.width, width: top.width - left.width, ..top };
        match (&answer.plot, &answer.scene) {
            (Some(read), _) if plot_above => plot::draw(frame, right, read),
            (_, Some(shapes)) => picture::draw(frame, right, shapes),
            (_, None) => {}
        }
    }
    line(frame, area, upper + 1, Line::raw(scene.theme.rule(area.width)));
    let lower = rows_of(area, upper + 2, area.height.saturating_sub(upper + 2));
    let plotted = answer.plot.as_ref().filter(|_| both);
    let shares: [u16; 3] = if plotted.is_some() { [3, 4, 3] } else { [4, 0, 6] };
    let [one, two, _] = shares.map(|share| lower.width * share / 10);
    known::readings(frame, Rect { width: one, ..lower }, scene, &snapshot.readings);
    if let Some(read) = plotted {
        plot::draw(frame, Rect { x: lower.x + one, width: two, ..lower }, read);
    }
    let rest = Rect { x: lower.x + one + two, width: lower.width - one - two, ..lower };
    match &snapshot.past {
        Some(past) if !past.remade.is_empty() => remade(frame, rest, scene, snapshot),
        _ => known::draw(frame, rest, scene, answer),
    }
}

/// In a narrow window the plot takes the picture's place from the second point on; Left and Right change that.
fn shows_plot(scene: &Scene<'_>, answer: &Consultation) -> bool {
    let points = answer.plot.as_ref().map_or(0, |read| read.points.len());
    points > 0 && scene.model.plot_wanted.unwrap_or(points > 1 || answer.scene.is_none())
}

/// A calculation of the past: what the log holds beside what comes out now.
fn remade(frame: &mut Frame<'_>, area: Rect, scene: &Scene<'_>, snapshot: &Snapshot) {
    let Some(past) = &snapshot.past else { return };
    let width = usize::from(area.width);
    let mut lines = vec![Line::raw(cut(" logged, and reckoned again now", width))];
    // What differs comes first, so that it is never cut away.
    for output in
        past.remade.iter().filter(|output| !output.same).chain(past.remade.iter().filter(|output| output.same))
    {
        let (mark, style) = if output.same { ("=", scene.theme.plain()) } else { ("DIFFERS", scene.theme.bad()) };
        let words = if output.same {
            format!(" {mark} {}: {}", output.key.replace('_', " "), plain(&output.logged))
        } else {
            let (logged, now) = (plain(&output.logged), plain(&output.now));
            format!(" {mark} {}: {logged} logged, {now} now", output.key.replace('_', " "))
        };
        lines.push(styled(cut(&words, width), style));
    }
    text(frame, area, lines);
}

/// Writes an output of the log as a person reads it, digit for digit.
fn plain(json: &str) -> String {
    serde_json::from_str(json).map_or_else(|_| json.to_owned(), |value| calc::shown(&value))
}

/// What to do now: the number to set, what to touch and type, and the cautions of this step.
fn instruction(frame: &mut Frame<'_>, area: Rect, scene: &Scene<'_>, answer: &Consultation) {
    let (width, height) = (usize::from(area.width), usize::from(area.height));
    let asked: Vec<Line<'static>> = match (&answer.next, answer.blocked_by()) {
        (Some(ask), _) => {
            paragraph(" ", &ask.say, width).into_iter().map(|row| styled(row, scene.theme.strong())).collect()
        }
        (None, Some(gate)) => gate_lines(scene, gate, area.width),
        (None, None) => Vec::new(),
    };
    let cautions: Vec<String> = answer.cautions.iter().flat_map(|caution| paragraph(" ! ", caution, width)).collect();
    let mut lines = Vec::new();
    if let Some(to) = &answer.machine_move {
        let room = height.saturating_sub(asked.len() + usize::from(!cautions.is_empty()));
        lines.extend(move_lines(scene, to, (width, room)));
    }
    lines.extend(asked);
    let room = height.saturating_sub(lines.len());
    let whole = cautions.len() <= room;
    let some = if whole { room } else { room.saturating_sub(1) };
    lines.extend(cautions.into_iter().take(some).map(|row| styled(row, scene.theme.careful())));
    if !whole {
        // A caution is never dropped silently: the last row says where all of them stand.
        lines.truncate(height.saturating_sub(1));
        lines.push(styled(cut(" ! All cautions of this step: F1", width), scene.theme.careful()));
    }
    text(frame, area, lines);
}

/// The next number to set: as large as there is room for, then how to come to it.
fn move_lines(scene: &Scene<'_>, to: &MachineMove, (width, room): (usize, usize)) -> Vec<Line<'static>> {
    let shown = to.to.to_string();
    let from =
        to.approach.map(|approach| format!(", coming {}", approach.word().replace('-', " "))).unwrap_or_default();
    let title = format!(" Set {} to {shown}{from}", to.axis);
    let number = shown.split(' ').next().unwrap_or(&shown);
    let large = digits::fitting(number, (width.saturating_sub(2), room.saturating_sub(1)), scene.theme.ascii);
    let Some(rows) = large.filter(|_| room >= 7) else {
        return vec![styled(cut(&title, width), scene.theme.number())];
    };
    let mut lines = vec![styled(cut(&title, width), scene.theme.strong())];
    lines.extend(rows.into_iter().map(|row| styled(format!("  {row}"), scene.theme.number())));
    let says = paragraph("   ", &to.says, width);
    // Half a sentence is worse than none: F2 shows it.
    if lines.len() + says.len() <= room {
        lines.extend(says.into_iter().map(Line::raw));
    }
    lines
}

fn gate_lines(scene: &Scene<'_>, gate: &Gate, width: u16) -> Vec<Line<'static>> {
    let (word, keys) = match gate.kind {
        GateKind::Stop => ("STOP", "F6 crosses out what it rests on, to measure again."),
        GateKind::Ask => ("GATE", "F6 measures again, F7 goes on with a reason."),
    };
    let rows = paragraph(&format!(" {word}: "), &gate.says, usize::from(width));
    let mut lines: Vec<Line<'static>> = rows.into_iter().map(|row| styled(row, scene.theme.bad())).collect();
    lines.extend(known::bar(scene, gate, width));
    lines.extend(paragraph("   ", keys, usize::from(width)).into_iter().map(Line::raw));
    lines
}
