//! What the log needs of a disk, as a trait, so that tests can put a failing disk in its place.

use std::io::{self, Read};
use std::path::Path;

/// What a file is at this moment.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Facts {
    /// Whether it is a regular file: no folder, device, pipe or socket.
    pub regular: bool,
    /// Device and inode; `None` where the system has no such thing.
    pub identity: Option<(u64, u64)>,
    /// Length in bytes.
    pub length: u64,
}

/// How an attempt to lock ended.
pub enum Locking {
    /// The lock is ours until this is dropped.
    Held(Box<dyn Send>),
    /// Another process has it; its note says which and since when.
    Taken(String),
    /// The file system knows no locks.
    Unsupported,
}

/// A folder tree that holds logs.
pub trait Store: Send + Sync {
    /// Creates a file that must not exist yet, open for appending.
    fn create_new(&self, path: &Path) -> io::Result<Box<dyn StoredFile>>;
    /// Opens a regular file for appending.
    fn open_append(&self, path: &Path) -> io::Result<Box<dyn StoredFile>>;
    /// Opens a regular file for reading; anything else is refused with [`io::ErrorKind::InvalidInput`] and words.
    fn open_read(&self, path: &Path) -> io::Result<Box<dyn Read + Send>>;
    /// Looks at what stands at a path now.
    fn facts(&self, path: &Path) -> io::Result<Facts>;
    /// Makes the names in a folder survive a power cut.
    fn sync_folder(&self, folder: &Path) -> io::Result<()>;
    /// Makes a folder and those above it where they are missing.
    fn make_folder(&self, folder: &Path) -> io::Result<()>;
    /// Lists the names in a folder, in any order.
    fn names(&self, folder: &Path) -> io::Result<Vec<String>>;
    /// Locks a file, which is made if need be, and leaves a note in it.
    fn lock(&self, path: &Path, note: &str) -> io::Result<Locking>;
    /// Takes away the right to write.
    fn set_read_only(&self, path: &Path) -> io::Result<()>;
    /// Removes a file.
    fn remove(&self, path: &Path) -> io::Result<()>;
    /// Tells whether the medium can be pulled out.
    fn is_removable(&self, path: &Path) -> bool;
}

/// A file open for appending.
pub trait StoredFile: Send {
    /// Looks at the open file, whatever stands at its path.
    fn facts(&self) -> io::Result<Facts>;
    /// Makes one write call at the end of the file and gives how many bytes it took.
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize>;
    /// Makes the bytes survive a power cut.
    fn sync_data(&mut self) -> io::Result<()>;
    /// Makes bytes and length and times survive a power cut.
    fn sync_all(&mut self) -> io::Result<()>;
    /// Cuts the file to a length, which also gives back what was reserved behind it.
    fn set_len(&mut self, length: u64) -> io::Result<()>;
    /// Reserves room behind `from` without changing the length.
    fn reserve(&mut self, from: u64, bytes: u64) -> io::Result<()>;
}
