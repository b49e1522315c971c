//! One calculation, asked an input at a time.

use crossterm::event::{KeyCode, KeyEvent};

use crate::calc;
use crate::workbook::effects::Effect;
use crate::workbook::model::{Model, Page};
use crate::workbook::update::{move_arrow, type_key};

/// Takes a key on the page of a calculation.
pub(super) fn on_sum(model: &mut Model, key: &KeyEvent, ends: bool) -> Option<Effect> {
    if ends {
        answer(model);
        return None;
    }
    match key.code {
        KeyCode::Esc | KeyCode::F(10) => back(model),
        KeyCode::Up | KeyCode::Down => {
            let count = model.sum.as_ref().and_then(calc::Questionnaire::next).map_or(0, |asked| asked.choices.len());
            if count > 0 {
                move_arrow(model, key.code, count);
                model.input.reset();
            }
        }
        _ if model.outcome.is_none() => {
            model.said = None;
            model.arrow = None;
            type_key(&mut model.input, key);
        }
        _ => {}
    }
    None
}

/// Takes what was typed, or the word under the arrow; after the last one the calculation is made.
fn answer(model: &mut Model) {
    if model.outcome.is_some() {
        return;
    }
    let Some(form) = &mut model.sum else { return };
    let typed = model.input.value().trim().to_owned();
    let choices = form.next().map(|asked| asked.choices).unwrap_or_default();
    let chosen = model.arrow.and_then(|at| choices.get(at)).map(|word| (*word).to_owned());
    let text = if typed.is_empty() { chosen.unwrap_or_default() } else { typed };
    if let Err(why) = form.answer(&text) {
        // What was typed stays on the line.
        return model.warn(why);
    }
    let inputs = form.inputs();
    let id = form.calculation().id;
    model.input.reset();
    model.arrow = None;
    model.said = None;
    model.outcome = inputs.map(|inputs| match calc::reckon(id, &inputs) {
        Ok(outputs) => Ok(outputs
            .iter()
            .map(|(key, value)| format!("{}: {}", key.replace('_', " "), calc::shown(value)))
            .collect()),
        Err(refused) => Err(format!("{}: {}", refused.input.replace('_', " "), refused.reason)),
    });
}

/// Takes the last answer back, so that it can be changed; from the first one on, back to the list.
fn back(model: &mut Model) {
    model.outcome = None;
    model.said = None;
    if let Some(text) = model.sum.as_mut().and_then(calc::Questionnaire::back) {
        model.input = tui_input::Input::new(text);
    } else {
        model.sum = None;
        model.input.reset();
        model.go(Page::Sums);
    }
}
