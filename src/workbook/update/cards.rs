//! A job card on the table: fields changed one by one.

use crossterm::event::{KeyCode, KeyEvent};

use crate::workbook::effects::Effect;
use crate::workbook::keymap::{Action, action};
use crate::workbook::model::{Model, Page};
use crate::workbook::update::lists::walk;
use crate::workbook::update::type_key;

/// Takes a key on the page of a card.
pub(super) fn on_card(model: &mut Model, key: &KeyEvent, ends: bool) -> Option<Effect> {
    if model.card.as_ref().is_some_and(|table| table.typing.is_some()) {
        typing(model, key, ends);
        return None;
    }
    let rows = model.found_fields();
    let field = rows.get(model.arrow.unwrap_or(0)).cloned();
    if ends {
        let field = field?;
        model.input = tui_input::Input::new(field.text);
        model.card.as_mut()?.typing = Some(field.path);
        model.said = None;
        return None;
    }
    if let Some(action) = action(key.code, Page::Card) {
        return act(model, action, field.map(|field| field.path));
    }
    if walk(model, key, rows.len(), 0) {
        model.said = None;
        if let Some(table) = &mut model.card {
            table.asked = false;
        }
    } else if matches!(key.code, KeyCode::Esc | KeyCode::F(10)) {
        return leave(model);
    }
    None
}

fn typing(model: &mut Model, key: &KeyEvent, ends: bool) {
    let Some(table) = &mut model.card else { return };
    if ends {
        if let Some(path) = table.typing.take() {
            table.draft.set(&path, model.input.value());
            table.changed = true;
        }
        model.input.reset();
    } else if key.code == KeyCode::Esc {
        table.typing = None;
        model.input.reset();
        model.say("Left as it was.");
    } else {
        type_key(&mut model.input, key);
    }
}

fn act(model: &mut Model, action: Action, path: Option<String>) -> Option<Effect> {
    let table = model.card.as_mut()?;
    match action {
        Action::Keep => {
            let faults = table.draft.faults();
            match faults.first() {
                None => return Some(Effect::KeepCard),
                Some(fault) => {
                    let words = format!("Not kept: {}: {}. {}", fault.path, fault.what, fault.hint);
                    model.warn(words);
                }
            }
        }
        Action::TakeOff => {
            if table.draft.take_off(&path?) {
                table.changed = true;
            } else {
                model.warn("This field must stand on the card.");
            }
        }
        Action::Another => {
            if table.draft.another(&path?) {
                table.changed = true;
                model.say("Another entry stands behind it: change what differs.");
            } else {
                model.warn("This field stands in no list.");
            }
        }
        Action::PutOn => model.go(Page::PutOn),
        _ => {}
    }
    None
}

/// Leaves the card; what is not kept is asked about once.
fn leave(model: &mut Model) -> Option<Effect> {
    let table = model.card.as_mut()?;
    if table.changed && !table.asked {
        table.asked = true;
        model.warn("Not kept yet: F5 keeps the card, Esc once more lets the changes go.");
        return None;
    }
    model.card = None;
    Some(Effect::ListCards)
}

/// Takes a key on the page of fields that the card could have besides.
pub(super) fn on_put_on(model: &mut Model, key: &KeyEvent, ends: bool) -> Option<Effect> {
    let rows = model.found_absent();
    if ends {
        let row = rows.get(model.arrow.unwrap_or(0))?;
        model.input.reset();
        model.go(Page::Card);
        model.card.as_mut()?.typing = Some(row.path.clone());
        return None;
    }
    if !walk(model, key, rows.len(), 0) && key.code == KeyCode::Esc {
        model.go(Page::Card);
    }
    None
}
