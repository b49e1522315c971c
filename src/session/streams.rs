//! What the faces that speak over streams have in common.

use std::io;

use crate::session::{Session, SessionError};

/// How a session over streams ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ended {
    /// Left unfinished; it can be resumed.
    Left,
    /// Closed for good.
    Sealed,
}

/// What can go wrong over streams.
#[derive(Debug, thiserror::Error)]
pub enum StreamError {
    /// The session.
    #[error(transparent)]
    Session(#[from] SessionError),
    /// The stream.
    #[error("the stream broke: {0}")]
    Stream(#[from] io::Error),
}

/// Where the session comes from once the initials are known.
pub type Opening<'a> = dyn FnOnce(&str) -> Result<Session, SessionError> + 'a;

/// Returns whether a text can serve as initials: one to twelve letters, digits, dots or dashes.
pub fn is_initials(text: &str) -> bool {
    let fits = |letter: char| letter.is_alphanumeric() || matches!(letter, '.' | '-' | '_');
    (1..=12).contains(&text.chars().count()) && text.chars().all(fits)
}
