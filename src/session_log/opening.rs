//! Opening an unfinished log for writing: classify, mend its end, start a new run.

use std::io::{self, Read};
use std::path::Path;
use std::sync::Arc;

use serde_json::{Map, Value, json};

use super::appender::{Appender, Failure, Room};
use super::clock::Moment;
use super::error::LogError;
use super::event::MAX_LINE;
use super::founding::newer_error;
use super::head::Head;
use super::kind::Kind;
use super::places::{folder_of, lock_path, torn_names, torn_path};
use super::reader::{Check, Class, Reader, verify_in};
use super::store::{Locking, Store};
use super::writer::{PROGRAM, SessionLog, State, Surroundings, WrongTail};

/// A lock, where the file system knows locks, and what the person should be told about it.
type Lock = (Option<Box<dyn Send>>, Vec<String>);

pub(super) fn resume(around: Surroundings, path: &Path, wrong_tail: WrongTail) -> Result<SessionLog, LogError> {
    let store = Arc::clone(&around.store);
    // Looked at once before anything is touched, so that no lock file appears beside a log that is not written.
    refuse_unless_writable(path, verify_in(&*store, path)?, wrong_tail)?;
    let mut around = around;
    let now = around.clock.now();
    let (lock, notices) = take_lock(&*store, path, now)?;
    let check = refuse_unless_writable(path, verify_in(&*store, path)?, wrong_tail)?;
    let file = store.open_append(path).map_err(|source| LogError::io(path, "open for writing", source))?;
    let twice = around.sync_twice || store.is_removable(path);
    let mut appender = Appender::new(file, path, twice).map_err(|source| LogError::io(path, "open", source))?;
    mend(&*store, path, &check, &mut appender)?;
    if check.sealed {
        return Err(LogError::Sealed { path: path.to_owned() });
    }
    let boot = format!("{:032x}", around.ids.next_bits());
    let mut log = rebuilt(around, path, appender)?;
    log.run += 1;
    log.boot = boot;
    log.run_began_ms = now.steady_ms;
    log.lock = lock;
    log.notices = notices;
    record_recovered(&mut log, check.class)?;
    Ok(log)
}

/// Locks a log, or says who has it.
pub(super) fn take_lock(store: &dyn Store, path: &Path, now: Moment) -> Result<Lock, LogError> {
    let lock_path = lock_path(path);
    let note = format!("process {} since {}", std::process::id(), now.rfc3339());
    match store.lock(&lock_path, &note).map_err(|source| LogError::io(&lock_path, "lock", source))? {
        Locking::Held(lock) => Ok((Some(lock), Vec::new())),
        Locking::Taken(holder) => Err(LogError::Locked { path: path.to_owned(), holder }),
        Locking::Unsupported => {
            let notice = "this file system knows no locks: make sure that no other terminal writes this session";
            Ok((None, vec![notice.to_owned()]))
        }
    }
}

/// Passes on what was found if the log may be written; says why not otherwise.
fn refuse_unless_writable(path: &Path, check: Check, wrong_tail: WrongTail) -> Result<Check, LogError> {
    let path = path.to_owned();
    if let (Class::Damaged, Some(problem)) = (check.class, &check.problem) {
        return Err(LogError::Damaged { path, problem: problem.clone() });
    }
    let Some(header) = &check.header else {
        return Err(match (check.class, check.problem) {
            // There is nothing before the line that could go on without it.
            (Class::DamagedTail, Some(problem)) => LogError::Damaged { path, problem },
            _ => LogError::NoHeader { path },
        });
    };
    if header.is_newer() {
        return Err(newer_error(&path, header.version, header.least));
    }
    if let Some(n) = check.critical_unknown {
        let what = format!("event {n} is of a kind that must be understood and is not known here");
        return Err(LogError::Newer { path, what });
    }
    match (check.class, &check.problem) {
        // Only a missing line feed is mended on a sealed log.
        (Class::Unterminated, _) => Ok(check),
        _ if check.sealed => Err(LogError::Sealed { path }),
        (Class::DamagedTail, Some(problem)) if wrong_tail == WrongTail::Refuse => {
            Err(LogError::DamagedTail { path, problem: problem.clone() })
        }
        _ => Ok(check),
    }
}

/// Makes the file end with its last good line.
fn mend(store: &dyn Store, path: &Path, check: &Check, appender: &mut Appender) -> Result<(), LogError> {
    let failed = |source| LogError::io(path, "mend the end of", source);
    match check.class {
        Class::Clean | Class::Damaged => Ok(()),
        Class::Unterminated => appender.append(store, b"\n", Room::Closing).map_err(|failure| match failure {
            Failure::Undone(source) => failed(source),
            Failure::Untrusted(why) => failed(io::Error::other(why.to_string())),
        }),
        Class::Torn | Class::DamagedTail => {
            let tail = tail_of(store, path, check.valid_len).map_err(failed)?;
            if check.valid_len + tail.len() as u64 != appender.length() {
                return Err(failed(io::Error::other("another program is writing to it")));
            }
            set_aside(store, path, &tail).map_err(failed)?;
            appender.cut(check.valid_len).map_err(failed)
        }
    }
}

/// Reads what stands after the good part; it is at most one line.
fn tail_of(store: &dyn Store, path: &Path, valid_len: u64) -> io::Result<Vec<u8>> {
    let mut file = store.open_read(path)?;
    io::copy(&mut file.by_ref().take(valid_len), &mut io::sink())?;
    let mut tail = Vec::new();
    file.take(MAX_LINE as u64 + 1).read_to_end(&mut tail)?;
    Ok(tail)
}

/// Copies a tail into a file of its own and makes it safe, before anything is cut.
fn set_aside(store: &dyn Store, path: &Path, tail: &[u8]) -> io::Result<()> {
    let mut number = 1;
    let mut file = loop {
        match store.create_new(&torn_path(path, number)) {
            Err(error) if error.kind() == io::ErrorKind::AlreadyExists && number < u32::MAX => number += 1,
            other => break other?,
        }
    };
    let mut rest = tail;
    while !rest.is_empty() {
        let written = file.write(rest)?;
        if written == 0 {
            return Err(io::ErrorKind::WriteZero.into());
        }
        rest = rest.get(written..).unwrap_or_default();
    }
    file.sync_all()?;
    store.sync_folder(folder_of(path))
}

/// Reads the mended log into memory.
fn rebuilt(around: Surroundings, path: &Path, appender: Appender) -> Result<SessionLog, LogError> {
    let failed = |source| LogError::io(path, "read", source);
    let mut reader = Reader::new(around.store.open_read(path).map_err(failed)?);
    let mut events = Vec::new();
    let mut bodies = Vec::new();
    while let Some(event) = reader.next_event().map_err(failed)? {
        events.push(event);
        bodies.push(reader.last_body().to_vec());
    }
    let chain = reader.chain_so_far().clone();
    let check = reader.into_check();
    if check.class != Class::Clean || check.valid_len != appender.length() {
        return Err(failed(io::Error::other("another program is writing to it")));
    }
    Ok(SessionLog {
        around,
        path: path.to_owned(),
        appender,
        lock: None,
        run: chain.last_run,
        chain,
        events,
        bodies,
        boot: String::new(),
        run_began_ms: 0,
        last: None,
        state: State::Open,
        notices: Vec::new(),
    })
}

/// Writes `log.recovered` for every tail that no event names yet: the one set aside now, and one from an opening that
/// was itself cut off before it could say so.
fn record_recovered(log: &mut SessionLog, class: Class) -> Result<(), LogError> {
    let store = Arc::clone(&log.around.store);
    for name in torn_names(&*store, &log.path) {
        let is_named =
            |event: &super::Event| event.kind == Kind::LogRecovered && event.data.get("file") == Some(&json!(name));
        if log.events.iter().any(is_named) {
            continue;
        }
        let side = log.path.with_file_name(&name);
        let Ok(tail) = tail_of(&*store, &side, 0) else { continue };
        let class = if class == Class::Clean || class == Class::Unterminated { Class::Torn } else { class };
        let mut data = Map::new();
        data.insert("file".to_owned(), Value::from(name.as_str()));
        data.insert("off".to_owned(), json!(log.appender.length()));
        data.insert("len".to_owned(), json!(tail.len()));
        data.insert("sha256".to_owned(), json!(Head::of_bytes(&tail).as_str()));
        data.insert("class".to_owned(), json!(class.name()));
        let now = log.around.clock.now();
        log.write(Kind::LogRecovered, PROGRAM, &data, now, Room::Ordinary)?;
        log.notices.push(format!(
            "the last line was {} and was never shown as saved; its {} bytes are set aside in {name}",
            class.name(),
            tail.len()
        ));
    }
    Ok(())
}
