//! The command line: arguments, environment, commands and exit codes.

mod arguments;
mod audit;
mod cards;
mod compare;
mod environment;
mod failure;
mod level;
mod prove;
mod reckon;
mod rehearse;
mod sessions;
mod sheet;

use std::io::{self, IsTerminal, Write};
use std::process::ExitCode;

use clap::{CommandFactory, Parser};

use arguments::{Arguments, Task};
use environment::Surroundings;
use failure::Failure;

/// Runs the program with the arguments of the process and returns its exit code.
pub fn run() -> ExitCode {
    let arguments = match Arguments::try_parse() {
        Ok(arguments) => arguments,
        Err(error) => {
            // Help and version are answers, not faults. A closed pipe is nobody's fault.
            let _ = error.print();
            return ExitCode::from(if error.use_stderr() { 2 } else { 0 });
        }
    };
    // Without the handler a file-size limit kills the program in the middle of a write; with it the write just fails.
    if let Err(error) = crate::session_log::survive_file_size_limit() {
        complain(&format!("A file-size limit could end this program: {error}"));
    }
    let here = environment::look();
    match carry_out(arguments, &here) {
        Ok(code) => ExitCode::from(code),
        Err(failure) => {
            complain(&failure.to_string());
            ExitCode::from(failure.code())
        }
    }
}

fn carry_out(arguments: Arguments, here: &Surroundings) -> Result<u8, Failure> {
    match arguments.task {
        None if here.is_interactive() => sessions::front(here),
        None => print_help(),
        Some(Task::Follow(options)) => sessions::follow(&options, here),
        Some(Task::Level(options)) => level::level(&options, here),
        Some(Task::Resume(options)) => sessions::resume(&options, here),
        Some(Task::Rehearse(options)) => rehearse::rehearse(&options, here),
        Some(Task::Review(options)) => sessions::review(&options, here),
        Some(Task::Sessions { json }) => sessions::list(json, here),
        Some(Task::Audit(options)) => audit::audit(&options, here),
        Some(Task::Compare(options)) => compare::compare(&options, here),
        Some(Task::Sheet(options)) => sheet::sheet(&options, here),
        Some(Task::Prove(options)) => prove::prove(&options, here),
        Some(Task::Reckon(options)) => reckon::reckon(&options, here),
        Some(Task::Card { task }) => cards::card(&task),
        Some(Task::Places) => places(here),
        Some(Task::Completions { shell }) => completions(shell),
        Some(Task::Man) => man(),
    }
}

fn print_help() -> Result<u8, Failure> {
    print(&format!("{}\n", Arguments::command().render_long_help()))?;
    Ok(0)
}

fn places(here: &Surroundings) -> Result<u8, Failure> {
    let house = here.house()?;
    let rows = [
        ("sessions", &house.sessions),
        ("cards", &house.cards),
        ("machines", &house.machines),
        ("fallback", &house.fallback),
    ];
    for (name, path) in rows {
        print(&format!("{name:<9} {}\n", path.display()))?;
    }
    Ok(0)
}

fn completions(shell: clap_complete::Shell) -> Result<u8, Failure> {
    let mut text = Vec::new();
    clap_complete::generate(shell, &mut Arguments::command(), "setwright", &mut text);
    print(&String::from_utf8_lossy(&text))?;
    Ok(0)
}

fn man() -> Result<u8, Failure> {
    let mut page = Vec::new();
    clap_mangen::Man::new(Arguments::command()).render(&mut page).map_err(Failure::stream)?;
    print(&String::from_utf8_lossy(&page))?;
    Ok(0)
}

/// Writes data to standard output. A reader that has gone away ends the program quietly.
fn print(text: &str) -> Result<(), Failure> {
    let mut out = io::stdout().lock();
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        Err(error) if error.kind() == io::ErrorKind::BrokenPipe => Err(Failure::quiet()),
        other => other.map_err(Failure::stream),
    }
}

/// Writes words for the person to standard error.
fn complain(words: &str) {
    if !words.is_empty() {
        // Nobody is left to tell when this fails.
        let _ = writeln!(io::stderr(), "{words}");
    }
}

/// Returns whether both ends are a terminal.
fn both_ends_are_terminals() -> bool {
    io::stdin().is_terminal() && io::stdout().is_terminal()
}
