//! The keys: one table, from which what a key does, the bottom line and the help of each page are made.

use crossterm::event::KeyCode;

use crate::workbook::model::Page;

/// What a key means.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Action {
    /// Every key of this page.
    Help,
    /// The next number as large as the screen allows.
    Big,
    /// The whole log.
    Trail,
    /// Cross out an entry.
    CrossOut,
    /// Confirm what the arrows have chosen, or a reason.
    Confirm,
    /// Cross out what a failed gate rests on and measure again.
    Again,
    /// Go on past a gate with a reason.
    GoOn,
    /// Tell what happened.
    Happened,
    /// Write a note.
    Note,
    /// Leave; everything is saved.
    Leave,
    /// Close the session for good.
    Seal,
    /// Take what was typed.
    Take,
    /// Open what the arrow stands on.
    Open,
    /// Move the arrow.
    Move,
    /// Narrow a list by typing.
    Find,
    /// Back to where one came from.
    Back,
    /// One event earlier or later in a log that is played back.
    Earlier,
    /// Picture or plot, where only one has room.
    Plot,
    /// Keep the card in its file.
    Keep,
    /// Take a field or an entry of a list off the card.
    TakeOff,
    /// Put another entry into a list of the card.
    Another,
    /// Put a field onto the card.
    PutOn,
}

/// A key with what it means, its short word for the bottom line, its sentence for the help, and the pages it works on.
pub(super) struct Binding {
    /// The key as it is written on the bottom line.
    pub(super) key: &'static str,
    /// What it means.
    pub(super) action: Action,
    /// Word on the bottom line.
    pub(super) short: &'static str,
    /// Sentence on the help page.
    pub(super) long: &'static str,
    /// The pages on which it works.
    pub(super) pages: &'static [Page],
}

const fn bind(
    key: &'static str,
    action: Action,
    short: &'static str,
    long: &'static str,
    pages: &'static [Page],
) -> Binding {
    Binding { key, action, short, long, pages }
}

/// Lists with an arrow.
const LISTS: &[Page] = &[Page::Front, Page::Trail, Page::Past, Page::Sums, Page::Cards, Page::Card, Page::PutOn];

/// Every key of every page, in the order of the bottom line.
pub(super) static BINDINGS: &[Binding] = &[
    bind(
        "Enter",
        Action::Take,
        "take",
        "take what was typed, or the choice under the arrow",
        &[Page::Step, Page::Big, Page::Who, Page::Sum],
    ),
    bind("Enter", Action::Open, "open", "open what the arrow stands on", &[Page::Front, Page::Sums, Page::Cards]),
    bind("Enter", Action::Open, "change", "type another value for the field under the arrow", &[Page::Card]),
    bind("Enter", Action::Open, "put on", "put the field under the arrow onto the card", &[Page::PutOn]),
    bind(
        "Enter",
        Action::Open,
        "what it changed",
        "which steps stand otherwise since the entry under the arrow",
        &[Page::Trail],
    ),
    bind("Enter", Action::Open, "the step then", "the step as it stood after the entry under the arrow", &[Page::Past]),
    bind("Up Down", Action::Move, "choose", "move the arrow; PgUp PgDn by ten, Home End to the ends", LISTS),
    bind("Up Down", Action::Move, "choose", "choose among the words offered", &[Page::Step, Page::Sum, Page::Happened]),
    bind(
        "letters",
        Action::Find,
        "find",
        "typing narrows the list, Backspace widens it",
        &[Page::Front, Page::Trail, Page::Past, Page::Sums, Page::Cards, Page::Card, Page::PutOn],
    ),
    bind("Left Right", Action::Earlier, "earlier, later", "go to the entry before or after", &[Page::Then]),
    bind(
        "Left Right",
        Action::Plot,
        "plot",
        "picture or plot, where only one has room (on an empty line)",
        &[Page::Step],
    ),
    bind(
        "F1",
        Action::Help,
        "keys",
        "the keys of this page and its cautions (? does the same on an empty line)",
        &[
            Page::Front,
            Page::Who,
            Page::Step,
            Page::Big,
            Page::Trail,
            Page::Past,
            Page::Then,
            Page::Happened,
            Page::Sums,
            Page::Sum,
            Page::Cards,
            Page::Card,
            Page::PutOn,
        ],
    ),
    bind(
        "F2",
        Action::Big,
        "big",
        "the next number as large as the screen allows; one can type there too",
        &[Page::Step],
    ),
    bind("F2", Action::Big, "back", "back to the step", &[Page::Big]),
    bind("F3", Action::Trail, "trail", "everything so far; cross out from there", &[Page::Step, Page::Big, Page::Then]),
    bind("F4", Action::CrossOut, "cross out", "cross out the last entry, with a reason", &[Page::Step]),
    bind("F4", Action::CrossOut, "cross out", "cross out the entry under the arrow, with a reason", &[Page::Trail]),
    bind("F4", Action::TakeOff, "take off", "take the field or the entry of a list off the card", &[Page::Card]),
    bind(
        "F5",
        Action::Confirm,
        "confirm",
        "confirm a reason, or what the arrows chose (Enter never does)",
        &[Page::Step, Page::Trail, Page::Happened],
    ),
    bind("F5", Action::Keep, "keep", "keep the card in its file; it must hold no fault", &[Page::Card]),
    bind("F6", Action::Again, "again", "cross out all that a failed gate rests on, and measure again", &[Page::Step]),
    bind(
        "F6",
        Action::Another,
        "another",
        "another entry like the one under the arrow (feature, tool, ..)",
        &[Page::Card],
    ),
    bind("F7", Action::GoOn, "go on with reason", "go on past a gate that may be passed, with a reason", &[Page::Step]),
    bind("F7", Action::PutOn, "put on", "put a field onto the card that is not there yet", &[Page::Card]),
    bind(
        "F8",
        Action::Happened,
        "happened",
        "power cut, bump, handover, ..: what is void is worked out",
        &[Page::Step],
    ),
    bind("F9", Action::Note, "note", "write a note into the log", &[Page::Step]),
    bind("F12", Action::Seal, "seal", "close the session for good, when every step is closed", &[Page::Step]),
    bind(
        "Esc",
        Action::Back,
        "back",
        "back; typed text stays",
        &[Page::Trail, Page::Then, Page::Happened, Page::Sums, Page::Cards, Page::PutOn, Page::Who, Page::Past],
    ),
    bind("Esc", Action::Back, "back", "one answer back; from the first one to the list", &[Page::Sum]),
    bind("Esc", Action::Back, "back", "back to the cards; what is not kept is asked about", &[Page::Card]),
    bind(
        "F10",
        Action::Leave,
        "leave",
        "leave; everything is saved",
        &[Page::Front, Page::Step, Page::Trail, Page::Big],
    ),
];

/// The keys that work everywhere, for the help.
pub(super) static EVERYWHERE: [(&str, &str); 2] =
    [("Ctrl-C", "leave at once; everything is saved"), ("Ctrl-Z", "stop the program; fg brings it back")];

/// Lists the keys of a page.
pub(super) fn of(page: Page) -> impl Iterator<Item = &'static Binding> {
    BINDINGS.iter().filter(move |binding| binding.pages.contains(&page))
}

/// Finds the action of a function key on a page.
pub(super) fn action(code: KeyCode, page: Page) -> Option<Action> {
    let KeyCode::F(number) = code else { return None };
    let name = format!("F{number}");
    of(page).find(|binding| binding.key == name).map(|binding| binding.action)
}

/// Writes the keys of a page for its bottom line, as many as fit into a width.
pub(super) fn bottom(page: Page, width: usize) -> String {
    fitted(of(page).collect(), width)
}

/// Writes the keys of some actions of a page, as many as fit into a width.
pub(super) fn within(page: Page, actions: &[Action], width: usize) -> String {
    let chosen = actions.iter().filter_map(|action| of(page).find(|binding| binding.action == *action)).collect();
    fitted(chosen, width)
}

/// Leaves keys out until the rest fits; the last one, which leads away, and those for help, confirming and keeping stay
/// longest.
fn fitted(mut bindings: Vec<&'static Binding>, width: usize) -> String {
    let kept = |action| matches!(action, Action::Help | Action::Keep | Action::Confirm);
    loop {
        let words: Vec<String> = bindings.iter().map(|binding| format!("{} {}", binding.key, binding.short)).collect();
        let line = words.join("  ");
        if line.chars().count() <= width || bindings.len() <= 1 {
            return line;
        }
        let last = bindings.len() - 1;
        let spare = bindings.iter().enumerate().rev().find(|(place, one)| *place < last && !kept(one.action));
        let out = spare.map_or(last, |(place, _)| place);
        bindings.remove(out);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_page_says_its_keys_in_forty_columns_and_never_gives_one_two_meanings() {
        for page in Page::ALL {
            assert!(bottom(page, 39).chars().count() <= 39, "{page:?}");
            let keys: Vec<&str> = of(page).map(|binding| binding.key).collect();
            for key in &keys {
                assert_eq!(keys.iter().filter(|other| other == &key).count(), 1, "{page:?}: {key}");
            }
        }
    }
}
