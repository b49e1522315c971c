//! Lists with an arrow, narrowed by typing: the front page, the trail, the sums, the cards.

use crossterm::event::{KeyCode, KeyEvent};

use crate::calc::Questionnaire;
use crate::workbook::effects::Effect;
use crate::workbook::model::{Model, Opens, Page};
use crate::workbook::snapshot::Snapshot;
use crate::workbook::update::{strike, type_key};

/// Moves the arrow of a list of so many rows, or narrows the list; returns whether the key was one for that.
pub(super) fn walk(model: &mut Model, key: &KeyEvent, count: usize, from: usize) -> bool {
    let last = count.saturating_sub(1);
    let at = model.arrow.unwrap_or(from).min(last);
    let to = match key.code {
        KeyCode::Up => at.saturating_sub(1),
        KeyCode::Down => (at + 1).min(last),
        KeyCode::PageUp => at.saturating_sub(10),
        KeyCode::PageDown => (at + 10).min(last),
        KeyCode::Home => 0,
        KeyCode::End => last,
        KeyCode::Char(_) | KeyCode::Backspace | KeyCode::Delete => {
            type_key(&mut model.find, key);
            model.arrow = None;
            return true;
        }
        KeyCode::Esc if !model.find.value().is_empty() => {
            model.find.reset();
            model.arrow = None;
            return true;
        }
        _ => return false,
    };
    model.arrow = Some(to);
    true
}

/// The front page.
pub(super) fn on_front(model: &mut Model, key: &KeyEvent, ends: bool) -> Option<Effect> {
    if ends {
        if model.unread > 0 && model.arrow.is_none() {
            model.warn("The sessions are still being read: choose a row with the arrows.");
            return None;
        }
        let opens = model.found_rows().get(model.arrow.unwrap_or(0)).map(|row| row.opens.clone())?;
        return open(model, opens);
    }
    let count = model.found_rows().len();
    // The first arrow down goes to the second row: the first one is chosen already.
    if walk(model, key, count, 0) {
        return None;
    }
    matches!(key.code, KeyCode::F(10) | KeyCode::Esc).then_some(Effect::Leave)
}

fn open(model: &mut Model, opens: Opens) -> Option<Effect> {
    match opens {
        Opens::Sums => {
            model.go(Page::Sums);
            None
        }
        other => Some(Effect::Open(other)),
    }
}

/// The whole log, of a session that goes on or of one that is over.
pub(super) fn on_trail(model: &mut Model, snapshot: &Snapshot, key: &KeyEvent, ends: bool) -> Option<Effect> {
    let found = snapshot.found(model);
    let last = found.len().saturating_sub(1);
    let at = model.arrow.unwrap_or(last).min(last);
    let line = found.get(at).and_then(|place| snapshot.trail.get(*place));
    if ends {
        let line = line?;
        return Some(if snapshot.review {
            Effect::GoTo(usize::try_from(line.seq).unwrap_or(0) + 1)
        } else {
            Effect::Look(line.seq)
        });
    }
    if walk(model, key, found.len(), last) {
        model.changes.clear();
        model.said = None;
        return None;
    }
    match key.code {
        KeyCode::F(4) if !snapshot.review => {
            let seq = line?.seq;
            return Some(strike(model, seq));
        }
        KeyCode::F(10) if !snapshot.review => return Some(Effect::Leave),
        KeyCode::Esc | KeyCode::F(10) if snapshot.review => return Some(Effect::Front),
        KeyCode::Esc | KeyCode::F(3) if !snapshot.review => {
            model.page = Page::Step;
            model.arrow = None;
            model.find.reset();
        }
        _ => {}
    }
    None
}

/// Every calculation.
pub(super) fn on_sums(model: &mut Model, key: &KeyEvent, ends: bool) -> Option<Effect> {
    if ends {
        let calculation = *model.found_sums().get(model.arrow.unwrap_or(0))?;
        model.sum = Some(Questionnaire::of(calculation));
        model.outcome = None;
        model.said = None;
        model.input.reset();
        model.go(Page::Sum);
        return None;
    }
    let count = model.found_sums().len();
    if !walk(model, key, count, 0) && key.code == KeyCode::Esc {
        model.go(Page::Front);
    }
    None
}

/// The job cards.
pub(super) fn on_cards(model: &mut Model, key: &KeyEvent, ends: bool) -> Option<Effect> {
    if ends {
        return model.found_cards().get(model.arrow.unwrap_or(0)).map(|row| Effect::LayOut((*row).clone()));
    }
    let count = model.found_cards().len();
    if !walk(model, key, count, 0) && key.code == KeyCode::Esc {
        model.go(Page::Front);
    }
    None
}
