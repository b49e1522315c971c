//! A rehearsal line by line: what the simulated shop shows stands before each question; alone, the shop answers itself.

use std::io::{BufRead, Write};

use crate::plain::{Going, act, told, words};
use crate::session::{Ended, ForPeople, LONGEST_LINE, Line, Session, StreamError, read_line};
use crate::shop::{Shop, Typed};

const WHAT_IT_IS: &str =
    "REHEARSAL on a simulated shop: nothing here was measured. Its log is kept apart from real sessions.";

/// Plays a rehearsal over a pair of streams; `alone` lets the shop's own operator answer.
///
/// # Errors
/// Any failure of the session or of a stream.
pub fn rehearse(
    session: &mut Session,
    shop: &mut Shop,
    alone: bool,
    input: &mut dyn BufRead,
    output: &mut dyn Write,
) -> Result<Ended, StreamError> {
    let output: &mut dyn Write = &mut ForPeople(output);
    writeln!(output, "{WHAT_IT_IS}\n\nSession {}\n{}\n", session.name(), words::HELP_LINE)?;
    let mut shown = words::Shown::default();
    let mut ended = Ended::Left;
    loop {
        let typed = alone.then(|| shop.next(session.progress()));
        if !alone {
            look(shop, session, output)?;
        }
        shown.page(session, output)?;
        output.flush()?;
        let line = match typed {
            Some(Typed::Stuck(why)) => {
                writeln!(output, "\nThe shop's operator stops here: {why}")?;
                break;
            }
            Some(typed) => {
                let line = as_line(typed);
                writeln!(output, "{line}")?;
                line
            }
            None => match read_line(input, LONGEST_LINE)? {
                None => break,
                Some(Line::Text(line)) => line.trim().to_owned(),
                Some(Line::Unreadable(why)) => {
                    told(output, &format!("Not taken. {why}"))?;
                    continue;
                }
            },
        };
        if matches!(act(session, &line, output)?, Going::Away) {
            break;
        }
        after_a_doubt(session, shop, alone, output)?;
        if session.progress().is_sealed() {
            ended = Ended::Sealed;
            break;
        }
    }
    writeln!(output, "{}", shop.report(session.progress()))?;
    Ok(ended)
}

/// Shows a person what the shop shows now.
fn look(shop: &mut Shop, session: &Session, output: &mut dyn Write) -> Result<(), StreamError> {
    if let Some(text) = shop.shows(session.progress()) {
        writeln!(output, "\n  At the machine you see: {text}")?;
    }
    Ok(())
}

/// Writes what the operator does as a person would type it.
fn as_line(typed: Typed) -> String {
    match typed {
        Typed::Answer(text) | Typed::Stuck(text) => text,
        Typed::Again(gate, why) => format!(":again {gate} {why}"),
        Typed::GoOn(gate, why) => format!(":go-on {gate} {why}"),
        Typed::Seal => ":seal".to_owned(),
    }
}

/// A question about an entry: something planted is put right; a reading that is what the display shows is kept.
fn after_a_doubt(
    session: &mut Session,
    shop: &mut Shop,
    alone: bool,
    output: &mut dyn Write,
) -> Result<(), StreamError> {
    if session.doubt().is_none() {
        return Ok(());
    }
    let was_planted = shop.doubted();
    if alone && !was_planted {
        let line = ":sure it is what the display shows";
        writeln!(output, "{line}")?;
        act(session, line, output)?;
    } else if alone {
        session.drop_doubt();
    }
    Ok(())
}
