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
mod tests;
