//! The signal that a file-size limit sends.

use std::io;
use std::sync::Arc;
use std::sync::atomic::AtomicBool;

/// Keeps a file-size limit from killing the program: the write then fails with an error that the log can undo.
///
/// # Errors
/// The system refuses to install a handler.
#[cfg(unix)]
pub fn survive_file_size_limit() -> io::Result<()> {
    signal_hook::flag::register(signal_hook::consts::SIGXFSZ, Arc::new(AtomicBool::new(false))).map(drop)
}

/// Keeps a file-size limit from killing the program; there is none on this system.
#[cfg(not(unix))]
pub fn survive_file_size_limit() -> io::Result<()> {
    Ok(())
}
