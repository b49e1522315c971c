//! What a key, a paste or a gauge does. Nothing is recorded here; at most one effect is asked for.

use crossterm::event::{Event, KeyCode, KeyEvent, KeyModifiers};
use tui_input::backend::crossterm::EventHandler;

use crate::checklist::{Command, GateKind, GateState, Happening};
use crate::session::is_initials;
use crate::workbook::effects::{Effect, reasoned};
use crate::workbook::keymap::{Action, action};
use crate::workbook::model::{Model, Page, Panel, ReasonFor};
use crate::workbook::snapshot::Snapshot;

/// Takes an event in.
pub(super) fn update(model: &mut Model, snapshot: Option<&Snapshot>, event: &Event) -> Option<Effect> {
    match event {
        Event::Key(key) => on_key(model, snapshot, key),
        Event::Paste(text) => {
            paste(model, text);
            None
        }
        _ => None,
    }
}

/// A paste is typed, never entered; more than one line is refused.
fn paste(model: &mut Model, text: &str) {
    let text = text.trim_end_matches(['\r', '\n']);
    if text.contains(['\r', '\n']) {
        return model.warn("More than one line was pasted: paste one reading at a time.");
    }
    for letter in text.chars().filter(|letter| !letter.is_control()) {
        let input = if matches!(model.panel, Some(Panel::Reason(_))) { &mut model.reason } else { &mut model.input };
        input.handle(tui_input::InputRequest::InsertChar(letter));
    }
}

fn on_key(model: &mut Model, snapshot: Option<&Snapshot>, key: &KeyEvent) -> Option<Effect> {
    if is_control(key, 'c') {
        return Some(Effect::Interrupt);
    }
    let ends = ends_reading(model, key);
    if ends == Some(false) {
        return None;
    }
    if let Some(panel) = model.panel.clone() {
        return on_panel(model, snapshot, &panel, key, ends.is_some());
    }
    match model.page {
        Page::Front => on_front(model, key, ends.is_some()),
        Page::Who => on_who(model, key, ends.is_some()),
        Page::Help | Page::Big => {
            if ends.is_some() || matches!(key.code, KeyCode::Esc | KeyCode::F(_) | KeyCode::Char('?')) {
                model.page = model.back;
            }
            None
        }
        Page::Trail => on_trail(model, snapshot, key),
        Page::Happened => on_happened(model, key, ends.is_some()),
        Page::Step => on_step(model, snapshot?, key, ends.is_some()),
    }
}

fn is_control(key: &KeyEvent, letter: char) -> bool {
    key.code == KeyCode::Char(letter) && key.modifiers == KeyModifiers::CONTROL
}

/// Enter, a line feed (Ctrl-J in raw mode) and Tab end a reading; a line feed right after Enter belongs to it (`false`).
fn ends_reading(model: &mut Model, key: &KeyEvent) -> Option<bool> {
    let line_feed = is_control(key, 'j');
    let ends = key.code == KeyCode::Enter || key.code == KeyCode::Tab || line_feed;
    let belongs_to_the_last = line_feed && model.just_entered;
    model.just_entered = key.code == KeyCode::Enter;
    ends.then_some(!belongs_to_the_last)
}

fn on_front(model: &mut Model, key: &KeyEvent, ends: bool) -> Option<Effect> {
    let count = model.rows.as_ref().map_or(0, Vec::len);
    match key.code {
        KeyCode::Up | KeyCode::Down => move_arrow(model, key.code, count),
        KeyCode::F(10) | KeyCode::Esc => return Some(Effect::Leave),
        KeyCode::F(1) | KeyCode::Char('?') => model.go(Page::Help),
        _ if ends => {
            let row = model.rows.as_ref()?.get(model.arrow.unwrap_or(0))?;
            return Some(Effect::Open(row.opens.clone()));
        }
        _ => {}
    }
    None
}

fn move_arrow(model: &mut Model, code: KeyCode, count: usize) {
    let last = count.saturating_sub(1);
    model.arrow = Some(match (model.arrow, code) {
        (None, KeyCode::Up) => last,
        (None, _) => 0,
        (Some(at), KeyCode::Up) => at.saturating_sub(1),
        (Some(at), _) => (at + 1).min(last),
    });
}

fn on_who(model: &mut Model, key: &KeyEvent, ends: bool) -> Option<Effect> {
    if key.code == KeyCode::Esc || key.code == KeyCode::F(10) {
        return Some(Effect::Front);
    }
    if !ends {
        type_key(&mut model.input, key);
        return None;
    }
    let by = model.input.value().trim().to_owned();
    if !is_initials(&by) {
        model.warn("One to twelve letters or digits, such as KT.");
        return None;
    }
    model.input.reset();
    Some(Effect::By(by))
}

/// Ctrl+Alt together is `AltGr` and types a letter; Ctrl or Alt alone types nothing.
fn type_key(input: &mut tui_input::Input, key: &KeyEvent) {
    if input.value().len() < 200 || !matches!(key.code, KeyCode::Char(_)) {
        input.handle_event(&Event::Key(*key));
    }
}

fn on_step(model: &mut Model, snapshot: &Snapshot, key: &KeyEvent, ends: bool) -> Option<Effect> {
    if ends {
        return enter(model, snapshot);
    }
    if let Some(action) = action(key.code) {
        return act(model, snapshot, action);
    }
    match key.code {
        KeyCode::Up | KeyCode::Down => {
            let count = snapshot.choices().len();
            if count > 0 {
                move_arrow(model, key.code, count);
                model.input.reset();
            }
        }
        KeyCode::Char('?') if model.input.value().is_empty() => model.go(Page::Help),
        KeyCode::Esc if model.input.value().is_empty() => model.say("F10 leaves; everything is saved."),
        KeyCode::Esc => model.say("The text stays. Backspace takes letters away."),
        _ if snapshot.review => model.warn("This is a review: nothing can be entered."),
        _ => {
            model.said = None;
            model.arrow = None;
            type_key(&mut model.input, key);
        }
    }
    None
}

fn enter(model: &mut Model, snapshot: &Snapshot) -> Option<Effect> {
    if snapshot.review {
        model.warn("This is a review: nothing can be entered.");
        return None;
    }
    let typed = model.input.value().trim().to_owned();
    let chosen = model.arrow.and_then(|at| snapshot.choices().get(at).copied());
    let text = match (typed.is_empty(), chosen) {
        (false, _) => typed,
        (true, Some(word)) => word.to_owned(),
        (true, None) => return None,
    };
    model.input.reset();
    Some(Effect::Take(Command::Enter { text, sure: None }))
}

fn act(model: &mut Model, snapshot: &Snapshot, action: Action) -> Option<Effect> {
    match action {
        Action::Help => model.go(Page::Help),
        Action::Big => model.go(Page::Big),
        Action::Trail => model.go(Page::Trail),
        Action::Leave => return Some(if snapshot.review { Effect::Front } else { Effect::Leave }),
        _ if snapshot.review => model.warn("This is a review: nothing can be changed."),
        Action::Happened => model.go(Page::Happened),
        Action::Note => reason(model, ReasonFor::Note),
        Action::Seal => seal(model, snapshot),
        Action::CrossOut => {
            let last = snapshot.readings.iter().rev().find(|reading| !reading.struck && !reading.void);
            match last {
                Some(reading) => reason(model, ReasonFor::Strike(reading.seq)),
                None => model.warn("Nothing entered in this step yet. F3 shows the whole trail."),
            }
        }
        Action::Again => match failed_gate(snapshot, false) {
            Some(gate) => reason(model, ReasonFor::Again(gate)),
            None => model.warn("No gate stands in the way."),
        },
        Action::GoOn => match failed_gate(snapshot, true) {
            Some(gate) => reason(model, ReasonFor::GoOn(gate)),
            None => model.warn("There is no gate here that may be passed with a reason."),
        },
        Action::Confirm => {}
    }
    None
}

fn seal(model: &mut Model, snapshot: &Snapshot) {
    if snapshot.consultation.is_some() {
        model.warn(format!("Not yet: {} is open.", snapshot.step));
    } else {
        reason(model, ReasonFor::Seal);
    }
}

fn failed_gate(snapshot: &Snapshot, may_pass: bool) -> Option<String> {
    let gates = &snapshot.consultation.as_ref()?.gates;
    let fits = |kind: GateKind| !may_pass || kind == GateKind::Ask;
    gates.iter().find(|gate| gate.state == GateState::Fail && fits(gate.kind)).map(|gate| gate.id.to_owned())
}

fn reason(model: &mut Model, what: ReasonFor) {
    model.reason.reset();
    model.panel = Some(Panel::Reason(what));
}

/// A panel is answered with an arrow and F5; a gauge's Enter never answers it.
fn on_panel(
    model: &mut Model,
    snapshot: Option<&Snapshot>,
    panel: &Panel,
    key: &KeyEvent,
    ends: bool,
) -> Option<Effect> {
    match panel {
        Panel::Doubt(at) => on_doubt(model, *at, key),
        Panel::Reason(what) => on_reason(model, snapshot, what, key, ends),
    }
}

fn on_doubt(model: &mut Model, at: usize, key: &KeyEvent) -> Option<Effect> {
    match key.code {
        KeyCode::Up => model.panel = Some(Panel::Doubt(0)),
        KeyCode::Down => model.panel = Some(Panel::Doubt(1)),
        KeyCode::F(5) if at == 1 => reason(model, ReasonFor::Sure),
        KeyCode::F(5) | KeyCode::Esc => {
            model.panel = None;
            model.say("Let go. Type the reading again.");
            return Some(Effect::DropDoubt);
        }
        _ => model.warn("Not taken: answer the question first, with an arrow and F5."),
    }
    None
}

fn on_reason(
    model: &mut Model,
    snapshot: Option<&Snapshot>,
    what: &ReasonFor,
    key: &KeyEvent,
    ends: bool,
) -> Option<Effect> {
    match key.code {
        KeyCode::Esc => {
            model.panel = if *what == ReasonFor::Sure { Some(Panel::Doubt(1)) } else { None };
            None
        }
        KeyCode::F(5) => confirm_reason(model, snapshot, what),
        _ if ends => {
            model.warn("F5 confirms a reason; Enter does not.");
            None
        }
        _ => {
            type_key(&mut model.reason, key);
            None
        }
    }
}

fn confirm_reason(model: &mut Model, snapshot: Option<&Snapshot>, what: &ReasonFor) -> Option<Effect> {
    let text = model.reason.value().to_owned();
    if *what == ReasonFor::Seal && text.trim() != "seal" {
        model.warn("Type the word seal, then F5: nothing can be added afterwards.");
        return None;
    }
    let by = snapshot.map(|snapshot| snapshot.by.clone()).unwrap_or_default();
    model.panel = None;
    model.page = Page::Step;
    Some(reasoned(what, &text, &by))
}

fn on_trail(model: &mut Model, snapshot: Option<&Snapshot>, key: &KeyEvent) -> Option<Effect> {
    let snapshot = snapshot?;
    let count = snapshot.trail.len();
    let at = model.arrow.unwrap_or_else(|| count.saturating_sub(1));
    match key.code {
        KeyCode::Up => model.arrow = Some(at.saturating_sub(1)),
        KeyCode::Down => model.arrow = Some((at + 1).min(count.saturating_sub(1))),
        KeyCode::PageUp => model.arrow = Some(at.saturating_sub(10)),
        KeyCode::PageDown => model.arrow = Some((at + 10).min(count.saturating_sub(1))),
        KeyCode::Home => model.arrow = Some(0),
        KeyCode::End => model.arrow = Some(count.saturating_sub(1)),
        KeyCode::F(1) | KeyCode::Char('?') => model.go(Page::Help),
        KeyCode::F(4) if !snapshot.review => {
            let line = snapshot.trail.get(at)?;
            reason(model, ReasonFor::Strike(line.seq));
        }
        KeyCode::F(10) => return Some(if snapshot.review { Effect::Front } else { Effect::Leave }),
        KeyCode::Esc | KeyCode::F(3) => {
            model.page = Page::Step;
            model.arrow = None;
        }
        _ => {}
    }
    None
}

fn on_happened(model: &mut Model, key: &KeyEvent, ends: bool) -> Option<Effect> {
    match key.code {
        KeyCode::Up | KeyCode::Down => move_arrow(model, key.code, Happening::ALL.len()),
        KeyCode::Esc => model.page = Page::Step,
        KeyCode::F(5) => {
            let what = model.arrow.and_then(|at| Happening::ALL.get(at).copied())?;
            model.page = Page::Step;
            return Some(Effect::Take(Command::Happened { what }));
        }
        _ if ends => model.warn("F5 confirms what the arrow stands on; Enter does not."),
        _ => {}
    }
    None
}
