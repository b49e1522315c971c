//! The plain face: the same session line by line, for screen readers, plain terminals and pipes. No escapes, no boxes.

mod words;

use std::io::{BufRead, Write};

use crate::checklist::{Command, Happening};
use crate::session::{
    Ended, ForPeople, LONGEST_LINE, Line, Opening, Outcome, Session, StreamError, is_initials, read_line, trail,
};
use crate::steps::GENERAL_CAUTION;

/// Plays a session over a pair of streams.
pub fn run(
    opening: Box<Opening<'_>>,
    by: Option<&str>,
    input: &mut dyn BufRead,
    output: &mut dyn Write,
) -> Result<Ended, StreamError> {
    let output: &mut dyn Write = &mut ForPeople(output);
    writeln!(output, "{GENERAL_CAUTION}\n")?;
    let Some(by) = who(by, input, output)? else { return Ok(Ended::Left) };
    let mut session = opening(&by)?;
    writeln!(output, "Session {}\n{}\n", session.name(), words::HELP_LINE)?;
    for notice in session.log().notices() {
        writeln!(output, "{notice}")?;
    }
    let mut shown = words::Shown::default();
    loop {
        shown.page(&session, output)?;
        output.flush()?;
        let Some(line) = read_line(input, LONGEST_LINE)? else { break };
        let going = match line {
            Line::Text(line) => act(&mut session, line.trim(), output)?,
            Line::Unreadable(why) => told(output, &format!("Not taken. {why}"))?,
        };
        match going {
            Going::On => {}
            Going::Away => break,
        }
        if session.progress().is_sealed() {
            writeln!(output, "Sealed. Head: {}", crate::session_log::witness(&session.log().head()))?;
            return Ok(Ended::Sealed);
        }
    }
    writeln!(output, "\nEverything is saved. To go on: setwright resume {}", session.name())?;
    Ok(Ended::Left)
}

enum Going {
    On,
    Away,
}

fn who(by: Option<&str>, input: &mut dyn BufRead, output: &mut dyn Write) -> Result<Option<String>, StreamError> {
    if let Some(by) = by {
        return Ok(Some(by.to_owned()));
    }
    loop {
        write!(output, "Who is at the machine? Initials: ")?;
        output.flush()?;
        let Some(line) = read_line(input, LONGEST_LINE)? else { return Ok(None) };
        if let Line::Text(typed) = line
            && is_initials(typed.trim())
        {
            return Ok(Some(typed.trim().to_owned()));
        }
        writeln!(output, "One to twelve letters or digits, such as KT.")?;
    }
}

/// Does what a line says: a command after a colon, otherwise an answer.
fn act(session: &mut Session, line: &str, output: &mut dyn Write) -> Result<Going, StreamError> {
    if line.is_empty() {
        return Ok(Going::On);
    }
    let Some(command) = line.strip_prefix(':') else {
        let outcome = session.take(&Command::Enter { text: line.to_owned(), sure: None })?;
        report(session, &outcome, output)?;
        return Ok(Going::On);
    };
    let (word, rest) = command.split_once(char::is_whitespace).unwrap_or((command, ""));
    let rest = rest.trim();
    let outcome = match word {
        "leave" => return Ok(Going::Away),
        "help" => return told(output, words::HELP),
        "trail" => return show_trail(session, output),
        "sure" => session.sure(rest)?,
        other => match command_of(session, other, rest) {
            Ok(command) => session.take(&command)?,
            Err(why) => return told(output, &why),
        },
    };
    report(session, &outcome, output)?;
    Ok(Going::On)
}

fn command_of(session: &Session, word: &str, rest: &str) -> Result<Command, String> {
    let two = || rest.split_once(char::is_whitespace).map(|(first, why)| (first.to_owned(), why.trim().to_owned()));
    Ok(match word {
        "strike" => {
            let (seq, why) = two().ok_or("Type it as: :strike 12 why it was wrong")?;
            let seq = seq.parse().map_err(|_| "Type it as: :strike 12 why it was wrong".to_owned())?;
            Command::Strike { seq, why }
        }
        "again" => {
            let (gate, why) = two().ok_or("Type it as: :again GATE why")?;
            Command::Again { gate, why }
        }
        "go-on" => {
            let (gate, why) = two().ok_or("Type it as: :go-on GATE why it is right to go on")?;
            Command::Concede { gate, why, by: session.by().to_owned() }
        }
        "happened" => {
            let words: Vec<&str> = Happening::ALL.iter().map(|happening| happening.word()).collect();
            let what = Happening::named(rest).ok_or_else(|| format!("One of: {}", words.join(", ")))?;
            Command::Happened { what }
        }
        "late" => {
            let (paper, text) = two().ok_or("Type it as: :late PAPER what is written there")?;
            Command::EnterLate { text, paper, sure: None }
        }
        "note" => Command::Note { text: rest.to_owned() },
        "seal" => Command::Seal,
        _ => return Err(format!("`:{word}` is not known. {}", words::HELP_LINE)),
    })
}

fn told(output: &mut dyn Write, text: &str) -> Result<Going, StreamError> {
    writeln!(output, "{text}")?;
    Ok(Going::On)
}

fn show_trail(session: &Session, output: &mut dyn Write) -> Result<Going, StreamError> {
    for line in trail(session.log().events(), session.progress().entries()) {
        let fate = line.struck.map(|why| format!(" CROSSED OUT: {why}")).unwrap_or_default();
        let void = if line.void { " VOID" } else { "" };
        writeln!(output, "{:>4} {} {}{fate}{void}", line.seq, line.by, line.text)?;
    }
    Ok(Going::On)
}

/// Says what became of an input; what was understood is echoed with its unit.
fn report(session: &Session, outcome: &Outcome, output: &mut dyn Write) -> Result<(), StreamError> {
    match outcome {
        Outcome::Recorded(all) => {
            let last = all.last().copied().unwrap_or_default();
            let entry = session.progress().entries().iter().find(|entry| entry.seq == last);
            let echo = entry.map(|entry| format!("= {}, ", entry.value)).unwrap_or_default();
            writeln!(output, "{echo}saved as {last}.")?;
        }
        Outcome::Refused(why) => writeln!(output, "Not taken. {why}")?,
        Outcome::Doubt(doubt) => {
            writeln!(output, "SURE? {}\nType the value again if it was a slip, or: :sure because ...", doubt.question)?;
        }
    }
    Ok(())
}
