//! The keys: one table, from which the bottom line and the help page are made.

use crossterm::event::KeyCode;

/// What a function key means.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Action {
    /// Every key of this page.
    Help,
    /// The next number as large as the screen allows.
    Big,
    /// The whole log.
    Trail,
    /// Cross out the last entry.
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
}

/// A key with its action, its short word for the bottom line and its sentence for the help page.
pub(super) struct Binding {
    /// The function key.
    pub(super) key: u8,
    /// What it means.
    pub(super) action: Action,
    /// Word on the bottom line.
    pub(super) short: &'static str,
    /// Sentence on the help page.
    pub(super) long: &'static str,
}

/// Every function key.
pub(super) static BINDINGS: [Binding; 11] = [
    Binding { key: 1, action: Action::Help, short: "keys", long: "this page (? does the same on an empty line)" },
    Binding { key: 2, action: Action::Big, short: "big", long: "the next number as large as the screen allows" },
    Binding { key: 3, action: Action::Trail, short: "trail", long: "everything so far; cross out from there" },
    Binding { key: 4, action: Action::CrossOut, short: "cross out", long: "cross out the last entry, with a reason" },
    Binding {
        key: 5,
        action: Action::Confirm,
        short: "confirm",
        long: "confirm a reason, or what the arrows chose (Enter never does)",
    },
    Binding {
        key: 6,
        action: Action::Again,
        short: "again",
        long: "cross out all that a failed gate rests on, and measure again",
    },
    Binding {
        key: 7,
        action: Action::GoOn,
        short: "go on with reason",
        long: "go on past a gate that may be passed, with a reason",
    },
    Binding {
        key: 8,
        action: Action::Happened,
        short: "happened",
        long: "power cut, bump, handover, ...: what is void is worked out",
    },
    Binding { key: 9, action: Action::Note, short: "note", long: "write a note into the log" },
    Binding { key: 10, action: Action::Leave, short: "leave", long: "leave; everything is saved" },
    Binding {
        key: 12,
        action: Action::Seal,
        short: "seal",
        long: "close the session for good, when every step is closed",
    },
];

/// The keys that are no function keys, for the help page.
pub(super) static OTHERS: [(&str, &str); 6] = [
    ("Enter", "take what was typed, or the choice under the arrow"),
    ("Up Down", "choose; scroll"),
    ("Esc", "back; typed text stays"),
    ("?", "keys, on an empty line"),
    ("Ctrl-C", "leave at once; everything is saved"),
    ("Ctrl-Z", "stop the program; fg brings it back"),
];

/// Finds the action of a key.
pub(super) fn action(code: KeyCode) -> Option<Action> {
    let KeyCode::F(number) = code else { return None };
    BINDINGS.iter().find(|binding| binding.key == number).map(|binding| binding.action)
}

/// Writes keys for the bottom line: `F4 cross out last`.
pub(super) fn line(actions: &[Action]) -> String {
    let shown = actions.iter().filter_map(|action| BINDINGS.iter().find(|binding| binding.action == *action));
    let words: Vec<String> = shown.map(|binding| format!("F{} {}", binding.key, binding.short)).collect();
    words.join("  ")
}
