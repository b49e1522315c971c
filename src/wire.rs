//! The wire face: JSON Lines both ways, version 1, for a rig or another program. The protocol stands in DEVELOPERS.md.

mod hear;
mod show;

use std::io::{self, BufRead, Write};

use serde_json::{Value, json};

use crate::checklist::{AskKind, Command, Happening};
use crate::session::{Ended, LONGEST_LINE, Line, Opening, Outcome, Session, StreamError, is_initials, read_line};
use hear::{Said, hear};

/// Plays a session over a pair of streams. The session is opened when `{"by":"KT"}` has come, or at once with `by`.
pub fn run(
    opening: Box<Opening<'_>>,
    by: Option<&str>,
    resumed: bool,
    input: &mut dyn BufRead,
    output: &mut dyn Write,
) -> Result<Ended, StreamError> {
    let Some(by) = by.map_or_else(|| initials(input, output), |by| Ok(Some(by.to_owned())))? else {
        return Ok(Ended::Left);
    };
    let mut session = opening(&by)?;
    say(output, &show::hello(&session, resumed))?;
    say(output, &show::state(&session))?;
    while let Some(said) = next(input)? {
        let reply = match said {
            Ok(said) => answer(&mut session, said)?,
            Err(why) => Reply::Said(refused(&why)),
        };
        match reply {
            Reply::Leave => return Ok(Ended::Left),
            Reply::Said(reply) => say(output, &reply)?,
        }
        if session.progress().is_sealed() {
            say(output, &json!({"sealed": true, "head": session.log().head().as_str()}))?;
            return Ok(Ended::Sealed);
        }
        say(output, &show::state(&session))?;
    }
    Ok(Ended::Left)
}

enum Reply {
    Said(Value),
    Leave,
}

/// Hears the next line that is not empty, or why it cannot be taken; `None` at the end of the input.
fn next(input: &mut dyn BufRead) -> io::Result<Option<Result<Said, String>>> {
    loop {
        return Ok(match read_line(input, LONGEST_LINE)? {
            None => None,
            Some(Line::Text(line)) if line.trim().is_empty() => continue,
            Some(Line::Text(line)) => Some(hear(&line)),
            Some(Line::Unreadable(why)) => Some(Err(why)),
        });
    }
}

/// Waits for the initials; anything else before them is refused with what to send.
fn initials(input: &mut dyn BufRead, output: &mut dyn Write) -> Result<Option<String>, StreamError> {
    while let Some(said) = next(input)? {
        match said {
            Ok(Said::Leave(true)) => return Ok(None),
            Ok(Said::By(by)) if is_initials(by.trim()) => return Ok(Some(by.trim().to_owned())),
            _ => say(
                output,
                &refused("Send {\"by\":\"KT\"} first: nothing is recorded without the initials of who enters it."),
            )?,
        }
    }
    Ok(None)
}

/// Does what a line says. What it cannot be taken for is refused in words.
fn answer(session: &mut Session, said: Said) -> Result<Reply, StreamError> {
    let command = match said {
        Said::Leave(true) => return Ok(Reply::Leave),
        Said::By(by) if is_initials(by.trim()) => {
            session.set_by(&by);
            return Ok(Reply::Said(json!({"by": session.by()})));
        }
        Said::Sure(why) => return Ok(Reply::Said(reply(session.sure(&why)?))),
        Said::By(by) => Err(no_initials(&by)),
        Said::Concede { by, .. } if !is_initials(by.trim()) => Err(no_initials(&by)),
        Said::Enter(text) => Ok(Command::Enter { text, sure: None }),
        Said::Choose(word) => chosen(session, &word).map(|text| Command::Enter { text, sure: None }),
        Said::Late { enter, paper } => Ok(Command::EnterLate { text: enter, paper, sure: None }),
        Said::Strike { seq, why } => Ok(Command::Strike { seq, why }),
        Said::Concede { gate, why, by } => Ok(Command::Concede { gate, why, by }),
        Said::Again { gate, why } => Ok(Command::Again { gate, why }),
        Said::Happened(word) => happening(&word).map(|what| Command::Happened { what }),
        Said::Note(text) => Ok(Command::Note { text }),
        Said::Witness(text) => Ok(Command::Witness { text }),
        Said::Review(text) => Ok(Command::Review { text }),
        Said::Seal(true) => Ok(Command::Seal),
        Said::Seal(false) => Err("The session stays open: {\"seal\":true} closes it for good.".to_owned()),
        Said::Leave(false) => Err("The session goes on: {\"leave\":true} ends here.".to_owned()),
    };
    Ok(Reply::Said(match command {
        Ok(command) => reply(session.take(&command)?),
        Err(why) => refused(&why),
    }))
}

fn no_initials(text: &str) -> String {
    format!("`{text}` are no initials: one to twelve letters, digits, dots or dashes, such as KT.")
}

fn happening(word: &str) -> Result<Happening, String> {
    let words: Vec<&str> = Happening::ALL.iter().map(|happening| happening.word()).collect();
    Happening::named(word).ok_or_else(|| format!("`{word}` is no happening: one of {}.", words.join(", ")))
}

/// A choice is taken only where words are offered.
fn chosen(session: &Session, word: &str) -> Result<String, String> {
    let asked = session.consult().and_then(|(_, consultation)| consultation.next).map(|ask| ask.kind);
    match asked {
        Some(AskKind::Choice | AskKind::YesNo) => Ok(word.to_owned()),
        Some(kind) => Err(format!("Nothing is to be chosen now: a {} is asked. Send it with \"enter\".", kind.word())),
        None => Err("Nothing is asked now.".to_owned()),
    }
}

fn reply(outcome: Outcome) -> Value {
    match outcome {
        Outcome::Recorded(all) => json!({"recorded": all.last(), "all": all}),
        Outcome::Refused(why) => refused(&why),
        Outcome::Doubt(doubt) => {
            json!({"doubt": {"question": doubt.question, "slip": doubt.slip, "answer_with": ["sure", "enter"]}})
        }
    }
}

fn refused(why: &str) -> Value {
    json!({"refused": why})
}

fn say(output: &mut dyn Write, value: &Value) -> io::Result<()> {
    writeln!(output, "{value}")?;
    output.flush()
}
