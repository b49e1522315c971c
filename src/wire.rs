//! The wire face: JSON Lines both ways, version 1, for a rig or another program. The protocol stands in DEVELOPERS.md.

mod show;

use std::io::{self, BufRead, Read, Write};

use serde_json::{Map, Value, json};

use crate::checklist::{AskKind, Command, Happening};
use crate::session::{Ended, Opening, Outcome, Session, StreamError, is_initials};

/// The longest line that is read, in bytes.
const LONGEST_LINE: u64 = 65_536;

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
    while let Some(line) = read_line(input)? {
        if line.trim().is_empty() {
            continue;
        }
        match answer(&mut session, &line)? {
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

/// Waits for the initials; anything else before them is refused with what to send.
fn initials(input: &mut dyn BufRead, output: &mut dyn Write) -> Result<Option<String>, StreamError> {
    while let Some(line) = read_line(input)? {
        if line.trim().is_empty() {
            continue;
        }
        let object = serde_json::from_str::<Map<String, Value>>(&line).unwrap_or_default();
        if object.contains_key("leave") {
            return Ok(None);
        }
        match object.get("by").and_then(Value::as_str).map(str::trim) {
            Some(by) if is_initials(by) => return Ok(Some(by.to_owned())),
            _ => say(
                output,
                &refused("Send {\"by\":\"KT\"} first: nothing is recorded without the initials of who enters it."),
            )?,
        }
    }
    Ok(None)
}

fn answer(session: &mut Session, line: &str) -> Result<Reply, StreamError> {
    let Ok(object) = serde_json::from_str::<Map<String, Value>>(line) else {
        return Ok(Reply::Said(refused("That is not one JSON object on one line.")));
    };
    let mut members = object.iter();
    let (Some((key, value)), None) = (members.next(), members.next()) else {
        return Ok(Reply::Said(refused("Send one thing a line, such as {\"enter\":\"0.111 mm\"}.")));
    };
    let outcome = match (key.as_str(), value) {
        ("leave", _) => return Ok(Reply::Leave),
        ("by", Value::String(by)) if is_initials(by) => {
            session.set_by(by);
            return Ok(Reply::Said(json!({"by": by})));
        }
        ("sure", Value::String(why)) => session.sure(why)?,
        (key, value) => match command(session, key, value) {
            Ok(command) => session.take(&command)?,
            Err(why) => return Ok(Reply::Said(refused(&why))),
        },
    };
    Ok(Reply::Said(reply(outcome)))
}

/// Turns a line's one member into a command, or says what would be right.
fn command(session: &Session, key: &str, value: &Value) -> Result<Command, String> {
    let text = || value.as_str().map(str::to_owned).ok_or_else(|| format!("\"{key}\" takes a text."));
    let member = |name: &str| {
        let found = value.get(name).and_then(Value::as_str).map(str::to_owned);
        found.ok_or_else(|| format!("\"{key}\" needs \"{name}\" as a text."))
    };
    Ok(match key {
        "enter" => Command::Enter { text: text()?, sure: None },
        "choose" => Command::Enter { text: chosen(session, &text()?)?, sure: None },
        "strike" => {
            let seq = value.get("seq").and_then(Value::as_u64).ok_or("\"strike\" needs \"seq\" as a whole number.")?;
            Command::Strike { seq, why: member("why")? }
        }
        "concede" => Command::Concede { gate: member("gate")?, why: member("why")?, by: member("by")? },
        "again" => Command::Again { gate: member("gate")?, why: member("why")? },
        "happened" => {
            let word = text()?;
            let words: Vec<&str> = Happening::ALL.iter().map(|happening| happening.word()).collect();
            let what = Happening::named(&word)
                .ok_or_else(|| format!("`{word}` is no happening: one of {}.", words.join(", ")))?;
            Command::Happened { what }
        }
        "note" => Command::Note { text: text()? },
        "witness" => Command::Witness { text: text()? },
        "review" => Command::Review { text: text()? },
        "seal" => Command::Seal,
        other => return Err(format!("`{other}` is not known on this wire: see DEVELOPERS.md, wire version 1.")),
    })
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

/// Reads one line of bounded length; `None` at the end. A line that is too long ends the wire.
fn read_line(input: &mut dyn BufRead) -> io::Result<Option<String>> {
    let mut line = Vec::new();
    let read = input.take(LONGEST_LINE).read_until(b'\n', &mut line)?;
    if read == 0 {
        return Ok(None);
    }
    if !line.ends_with(b"\n") && u64::try_from(read).unwrap_or(u64::MAX) >= LONGEST_LINE {
        return Err(io::Error::new(io::ErrorKind::InvalidData, "a line is longer than 64 KiB"));
    }
    Ok(Some(String::from_utf8_lossy(&line).into_owned()))
}
