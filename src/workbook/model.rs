//! What the screen remembers between two keys: plain data.

use std::path::PathBuf;

use tui_input::Input;

use crate::job::{CardUnit, Task};

/// A row of the front page.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct FrontRow {
    /// What it says.
    pub(super) words: String,
    /// What Enter does on it.
    pub(super) opens: Opens,
}

/// What a row of the front page opens.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Opens {
    /// An unfinished session.
    Resume(PathBuf),
    /// A new session from a card of the shop.
    Card(PathBuf),
    /// A new session from a practice card.
    Practice(&'static str),
    /// A quick task without a card, in a unit.
    Quick(Task, CardUnit),
    /// A session to look at.
    Review(PathBuf),
}

/// Which page is shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Page {
    /// The front page.
    Front,
    /// Who is at the machine?
    Who,
    /// The current step.
    Step,
    /// The next number as large as possible.
    Big,
    /// The whole log.
    Trail,
    /// The keys.
    Help,
    /// What happened?
    Happened,
}

/// What a reason is asked for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum ReasonFor {
    /// Keeping a doubted value.
    Sure,
    /// Crossing out an entry.
    Strike(u64),
    /// Crossing out all that a gate rests on.
    Again(String),
    /// Going on past a gate.
    GoOn(String),
    /// A note.
    Note,
    /// Closing for good: the word `seal` is wanted.
    Seal,
}

/// A panel over the page that Enter can never answer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Panel {
    /// Sure? The arrow stands on 0 (type it again) or 1 (keep it).
    Doubt(usize),
    /// A reason is being typed.
    Reason(ReasonFor),
}

/// What the screen remembers.
#[derive(Debug, Clone)]
pub(super) struct Model {
    /// The page shown.
    pub(super) page: Page,
    /// The page to go back to.
    pub(super) back: Page,
    /// The panel over it.
    pub(super) panel: Option<Panel>,
    /// What is being typed.
    pub(super) input: Input,
    /// The reason being typed.
    pub(super) reason: Input,
    /// Where the arrow stands in a list; `None` before the first arrow.
    pub(super) arrow: Option<usize>,
    /// What was said last, and whether it is bad news.
    pub(super) said: Option<(String, bool)>,
    /// The front page's rows; `None` until they are read.
    pub(super) rows: Option<Vec<FrontRow>>,
    /// Whether the last key ended a reading, so that a line feed right after it belongs to it.
    pub(super) just_entered: bool,
    stale: bool,
    bell: bool,
}

impl Model {
    /// Begins on the front page.
    pub(super) fn new() -> Self {
        Self {
            page: Page::Front,
            back: Page::Front,
            panel: None,
            input: Input::default(),
            reason: Input::default(),
            arrow: None,
            said: None,
            rows: None,
            just_entered: false,
            stale: false,
            bell: false,
        }
    }

    /// Goes to a page and remembers where it came from.
    pub(super) fn go(&mut self, page: Page) {
        self.back = self.page;
        self.page = page;
        self.arrow = None;
    }

    /// Says something good or neutral.
    pub(super) fn say(&mut self, words: impl Into<String>) {
        self.said = Some((words.into(), false));
    }

    /// Says something that was not taken, with a bell.
    pub(super) fn warn(&mut self, words: impl Into<String>) {
        self.said = Some((words.into(), true));
        self.bell = true;
    }

    /// Marks the page as changed after it was drawn.
    pub(super) fn touch(&mut self) {
        self.stale = true;
    }

    /// Returns whether the page changed after it was drawn.
    pub(super) const fn is_stale(&self) -> bool {
        self.stale
    }

    /// The page has been drawn.
    pub(super) fn freshen(&mut self) {
        self.stale = false;
    }

    /// Returns whether the bell is due, and takes the debt away.
    pub(super) fn take_bell(&mut self) -> bool {
        std::mem::take(&mut self.bell)
    }
}
