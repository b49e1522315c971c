//! What can go wrong with a log, in words for the person at the machine.

use std::fmt;
use std::io;
use std::path::{Path, PathBuf};

use super::reader::Problem;

/// What kind of failure it is; the command line turns it into an exit code.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum ErrorClass {
    /// Another process is writing the log.
    Locked,
    /// Only a newer program understands the log.
    NewerVersion,
    /// The log is damaged or is no log.
    BadData,
    /// There is no such file, or it is no file.
    NoInput,
    /// The log is closed for good.
    Sealed,
    /// What was asked for cannot be written; nothing was changed.
    Refused,
    /// The disk failed or is full.
    Io,
}

/// Where the copy of a session went whose own file can no longer be trusted.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Rescue {
    /// The whole session up to the last saved event stands in this file.
    Copied(PathBuf),
    /// The copy failed too, for this reason.
    Failed(String),
}

/// A failure of the session log. Every message names the file and says what to do.
#[derive(Debug)]
pub enum LogError {
    /// Another process is writing this log.
    Locked {
        /// The log.
        path: PathBuf,
        /// The other process and since when, as its lock file says; may be empty.
        holder: String,
    },
    /// Only a newer program understands this log.
    Newer {
        /// The log.
        path: PathBuf,
        /// What is newer in it.
        what: String,
    },
    /// A bad line has more lines after it; the log is never written again.
    Damaged {
        /// The log.
        path: PathBuf,
        /// The first bad line.
        problem: Problem,
    },
    /// The last line is finished and wrong. A person decides whether it is set aside.
    DamagedTail {
        /// The log.
        path: PathBuf,
        /// The bad line.
        problem: Problem,
    },
    /// The file holds no first event, so no session.
    NoHeader {
        /// The file.
        path: PathBuf,
    },
    /// The log is closed for good.
    Sealed {
        /// The log.
        path: PathBuf,
    },
    /// The log has no seal yet, where only a sealed one will do.
    NotSealed {
        /// The log.
        path: PathBuf,
    },
    /// There is no such file, or it is a folder, a device, a pipe.
    NoInput {
        /// The path.
        path: PathBuf,
        /// Why it cannot serve.
        why: String,
    },
    /// The event cannot be written as it is. Nothing was changed.
    Refused {
        /// The log.
        path: PathBuf,
        /// Why.
        why: String,
    },
    /// The event is not saved; the log is as it was before, and the session can go on.
    NotSaved {
        /// The log.
        path: PathBuf,
        /// What the disk said.
        source: io::Error,
    },
    /// The log can no longer be trusted and takes no more events.
    Untrusted {
        /// The log.
        path: PathBuf,
        /// What happened.
        why: String,
        /// Number of the last event that is certainly in the file; `None` when none is.
        last_sure: Option<u64>,
        /// Number of the last event that was shown as saved.
        last_saved: u64,
        /// What became of the copy.
        rescue: Rescue,
    },
    /// Any other failure of the disk.
    Io {
        /// The file.
        path: PathBuf,
        /// What was tried: "read", "create".
        doing: &'static str,
        /// What the system said.
        source: io::Error,
    },
}

impl LogError {
    /// Wraps a failure with its file; a missing or irregular file becomes [`LogError::NoInput`].
    pub(super) fn io(path: &Path, doing: &'static str, source: io::Error) -> Self {
        let path = path.to_owned();
        match source.kind() {
            io::ErrorKind::NotFound => Self::NoInput { path, why: "there is no such file".to_owned() },
            io::ErrorKind::InvalidInput => Self::NoInput { path, why: source.to_string() },
            _ => Self::Io { path, doing, source },
        }
    }

    /// Tells what kind of failure it is.
    pub const fn class(&self) -> ErrorClass {
        match self {
            Self::Locked { .. } => ErrorClass::Locked,
            Self::Newer { .. } => ErrorClass::NewerVersion,
            Self::Damaged { .. } | Self::DamagedTail { .. } | Self::NoHeader { .. } => ErrorClass::BadData,
            Self::Sealed { .. } => ErrorClass::Sealed,
            Self::NoInput { .. } => ErrorClass::NoInput,
            Self::Refused { .. } | Self::NotSealed { .. } => ErrorClass::Refused,
            Self::NotSaved { .. } | Self::Untrusted { .. } | Self::Io { .. } => ErrorClass::Io,
        }
    }

    /// Tells whether the same log can still take events after this failure.
    pub const fn session_goes_on(&self) -> bool {
        matches!(self, Self::Refused { .. } | Self::NotSaved { .. })
    }

    /// Gives the file that the failure is about.
    pub fn path(&self) -> &Path {
        match self {
            Self::Locked { path, .. }
            | Self::Newer { path, .. }
            | Self::Damaged { path, .. }
            | Self::DamagedTail { path, .. }
            | Self::NoHeader { path }
            | Self::Sealed { path }
            | Self::NotSealed { path }
            | Self::NoInput { path, .. }
            | Self::Refused { path, .. }
            | Self::NotSaved { path, .. }
            | Self::Untrusted { path, .. }
            | Self::Io { path, .. } => path,
        }
    }
}

/// A path for the terminal: control characters in a file's name must not drive it.
fn shown(path: &Path) -> String {
    path.to_string_lossy().chars().map(|c| if c.is_control() { '\u{fffd}' } else { c }).collect()
}

impl fmt::Display for LogError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let path = shown(self.path());
        match self {
            Self::Locked { holder, .. } if holder.is_empty() => {
                write!(f, "{path} is open in another terminal; watch it there or with review --follow")
            }
            Self::Locked { holder, .. } => {
                write!(f, "{path} is open in another terminal ({holder}); watch it there or with review --follow")
            }
            Self::Newer { what, .. } => {
                write!(f, "{path} was made by a newer version ({what}); it can be read and checked here, not continued")
            }
            Self::Damaged { problem, .. } => write!(
                f,
                "{path} is damaged at {problem}; nothing is written to it any more, the events before that line can be read and continued in a new file"
            ),
            Self::DamagedTail { problem, .. } => write!(
                f,
                "{path} has a wrong last line, {problem}; it can be set aside in a file of its own, then the session goes on before it"
            ),
            Self::NoHeader { .. } => write!(f, "{path} holds no session: its first event is missing or unfinished"),
            Self::Sealed { .. } => write!(f, "{path} is sealed and stays as it is; an amendment goes into a new file"),
            Self::NotSealed { .. } => write!(f, "{path} is not sealed; resume it instead of amending it"),
            Self::NoInput { why, .. } => write!(f, "{path} cannot be opened: {why}"),
            Self::Refused { why, .. } => write!(f, "nothing was written to {path}: {why}"),
            Self::NotSaved { source, .. } => write!(
                f,
                "not saved in {path}: {source}; what was saved before is safe. Make room on the disk, then enter it again"
            ),
            Self::Untrusted { why, last_sure, last_saved, rescue, .. } => {
                write_untrusted(f, &path, why, *last_sure, *last_saved, rescue)
            }
            Self::Io { doing, source, .. } => write!(f, "cannot {doing} {path}: {source}"),
        }
    }
}

fn write_untrusted(
    f: &mut fmt::Formatter<'_>,
    path: &str,
    why: &str,
    last_sure: Option<u64>,
    last_saved: u64,
    rescue: &Rescue,
) -> fmt::Result {
    write!(f, "STOP: {path} can no longer be trusted: {why}. ")?;
    match last_sure {
        Some(sure) => write!(f, "The last event that is sure in it is number {sure}. ")?,
        None => write!(f, "No event in it is sure. ")?,
    }
    match rescue {
        Rescue::Copied(copy) => write!(
            f,
            "All events up to number {last_saved} were copied to {}: go on there. What you entered last is in neither file, enter it again",
            shown(copy)
        ),
        Rescue::Failed(reason) => write!(
            f,
            "A copy could not be made either ({reason}): write the readings down before you leave this screen"
        ),
    }
}

impl std::error::Error for LogError {
    fn source(&self) -> Option<&(dyn std::error::Error + 'static)> {
        match self {
            Self::NotSaved { source, .. } | Self::Io { source, .. } => Some(source),
            _ => None,
        }
    }
}
