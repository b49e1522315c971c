//! The screen: one instruction at a time, the next number the biggest thing, every key on the bottom line.
//!
//! [`Model`](model::Model) is plain data, `update` turns a message into changes and at most one effect, `view` draws.
//! What is shown of a session is a [`Snapshot`](snapshot::Snapshot) taken after each effect; nothing is computed here.

mod effects;
mod front;
mod keymap;
mod model;
mod snapshot;
mod terminal;
mod theme;
mod update;
mod view;

use std::io;
use std::path::PathBuf;

use crate::session::{House, Review, SessionError};
use effects::Desk;
use model::Model;
use terminal::{Message, Screen};
use theme::Theme;

/// How the screen is to look and who sits at it.
#[derive(Debug, Clone, Default)]
pub struct Options {
    /// Initials, when they are known.
    pub by: Option<String>,
    /// Whether colours are wanted.
    pub colour: bool,
    /// Whether only ASCII may be drawn.
    pub ascii: bool,
    /// For tests only: F11 panics, to show that the terminal is given back.
    pub test_panic: bool,
}

/// How the screen was left.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Ended {
    /// Left; the session, if one was open, can be resumed under this name.
    Left(Option<String>),
    /// Left with Ctrl-C; the same.
    Interrupted(Option<String>),
    /// The session was closed for good.
    Sealed(String),
    /// Somebody asked the program to end (SIGTERM).
    Terminated(Option<String>),
    /// The terminal went away.
    HungUp,
}

/// What can go wrong on the screen.
#[derive(Debug, thiserror::Error)]
pub enum WorkbookError {
    /// The session.
    #[error(transparent)]
    Session(#[from] SessionError),
    /// The terminal.
    #[error("the terminal cannot be used: {0}")]
    Terminal(#[from] io::Error),
}

/// What the screen begins with.
pub enum Start {
    /// The front page.
    Front,
    /// A new session from this card.
    Card(Box<crate::job::JobCard>),
    /// An unfinished session.
    Resume(PathBuf),
    /// A session to look at.
    Review(Box<Review>),
}

/// Runs the screen until it is left.
pub fn run(house: &House, start: Start, options: &Options) -> Result<Ended, WorkbookError> {
    let theme = Theme::new(options.colour, options.ascii);
    let mut desk = Desk::new(house.clone(), options.by.clone());
    let mut model = Model::new();
    let opened = desk.begin(start, &mut model);
    // Faults of opening are told on the normal screen, before the terminal is taken.
    opened?;
    let mut screen = Screen::take()?;
    match walk(&mut desk, &mut model, &mut screen, (theme, options)) {
        Err(WorkbookError::Terminal(error)) if terminal::is_gone(&error) => Ok(Ended::HungUp),
        other => other,
    }
}

/// Draws, waits, takes in, until the screen is left.
fn walk(
    desk: &mut Desk,
    model: &mut Model,
    screen: &mut Screen,
    (theme, options): (Theme, &Options),
) -> Result<Ended, WorkbookError> {
    loop {
        screen.draw(|frame| view::draw(frame, model, desk.snapshot(), theme))?;
        let waiting = if desk.read_some(model) { screen.pending() } else { Some(screen.next()) };
        let Some(message) = waiting else { continue };
        match message {
            Message::Terminate => return Ok(Ended::Terminated(desk.name())),
            Message::HangUp => return Ok(Ended::HungUp),
            Message::Suspend => screen.suspend()?,
            Message::Event(event) => {
                if options.test_panic && is_f11(&event) {
                    panic_for_the_test();
                }
                let effect = update::update(model, desk.snapshot(), &event);
                if let Some(ended) = effect.map(|effect| desk.carry_out(effect, model)).transpose()?.flatten() {
                    return Ok(ended);
                }
                if model.take_bell() {
                    screen.bell()?;
                }
            }
        }
    }
}

fn is_f11(event: &crossterm::event::Event) -> bool {
    event.as_key_press_event().is_some_and(|key| key.code == crossterm::event::KeyCode::F(11))
}

#[expect(clippy::panic, reason = "the terminal's test needs a panic to see that the terminal is given back")]
fn panic_for_the_test() {
    panic!("a panic on purpose, asked for by SETWRIGHT_TEST_PANIC");
}

#[cfg(test)]
mod tests {
    use crossterm::event::{Event, KeyCode, KeyEvent, KeyModifiers};
    use proptest::prelude::*;
    use ratatui::Terminal;
    use ratatui::backend::TestBackend;

    use super::*;
    use crate::job;
    use model::{Page, Panel, ReasonFor};

    /// The screen without a terminal.
    struct Bench {
        _home: tempfile::TempDir,
        desk: Desk,
        model: Model,
    }

    impl Bench {
        fn open() -> Self {
            let home = tempfile::tempdir().unwrap();
            let (_, text) = job::practice_cards()[0];
            let mut desk = Desk::new(House::under(home.path()), Some("KT".to_owned()));
            let mut model = Model::new();
            desk.begin(Start::Card(Box::new(job::read(text).unwrap())), &mut model).unwrap();
            Self { _home: home, desk, model }
        }

        fn press(&mut self, code: KeyCode) {
            let event = Event::Key(KeyEvent::new(code, KeyModifiers::NONE));
            if let Some(effect) = update::update(&mut self.model, self.desk.snapshot(), &event) {
                self.desk.carry_out(effect, &mut self.model).unwrap();
            }
        }

        fn keys(&mut self, text: &str) {
            for letter in text.chars() {
                self.press(if letter == '\n' { KeyCode::Enter } else { KeyCode::Char(letter) });
            }
        }

        fn shown(&self, width: u16, height: u16, ascii: bool) -> String {
            let mut terminal = Terminal::new(TestBackend::new(width, height)).unwrap();
            let theme = Theme::new(false, ascii);
            terminal.draw(|frame| view::draw(frame, &self.model, self.desk.snapshot(), theme)).unwrap();
            // The backend cannot print itself without columns.
            if width == 0 { String::new() } else { terminal.backend().to_string() }
        }
    }

    fn at_the_jaws() -> Bench {
        let mut bench = Bench::open();
        bench.keys("yes\nat-the-top\nplus-x\nyes\nyes\nslides\n15.999\n");
        bench
    }

    #[test]
    fn every_page_survives_every_size() {
        let mut bench = at_the_jaws();
        bench.keys("159.99\n");
        let panels = [None, Some(Panel::Doubt(1)), Some(Panel::Reason(ReasonFor::Strike(17)))];
        for page in [Page::Front, Page::Who, Page::Step, Page::Big, Page::Trail, Page::Help, Page::Happened] {
            for panel in &panels {
                bench.model.page = page;
                bench.model.panel.clone_from(panel);
                for width in (0..=112).step_by(7) {
                    for height in 0..=40 {
                        bench.shown(width, height, height % 2 == 0);
                    }
                }
            }
        }
    }

    #[test]
    fn the_step_page_shows_what_matters_at_80_by_24_and_at_40_by_10() {
        let bench = at_the_jaws();
        for (width, height) in [(80, 24), (40, 10), (132, 43)] {
            let page = bench.shown(width, height, false);
            for words in ["Width of jaw 1", "jaw-1 2/3 mm >", "Enter take", "F10 leave", "FIT"] {
                assert!(page.contains(words), "`{words}` is missing at {width} by {height}:\n{page}");
            }
        }
        assert!(bench.shown(39, 10, false).contains("40x10 needed"));
    }

    #[test]
    fn only_ascii_is_drawn_when_asked() {
        let mut bench = at_the_jaws();
        bench.keys("15.999\n15.99");
        for page in [Page::Step, Page::Big, Page::Trail, Page::Help] {
            bench.model.page = page;
            assert!(bench.shown(80, 24, true).is_ascii(), "{page:?}");
        }
    }

    #[test]
    fn a_doubt_is_answered_by_arrow_and_function_key_only() {
        let mut bench = at_the_jaws();
        bench.keys("159.99\n");
        assert_eq!(bench.model.panel, Some(Panel::Doubt(0)));
        bench.keys("15.998\n\n");
        assert_eq!(bench.model.panel, Some(Panel::Doubt(0)), "a gauge answered the question");
        assert!(bench.shown(80, 24, false).contains("SURE?"));
        bench.press(KeyCode::Down);
        bench.press(KeyCode::F(5));
        bench.keys("so it reads\n");
        assert!(matches!(bench.model.panel, Some(Panel::Reason(_))), "Enter confirmed a reason");
        bench.press(KeyCode::F(5));
        assert_eq!(bench.model.panel, None);
        assert!(bench.shown(80, 24, false).contains("159.99 mm"));
    }

    fn keys() -> impl Strategy<Value = Vec<KeyCode>> {
        let key = prop_oneof![
            6 => prop::char::range(' ', '~').prop_map(KeyCode::Char),
            4 => Just(KeyCode::Enter),
            // F10 and F12 leave; everything else stays on the pages.
            4 => (1_u8..=9).prop_map(KeyCode::F),
            4 => prop_oneof![Just(KeyCode::Up), Just(KeyCode::Down), Just(KeyCode::Esc), Just(KeyCode::Backspace), Just(KeyCode::Tab), Just(KeyCode::PageUp)],
        ];
        prop::collection::vec(key, 1..80)
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 32, ..ProptestConfig::default() })]

        #[test]
        fn any_keys_in_any_order_never_panic(codes in keys()) {
            let mut bench = at_the_jaws();
            for code in codes {
                bench.press(code);
                bench.shown(80, 24, false);
            }
        }
    }
}
