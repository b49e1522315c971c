//! Starting, resuming, reviewing and listing sessions.

mod asks;
mod looking;

use std::io::{self, BufReader};
use std::path::{Path, PathBuf};

use crate::cli::arguments::{Face, Follow, Resume};
use crate::cli::environment::Surroundings;
use crate::cli::failure::Failure;
use crate::cli::{cards, complain};
use crate::job::{self, JobCard};
use crate::plain;
use crate::session::{House, Opening, Session, Standing, is_initials, overviews, review as read_session, session_name};
use crate::session_log::{WrongTail, is_log_name};
use crate::wire;
use crate::workbook::{self, Ended, Options, Start};

pub(super) use looking::{list, review};

/// Shows the front page.
pub(super) fn front(here: &Surroundings) -> Result<u8, Failure> {
    let house = here.house()?;
    on_screen(&house, Start::Front, &here.screen(None, false))
}

/// Runs the screen; what is to be said afterwards stands on the normal screen.
pub(super) fn on_screen(house: &House, start: Start, options: &Options) -> Result<u8, Failure> {
    let resume = |name: Option<String>| {
        if let Some(name) = name {
            complain(&format!("Everything is saved. To go on: setwright resume {name}"));
        }
    };
    match workbook::run(house, start, options).map_err(Failure::from)? {
        Ended::Left(name) => {
            resume(name);
            Ok(0)
        }
        Ended::Sealed(name) => {
            complain(&format!("Sealed. To check it: setwright audit {name}"));
            Ok(0)
        }
        Ended::Interrupted(name) => {
            resume(name);
            Ok(130)
        }
        Ended::Terminated(name) => {
            resume(name);
            Ok(143)
        }
        Ended::HungUp => Ok(129),
    }
}

/// Starts a session.
pub(super) fn follow(options: &Follow, here: &Surroundings) -> Result<u8, Failure> {
    if options.asks {
        return asks::list(options.json);
    }
    let house = faced(here.house()?, &options.face);
    let card = match (&options.card, &options.from) {
        (Some(name), _) => cards::find(name)?,
        (None, Some(old)) => read_session(&find(&house, old)?)?.progress.card().clone(),
        (None, None) => practice()?,
    };
    if options.card.is_none() && options.from.is_none() {
        complain("No card named: this is the practice job. With a card: setwright follow CARD");
    }
    begin(card, &house, &options.face, here)
}

/// Begins a session from a card, on the face that is wanted.
pub(super) fn begin(card: JobCard, house: &House, face: &Face, here: &Surroundings) -> Result<u8, Failure> {
    if wants_screen(face, here) {
        let by = checked_initials(face.by.as_deref())?;
        return on_screen(house, Start::Card(Box::new(card)), &here.screen(by, face.ascii));
    }
    let around = house.clone();
    let opening = move |by: &str| Session::start(around.surroundings(), &around.sessions, card, by);
    show(Box::new(opening), face, false)
}

/// Goes on with a session.
pub(super) fn resume(options: &Resume, here: &Surroundings) -> Result<u8, Failure> {
    let house = faced(here.house()?, &options.face);
    let path = match &options.session {
        Some(name) => find(&house, name)?,
        None => newest_unfinished(&house)?,
    };
    let tail = if options.set_aside_tail { WrongTail::SetAside } else { WrongTail::Refuse };
    if wants_screen(&options.face, here) && !options.set_aside_tail {
        let by = checked_initials(options.face.by.as_deref())?;
        let shown = on_screen(&house, Start::Resume(path), &here.screen(by, options.face.ascii));
        return shown.map_err(|failure| explained(failure, false));
    }
    let around = house.clone();
    let opening = move |by: &str| Session::resume(around.surroundings(), &path, by, tail);
    show(Box::new(opening), &options.face, true).map_err(|failure| explained(failure, options.set_aside_tail))
}

fn explained(failure: Failure, set_aside: bool) -> Failure {
    let words = failure.to_string();
    if !set_aside && words.contains("last line") {
        return Failure::bad_data(format!(
            "{words}\nTo set it aside (nothing is deleted) and go on: setwright resume --set-aside-tail SESSION"
        ));
    }
    failure
}

fn wants_screen(face: &Face, here: &Surroundings) -> bool {
    !face.wire && !face.plain && here.is_interactive()
}

pub(super) fn faced(mut house: House, face: &Face) -> House {
    house.sync_twice = face.paranoid;
    house
}

/// Reads the practice card that stands in when none is named.
pub(super) fn practice() -> Result<JobCard, Failure> {
    let [(name, text), _] = job::practice_cards();
    job::read(text).map_err(|faults| Failure::card(name, &faults))
}

/// Shows a session on the wire or line by line.
fn show(opening: Box<Opening<'_>>, face: &Face, resumed: bool) -> Result<u8, Failure> {
    let by = checked_initials(face.by.as_deref())?;
    if face.wire {
        let (stdin, mut stdout) = (io::stdin(), io::stdout());
        wire::run(opening, by, resumed, &mut BufReader::new(stdin.lock()), &mut stdout)?;
        return Ok(0);
    }
    let (stdin, mut stdout) = (io::stdin(), io::stdout());
    plain::run(opening, by, &mut BufReader::new(stdin.lock()), &mut stdout)?;
    Ok(0)
}

fn checked_initials(by: Option<&str>) -> Result<Option<&str>, Failure> {
    match by {
        Some(text) if !is_initials(text) => Err(Failure::usage(format!(
            "--by {text}: initials are one to twelve letters, digits, dots or dashes, such as KT."
        ))),
        other => Ok(other),
    }
}

/// Finds a session by file, name or a part of its name that only one has.
pub(super) fn find(house: &House, name: &str) -> Result<PathBuf, Failure> {
    let path = Path::new(name);
    if path.exists() && (path.components().count() > 1 || path.is_file()) {
        return Ok(path.to_owned());
    }
    let folder = std::fs::read_dir(&house.sessions)
        .map(|entries| entries.filter_map(Result::ok).map(|entry| entry.path()).collect::<Vec<_>>());
    let logs: Vec<PathBuf> = folder.unwrap_or_default().into_iter().filter(|path| is_log(path)).collect();
    let exact = logs.iter().find(|path| session_name(path) == name);
    if let Some(path) = exact {
        return Ok(path.clone());
    }
    let mut partly: Vec<PathBuf> = logs.into_iter().filter(|path| session_name(path).contains(name)).collect();
    match (partly.pop(), partly.len()) {
        (Some(path), 0) => Ok(path),
        (Some(_), more) => Err(Failure::usage(format!(
            "`{name}` fits {} sessions: write more of the name. setwright sessions lists them.",
            more + 1
        ))),
        (None, _) => Err(Failure::no_input(format!("`{name}` is no session here. setwright sessions lists them."))),
    }
}

fn is_log(path: &Path) -> bool {
    path.file_name().is_some_and(|name| is_log_name(&name.to_string_lossy()))
}

fn newest_unfinished(house: &House) -> Result<PathBuf, Failure> {
    let all = overviews(&house.sessions)
        .map_err(|error| Failure::failed(format!("{}: {error}", house.sessions.display())))?;
    let found = all.into_iter().find(|overview| matches!(overview.standing, Standing::Unfinished(_)));
    found
        .map(|overview| overview.path)
        .ok_or_else(|| Failure::no_input("No unfinished session here. Start one: setwright follow CARD"))
}
