//! The write protocol of one event: check, one write, one sync, check.

use std::fmt;
use std::io;
use std::path::{Path, PathBuf};

use super::store::{Facts, Store, StoredFile};

/// Room kept behind the end of the log so that a session can be closed on a full disk.
const RESERVE: u64 = 256 * 1024;
/// What must stay of it after an ordinary event: the longest line.
const CLOSING_ROOM: u64 = super::event::MAX_LINE as u64;

/// How an append failed.
#[derive(Debug)]
pub(super) enum Failure {
    /// The file is as it was before.
    Undone(io::Error),
    /// The file can no longer be trusted, for this reason.
    Untrusted(Distrust),
}

/// Why a file can no longer be trusted.
#[derive(Debug)]
pub(super) enum Distrust {
    /// The disk failed: the last saved event is doubtful too.
    Disk(&'static str, io::Error),
    /// The file is not ours alone any more; what was saved before is in the file that was ours.
    Foreign(&'static str),
    /// No file stands under the name any more that holds what was saved.
    Gone(&'static str),
}

impl fmt::Display for Distrust {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Disk(what, source) => write!(f, "{what} ({source})"),
            Self::Foreign(what) | Self::Gone(what) => f.write_str(what),
        }
    }
}

/// Whether an event may use the room kept for closing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Room {
    /// An ordinary event may not.
    Ordinary,
    /// The seal may.
    Closing,
}

/// A log file open for appending.
pub(super) struct Appender {
    file: Box<dyn StoredFile>,
    path: PathBuf,
    identity: Option<(u64, u64)>,
    length: u64,
    sync_twice: bool,
    /// End of the reserved room; `None` where the file system reserves none.
    reserved_to: Option<u64>,
}

impl Appender {
    /// Takes over a file whose good part ends at its present length.
    pub(super) fn new(file: Box<dyn StoredFile>, path: &Path, sync_twice: bool) -> io::Result<Self> {
        let Facts { identity, length, .. } = file.facts()?;
        Ok(Self { file, path: path.to_owned(), identity, length, sync_twice, reserved_to: Some(length) })
    }

    pub(super) const fn length(&self) -> u64 {
        self.length
    }

    /// Writes one line, or several whose saving is shown together, and syncs.
    pub(super) fn append(&mut self, store: &dyn Store, line: &[u8], room: Room) -> Result<(), Failure> {
        self.check_before(store).map_err(Failure::Untrusted)?;
        let end = self.length + line.len() as u64;
        if room == Room::Ordinary {
            self.keep_room(end).map_err(Failure::Undone)?;
        }
        match self.file.write(line) {
            Ok(written) if written == line.len() => {}
            // A regular file takes less than it is given only when room or an allowance is used up.
            Ok(_) => {
                let error = io::Error::new(io::ErrorKind::StorageFull, "the disk took only a part of it");
                return Err(self.undo(end, error));
            }
            Err(error) => return Err(self.undo(end, error)),
        }
        self.confirm(store, end).map_err(Failure::Untrusted)?;
        self.length = end;
        Ok(())
    }

    /// Syncs the file's times and length too, once after it was made.
    pub(super) fn sync_all(&mut self) -> io::Result<()> {
        self.file.sync_all()
    }

    /// Gives the reserved room back to the disk.
    pub(super) fn release_room(&mut self) -> io::Result<()> {
        self.reserved_to = self.reserved_to.map(|_| self.length);
        self.file.set_len(self.length)?;
        self.file.sync_data()
    }

    /// Cuts the file to a length that recovery has found to be good.
    pub(super) fn cut(&mut self, length: u64) -> io::Result<()> {
        self.file.set_len(length)?;
        self.file.sync_all()?;
        self.length = length;
        self.reserved_to = Some(length);
        Ok(())
    }

    fn check_before(&self, store: &dyn Store) -> Result<(), Distrust> {
        let open = self.file.facts().map_err(|error| Distrust::Disk("the open file cannot be looked at", error))?;
        let there = store.facts(&self.path).map_err(|error| match error.kind() {
            io::ErrorKind::NotFound => Distrust::Gone("the file was removed or renamed"),
            _ => Distrust::Disk("the file cannot be looked at", error),
        })?;
        if !there.regular || there.identity != self.identity || open.identity != self.identity {
            return Err(Distrust::Gone("another file was put in its place"));
        }
        if open.length != self.length || there.length != self.length {
            return Err(Distrust::Foreign("another program has written to it or cut it"));
        }
        Ok(())
    }

    /// Syncs what was written and looks whether exactly that was added.
    fn confirm(&mut self, store: &dyn Store, end: u64) -> Result<(), Distrust> {
        let refused = |error| Distrust::Disk("the disk did not confirm the last write", error);
        self.file.sync_data().map_err(refused)?;
        let length = self.file.facts().map_err(|error| Distrust::Disk("the open file cannot be looked at", error))?;
        if length.length != end {
            return Err(Distrust::Foreign("another program has written to it at the same moment"));
        }
        if self.sync_twice {
            self.file.sync_data().map_err(refused)?;
        }
        // A file renamed over ours while we wrote would hold nothing of what was just synced.
        match store.facts(&self.path) {
            Ok(there) if there.identity == self.identity && there.length == end => Ok(()),
            _ => Err(Distrust::Gone("the file was replaced, removed or written to while an event was written")),
        }
    }

    /// Takes back a write that failed or came out short.
    fn undo(&mut self, end: u64, error: io::Error) -> Failure {
        let undone = |what| move |error| Failure::Untrusted(Distrust::Disk(what, error));
        let failed = undone("a failed write could not be taken back");
        let length = match self.file.facts() {
            Ok(facts) => facts.length,
            Err(error) => return failed(error),
        };
        if length < self.length || length > end {
            return Failure::Untrusted(Distrust::Foreign("another program has written to it or cut it"));
        }
        if let Err(error) = self.file.set_len(self.length).and_then(|()| self.file.sync_data()) {
            return failed(error);
        }
        self.reserved_to = self.reserved_to.map(|_| self.length);
        Failure::Undone(error)
    }

    /// Keeps enough room behind `end`, or says that the disk is full.
    fn keep_room(&mut self, end: u64) -> io::Result<()> {
        let Some(reserved_to) = self.reserved_to else { return Ok(()) };
        if reserved_to >= end + RESERVE / 2 {
            return Ok(());
        }
        match self.file.reserve(self.length, end - self.length + RESERVE) {
            Ok(()) => {
                self.reserved_to = Some(end + RESERVE);
                Ok(())
            }
            Err(error) if !is_full(&error) => {
                self.reserved_to = None;
                Ok(())
            }
            Err(_) if reserved_to >= end + CLOSING_ROOM => Ok(()),
            Err(error) => match self.file.reserve(self.length, end - self.length + CLOSING_ROOM) {
                Ok(()) => {
                    self.reserved_to = Some(end + CLOSING_ROOM);
                    Ok(())
                }
                Err(_) => Err(error),
            },
        }
    }
}

/// Tells whether an error means that the disk, the quota or the allowed file size is used up.
pub(super) fn is_full(error: &io::Error) -> bool {
    matches!(error.kind(), io::ErrorKind::StorageFull | io::ErrorKind::QuotaExceeded | io::ErrorKind::FileTooLarge)
}
