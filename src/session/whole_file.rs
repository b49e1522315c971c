//! A file that is there whole or not at all.

use std::fs::File;
use std::io::{self, Write};
use std::path::Path;

/// Writes a text beside its target and puts it in place in one step: after a power cut the old file or the new one is
/// there, never half of one, and a refused target leaves nothing behind.
///
/// # Errors
/// The folder is not there, or the file cannot be written, synced or put in place.
pub fn write_whole(target: &Path, text: &str) -> io::Result<()> {
    let folder = target.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or_else(|| Path::new("."));
    let mut file = tempfile::Builder::new().prefix(".setwright-").tempfile_in(folder)?;
    file.write_all(text.as_bytes())?;
    file.as_file().sync_all()?;
    readable(file.as_file())?;
    file.persist(target)?;
    // In place already: a folder that cannot be opened or synced must not be told as "nothing was changed".
    let _ = File::open(folder).and_then(|folder| folder.sync_all());
    Ok(())
}

/// What is put in place is for others to read; a temporary file is not.
#[cfg(unix)]
fn readable(file: &File) -> io::Result<()> {
    use std::os::unix::fs::PermissionsExt;
    file.set_permissions(std::fs::Permissions::from_mode(0o644))
}

#[cfg(not(unix))]
fn readable(_file: &File) -> io::Result<()> {
    Ok(())
}
