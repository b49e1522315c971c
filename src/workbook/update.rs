//! What a key, a paste or a gauge does. Nothing is recorded here; at most one effect is asked for.

use crossterm::event::{Event, KeyCode, KeyEvent, KeyModifiers};
use tui_input::backend::crossterm::EventHandler;

use crate::checklist::{Command, GateKind, GateState, Happening};
use crate::session::is_initials;
use crate::workbook::effects::{Effect, reasoned};
use crate::workbook::keymap::{Action, action};
use crate::workbook::model::{Model, Page, Panel, ReasonFor};
use crate::workbook::snapshot::Snapshot;

mod cards;
mod lists;
mod sums;

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
    if matches!(model.panel, Some(Panel::Doubt(_))) {
        return model.warn("Not taken: answer the question first, with an arrow and F5.");
    }
    for letter in text.chars().filter(|letter| !letter.is_control()).take(LONGEST_TYPED) {
        typed_into(model).handle(tui_input::InputRequest::InsertChar(letter));
    }
}

/// The line that letters go into now.
fn typed_into(model: &mut Model) -> &mut tui_input::Input {
    let typing = model.card.as_ref().is_some_and(|table| table.typing.is_some());
    match (&model.panel, model.page) {
        (Some(Panel::Reason(_)), _) => &mut model.reason,
        (_, Page::Front | Page::Trail | Page::Past | Page::Sums | Page::Cards | Page::PutOn) => &mut model.find,
        (_, Page::Card) if !typing => &mut model.find,
        _ => &mut model.input,
    }
}

/// The most letters that a line takes.
const LONGEST_TYPED: usize = 200;

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
    if asks_help(model, key) {
        model.go(Page::Help);
        return None;
    }
    match model.page {
        Page::Front => lists::on_front(model, key, ends.is_some()),
        Page::Who => on_who(model, key, ends.is_some()),
        Page::Help => on_help(model, key, ends.is_some()),
        Page::Trail | Page::Past => lists::on_trail(model, snapshot?, key, ends.is_some()),
        Page::Then => on_then(model, snapshot?, key),
        Page::Happened => on_happened(model, key, ends.is_some()),
        Page::Step | Page::Big => on_step(model, snapshot?, key, ends.is_some()),
        Page::Sums => lists::on_sums(model, key, ends.is_some()),
        Page::Sum => sums::on_sum(model, key, ends.is_some()),
        Page::Cards => lists::on_cards(model, key, ends.is_some()),
        Page::Card => cards::on_card(model, key, ends.is_some()),
        Page::PutOn => cards::on_put_on(model, key, ends.is_some()),
    }
}

/// F1 everywhere; a question mark where nothing has been typed and nothing of the kind could be meant.
fn asks_help(model: &Model, key: &KeyEvent) -> bool {
    let typing = model.card.as_ref().is_some_and(|table| table.typing.is_some());
    let empty = model.input.value().is_empty() && model.find.value().is_empty() && !typing;
    model.page != Page::Help && (key.code == KeyCode::F(1) || key.code == KeyCode::Char('?') && empty)
}

fn on_help(model: &mut Model, key: &KeyEvent, ends: bool) -> Option<Effect> {
    match key.code {
        KeyCode::Down => model.arrow = Some(model.arrow.unwrap_or(0) + 1),
        KeyCode::Up => model.arrow = Some(model.arrow.unwrap_or(0).saturating_sub(1)),
        _ if ends || matches!(key.code, KeyCode::Esc | KeyCode::F(_) | KeyCode::Char('?')) => {
            model.page = model.back;
            model.arrow = None;
        }
        _ => {}
    }
    None
}

/// A step of the past: earlier and later, or back to the whole log.
fn on_then(model: &mut Model, snapshot: &Snapshot, key: &KeyEvent) -> Option<Effect> {
    let at = snapshot.past.as_ref().map_or(0, |past| past.seq);
    let place = usize::try_from(at).unwrap_or(0);
    match key.code {
        KeyCode::Left | KeyCode::Up => return Some(Effect::GoTo(place)),
        KeyCode::Right | KeyCode::Down => return Some(Effect::GoTo(place + 2)),
        KeyCode::Home => return Some(Effect::GoTo(1)),
        KeyCode::End => return Some(Effect::GoTo(snapshot.trail.len())),
        KeyCode::Esc | KeyCode::F(3) => {
            model.go(Page::Past);
            model.arrow = Some(place);
        }
        _ => model.warn("This is the past: nothing can be entered."),
    }
    None
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
    if input.value().len() < LONGEST_TYPED || !matches!(key.code, KeyCode::Char(_)) {
        input.handle_event(&Event::Key(*key));
    }
}

fn on_step(model: &mut Model, snapshot: &Snapshot, key: &KeyEvent, ends: bool) -> Option<Effect> {
    if ends {
        return enter(model, snapshot);
    }
    if let Some(action) = action(key.code, model.page) {
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
        KeyCode::Left | KeyCode::Right if model.input.value().is_empty() => {
            model.plot_wanted = Some(key.code == KeyCode::Right);
        }
        KeyCode::Esc if model.page == Page::Big => model.page = Page::Step,
        KeyCode::Esc if model.input.value().is_empty() => model.say("F10 leaves; everything is saved."),
        KeyCode::Esc => model.say("The text stays. Backspace takes letters away."),
        _ => {
            model.said = None;
            model.arrow = None;
            type_key(&mut model.input, key);
        }
    }
    None
}

fn enter(model: &mut Model, snapshot: &Snapshot) -> Option<Effect> {
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
        Action::Big => model.page = if model.page == Page::Big { Page::Step } else { Page::Big },
        Action::Trail => {
            model.changes.clear();
            model.go(Page::Trail);
        }
        Action::Leave => return Some(Effect::Leave),
        Action::Happened => model.go(Page::Happened),
        Action::Note => reason(model, ReasonFor::Note),
        Action::Seal => seal(model, snapshot),
        Action::CrossOut => {
            let last = snapshot.readings.iter().rev().find(|reading| !reading.struck && !reading.void);
            match last {
                Some(reading) => return Some(strike(model, reading.seq)),
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
        // Enter, arrows and the keys of other pages come here on their own ways.
        _ => {}
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

/// Asks why an entry is crossed out, and has it worked out what that would change.
fn strike(model: &mut Model, seq: u64) -> Effect {
    reason(model, ReasonFor::Strike(seq));
    Effect::Weigh(seq)
}

fn reason(model: &mut Model, what: ReasonFor) {
    model.reason.reset();
    model.said = None;
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
