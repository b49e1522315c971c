//! What ends a command: words for the person, and an exit code (decisions 20).

use std::fmt;
use std::io;

use crate::job::CardFaults;
use crate::session::{SessionError, StreamError};
use crate::session_log::{ErrorClass, LogError};
use crate::workbook::WorkbookError;

/// Why a command ended without doing what it was asked.
#[derive(Debug)]
pub(super) struct Failure {
    words: String,
    code: u8,
}

impl Failure {
    /// Something failed: exit 1.
    pub(super) fn failed(words: impl Into<String>) -> Self {
        Self { words: words.into(), code: 1 }
    }

    /// The arguments do not fit together: exit 2.
    pub(super) fn usage(words: impl Into<String>) -> Self {
        Self { words: words.into(), code: 2 }
    }

    /// The data are damaged or no data of this kind: exit 65.
    pub(super) fn bad_data(words: impl Into<String>) -> Self {
        Self { words: words.into(), code: 65 }
    }

    /// There is no such input: exit 66.
    pub(super) fn no_input(words: impl Into<String>) -> Self {
        Self { words: words.into(), code: 66 }
    }

    /// Nobody reads any more: no words, exit 0.
    pub(super) fn quiet() -> Self {
        Self { words: String::new(), code: 0 }
    }

    /// A stream failed.
    #[expect(clippy::needless_pass_by_value, reason = "it is used as a function in map_err")]
    pub(super) fn stream(error: io::Error) -> Self {
        Self::failed(format!("Reading or writing failed: {error}"))
    }

    /// A card has faults: each on its own line.
    pub(super) fn card(path: &str, faults: &CardFaults) -> Self {
        Self::bad_data(format!("{path} is no job card that can be used:\n{faults}"))
    }

    /// Returns the exit code.
    pub(super) const fn code(&self) -> u8 {
        self.code
    }
}

impl fmt::Display for Failure {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str(&self.words)
    }
}

impl From<LogError> for Failure {
    fn from(error: LogError) -> Self {
        let code = match error.class() {
            ErrorClass::Locked => 75,
            ErrorClass::NewerVersion => 69,
            ErrorClass::BadData => 65,
            ErrorClass::NoInput => 66,
            ErrorClass::Sealed | ErrorClass::Refused | ErrorClass::Io => 1,
        };
        let mut words = error.to_string();
        if code == 75 {
            let name = crate::session::session_name(error.path());
            words.push_str(&format!("\nTo look on while it is being written: setwright review --follow {name}"));
        }
        Self { words, code }
    }
}

impl From<SessionError> for Failure {
    fn from(error: SessionError) -> Self {
        match error {
            SessionError::Log(error) => error.into(),
            SessionError::Event(fault) => Self {
                words: format!("{fault}. It was made by a newer version; review and audit can still read its chain."),
                code: 69,
            },
            other => Self::bad_data(other.to_string()),
        }
    }
}

impl From<StreamError> for Failure {
    fn from(error: StreamError) -> Self {
        match error {
            StreamError::Session(error) => error.into(),
            StreamError::Stream(error) if error.kind() == io::ErrorKind::BrokenPipe => Self::quiet(),
            StreamError::Stream(error) => Self::stream(error),
        }
    }
}

impl From<WorkbookError> for Failure {
    fn from(error: WorkbookError) -> Self {
        match error {
            WorkbookError::Session(error) => error.into(),
            WorkbookError::Terminal(error) => Self::failed(format!(
                "The terminal cannot be used ({error}). Everything recorded is saved. Try --plain."
            )),
        }
    }
}
