//! The real disk.

use std::fs::{self, File, OpenOptions, TryLockError};
use std::io::{self, Read, Seek, Write};
use std::path::Path;

use super::store::{Facts, Locking, Store, StoredFile};

/// The longest note read from a lock file.
const MAX_NOTE: u64 = 200;

/// The machine's file systems.
#[derive(Debug, Clone, Copy, Default)]
pub struct Disk;

/// Opens a regular file for reading from a position.
pub(super) fn open_read_from(path: &Path, position: u64) -> io::Result<impl Read + use<>> {
    let mut file = open_regular(path, OpenOptions::new().read(true))?;
    file.seek(io::SeekFrom::Start(position))?;
    Ok(file)
}

/// A file on the machine's disk, open for appending.
struct DiskFile(File);

impl Store for Disk {
    fn create_new(&self, path: &Path) -> io::Result<Box<dyn StoredFile>> {
        let file = OpenOptions::new().read(true).append(true).create_new(true).open(path)?;
        Ok(Box::new(DiskFile(file)))
    }

    fn open_append(&self, path: &Path) -> io::Result<Box<dyn StoredFile>> {
        let file = open_regular(path, OpenOptions::new().read(true).append(true))?;
        Ok(Box::new(DiskFile(file)))
    }

    fn open_read(&self, path: &Path) -> io::Result<Box<dyn Read + Send>> {
        Ok(Box::new(open_regular(path, OpenOptions::new().read(true))?))
    }

    fn facts(&self, path: &Path) -> io::Result<Facts> {
        Ok(facts_of(&fs::metadata(path)?))
    }

    fn sync_folder(&self, folder: &Path) -> io::Result<()> {
        if cfg!(unix) { File::open(or_here(folder))?.sync_all() } else { Ok(()) }
    }

    fn make_folder(&self, folder: &Path) -> io::Result<()> {
        fs::create_dir_all(or_here(folder))
    }

    fn names(&self, folder: &Path) -> io::Result<Vec<String>> {
        let mut names = Vec::new();
        for entry in fs::read_dir(or_here(folder))? {
            // A name that is not text cannot be one of ours.
            names.extend(entry?.file_name().into_string().ok());
        }
        Ok(names)
    }

    fn lock(&self, path: &Path, note: &str) -> io::Result<Locking> {
        let mut options = OpenOptions::new();
        options.read(true).write(true).create(true).truncate(false);
        let mut file = match fs::metadata(path) {
            Ok(_) => open_regular(path, &options)?,
            Err(_) => options.open(path)?,
        };
        match file.try_lock() {
            Ok(()) => {
                // The note only serves the person at the other terminal; the lock holds without it.
                let _ = file.set_len(0).and_then(|()| file.rewind()).and_then(|()| file.write_all(note.as_bytes()));
                Ok(Locking::Held(Box::new(file)))
            }
            Err(TryLockError::WouldBlock) => {
                let mut text = String::new();
                let _ = file.take(MAX_NOTE).read_to_string(&mut text);
                Ok(Locking::Taken(text.trim().chars().filter(|c| !c.is_control()).collect()))
            }
            Err(TryLockError::Error(error)) if is_unsupported(&error) => Ok(Locking::Unsupported),
            Err(TryLockError::Error(error)) => Err(error),
        }
    }

    fn set_read_only(&self, path: &Path) -> io::Result<()> {
        let mut permissions = fs::metadata(path)?.permissions();
        permissions.set_readonly(true);
        fs::set_permissions(path, permissions)
    }

    fn remove(&self, path: &Path) -> io::Result<()> {
        fs::remove_file(path)
    }

    fn is_removable(&self, path: &Path) -> bool {
        removable(path).unwrap_or(false)
    }
}

impl StoredFile for DiskFile {
    fn facts(&self) -> io::Result<Facts> {
        Ok(facts_of(&self.0.metadata()?))
    }

    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.0.write(bytes)
    }

    fn sync_data(&mut self) -> io::Result<()> {
        self.0.sync_data()
    }

    fn sync_all(&mut self) -> io::Result<()> {
        self.0.sync_all()
    }

    fn set_len(&mut self, length: u64) -> io::Result<()> {
        self.0.set_len(length)
    }

    fn reserve(&mut self, from: u64, bytes: u64) -> io::Result<()> {
        reserve(&self.0, from, bytes)
    }
}

#[cfg(target_os = "linux")]
fn reserve(file: &File, from: u64, bytes: u64) -> io::Result<()> {
    Ok(rustix::fs::fallocate(file, rustix::fs::FallocateFlags::KEEP_SIZE, from, bytes)?)
}

#[cfg(not(target_os = "linux"))]
fn reserve(_: &File, _: u64, _: u64) -> io::Result<()> {
    Err(io::ErrorKind::Unsupported.into())
}

fn is_unsupported(error: &io::Error) -> bool {
    error.kind() == io::ErrorKind::Unsupported
}

/// The folder of a bare file name is the one we stand in.
fn or_here(folder: &Path) -> &Path {
    if folder.as_os_str().is_empty() { Path::new(".") } else { folder }
}

/// Opens only regular files: a device could give bytes without end and a pipe could wait without end.
fn open_regular(path: &Path, options: &OpenOptions) -> io::Result<File> {
    refuse_irregular(&fs::metadata(path)?)?;
    let mut options = options.clone();
    without_waiting(&mut options);
    let file = options.open(path)?;
    // What stood there may have changed between the two calls.
    refuse_irregular(&file.metadata()?)?;
    Ok(file)
}

fn refuse_irregular(metadata: &fs::Metadata) -> io::Result<()> {
    if metadata.is_file() {
        return Ok(());
    }
    let what = if metadata.is_dir() { "it is a folder" } else { "it is a device, a pipe or a socket" };
    Err(io::Error::new(io::ErrorKind::InvalidInput, format!("{what}, not a file")))
}

#[cfg(unix)]
fn without_waiting(options: &mut OpenOptions) {
    use std::os::unix::fs::OpenOptionsExt;
    let flags = rustix::fs::OFlags::NONBLOCK | rustix::fs::OFlags::NOCTTY;
    options.custom_flags(i32::try_from(flags.bits()).unwrap_or_default());
}

#[cfg(not(unix))]
fn without_waiting(_: &mut OpenOptions) {}

fn facts_of(metadata: &fs::Metadata) -> Facts {
    Facts { regular: metadata.is_file(), identity: identity_of(metadata), length: metadata.len() }
}

#[cfg(unix)]
#[expect(clippy::unnecessary_wraps, reason = "other systems have none")]
fn identity_of(metadata: &fs::Metadata) -> Option<(u64, u64)> {
    use std::os::unix::fs::MetadataExt;
    Some((metadata.dev(), metadata.ino()))
}

#[cfg(not(unix))]
fn identity_of(_: &fs::Metadata) -> Option<(u64, u64)> {
    None
}

/// Asks the kernel whether the disk under a path is removable; a partition asks the disk it lies on.
#[cfg(target_os = "linux")]
fn removable(path: &Path) -> Option<bool> {
    let (device, _) = identity_of(&fs::metadata(path).ok()?)?;
    let (major, minor) = (rustix::fs::major(device), rustix::fs::minor(device));
    let block = fs::canonicalize(format!("/sys/dev/block/{major}:{minor}")).ok()?;
    let answer = fs::read_to_string(block.join("removable"))
        .or_else(|_| fs::read_to_string(block.parent().unwrap_or(&block).join("removable")))
        .ok()?;
    Some(answer.trim() == "1")
}

#[cfg(not(target_os = "linux"))]
fn removable(_: &Path) -> Option<bool> {
    None
}
