//! What the screen remembers between two keys: plain data.

use std::path::PathBuf;

use tui_input::Input;

use crate::calc::{self, Calculation, Questionnaire};
use crate::job::{CardUnit, Draft, DraftRow, FieldRow, Task};

/// A row of the front page.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct FrontRow {
    /// What Enter does on it, in a word or two.
    pub(super) verb: &'static str,
    /// What it is about.
    pub(super) title: String,
    /// Where it stands.
    pub(super) place: String,
    /// How long ago it stopped.
    pub(super) when: String,
    /// What is void, when something is.
    pub(super) void: String,
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
    /// The sums of the trade.
    Sums,
    /// The job cards, to make or change one.
    Cards,
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
    /// The whole log of a session that is only looked at, with a cursor through time.
    Past,
    /// A step as it stood in the past.
    Then,
    /// The keys.
    Help,
    /// What happened?
    Happened,
    /// Every calculation.
    Sums,
    /// One calculation, asked one input at a time.
    Sum,
    /// The job cards.
    Cards,
    /// One job card, field by field.
    Card,
    /// The fields that a card could have besides.
    PutOn,
}

impl Page {
    /// Every page.
    #[cfg(test)]
    pub(super) const ALL: [Self; 14] = [
        Self::Front,
        Self::Who,
        Self::Step,
        Self::Big,
        Self::Trail,
        Self::Past,
        Self::Then,
        Self::Help,
        Self::Happened,
        Self::Sums,
        Self::Sum,
        Self::Cards,
        Self::Card,
        Self::PutOn,
    ];
}

/// A job card that can be changed, or copied and changed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct CardRow {
    /// What it is.
    pub(super) title: String,
    /// Its file; `None` for a practice card, of which a copy is made.
    pub(super) path: Option<PathBuf>,
    /// The short name of a practice card.
    pub(super) practice: Option<&'static str>,
}

/// A job card on the table.
#[derive(Debug, Clone)]
pub(super) struct CardTable {
    /// The card.
    pub(super) draft: Draft,
    /// The field whose value is being typed.
    pub(super) typing: Option<String>,
    /// Whether it holds anything that its file does not.
    pub(super) changed: bool,
    /// Whether leaving without keeping was asked once.
    pub(super) asked: bool,
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
    /// What a list is narrowed by.
    pub(super) find: Input,
    /// The front page's rows, as far as they are read.
    pub(super) rows: Vec<FrontRow>,
    /// Sessions that are still to be read for the front page.
    pub(super) unread: usize,
    /// Whether the plot is wanted where only picture or plot has room; `None` leaves it to the page.
    pub(super) plot_wanted: Option<bool>,
    /// What an entry changed, or what crossing it out would change, in words.
    pub(super) changes: Vec<String>,
    /// The calculation that is being asked.
    pub(super) sum: Option<Questionnaire>,
    /// What came out of it: a row an output, or why there is no answer.
    pub(super) outcome: Option<Result<Vec<String>, String>>,
    /// The job cards that can be changed.
    pub(super) cards: Vec<CardRow>,
    /// The card on the table.
    pub(super) card: Option<CardTable>,
    /// Whether the last key ended a reading, so that a line feed right after it belongs to it.
    pub(super) just_entered: bool,
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
            find: Input::default(),
            rows: Vec::new(),
            unread: 0,
            plot_wanted: None,
            changes: Vec::new(),
            sum: None,
            outcome: None,
            cards: Vec::new(),
            card: None,
            just_entered: false,
            bell: false,
        }
    }

    /// Goes to a page and remembers where it came from.
    pub(super) fn go(&mut self, page: Page) {
        self.back = self.page;
        self.page = page;
        self.arrow = None;
        self.said = None;
        self.find.reset();
    }

    /// Returns whether a row of a list is shown: it holds everything that was typed to find it, in any order.
    pub(super) fn finds(&self, words: &str) -> bool {
        let words = words.to_lowercase();
        self.find.value().to_lowercase().split_whitespace().all(|wanted| words.contains(wanted))
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

    /// Returns whether the bell is due, and takes the debt away.
    pub(super) fn take_bell(&mut self) -> bool {
        std::mem::take(&mut self.bell)
    }

    /// Lists the rows of the front page that are shown.
    pub(super) fn found_rows(&self) -> Vec<&FrontRow> {
        self.rows
            .iter()
            .filter(|row| self.finds(&format!("{} {} {} {}", row.verb, row.title, row.place, row.void)))
            .collect()
    }

    /// Lists the calculations that are shown.
    pub(super) fn found_sums(&self) -> Vec<&'static Calculation> {
        calc::all().filter(|one| self.finds(&format!("{} {} {}", one.id, one.question, one.topic))).collect()
    }

    /// Lists the job cards that are shown.
    pub(super) fn found_cards(&self) -> Vec<&CardRow> {
        self.cards.iter().filter(|row| self.finds(&row.title)).collect()
    }

    /// Lists the fields of the card that are shown.
    pub(super) fn found_fields(&self) -> Vec<DraftRow> {
        let rows = self.card.as_ref().map(|table| table.draft.rows()).unwrap_or_default();
        rows.into_iter().filter(|row| self.finds(&format!("{} {}", row.path, row.text))).collect()
    }

    /// Lists the fields that the card could have besides and that are shown.
    pub(super) fn found_absent(&self) -> Vec<FieldRow> {
        let rows = self.card.as_ref().map(|table| table.draft.absent()).unwrap_or_default();
        rows.into_iter().filter(|row| self.finds(&format!("{} {}", row.path, row.meaning))).collect()
    }
}
