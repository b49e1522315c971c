//! A disk in memory for tests: its calls can fail, and its power can be cut at any call.
//!
//! The model is stricter than most file systems. What was not synced may be lost by 512-byte sectors, and come back as
//! zeros or as stale bytes; a name is only there after a power cut when its folder was synced; after a failed sync the
//! bytes that were waiting are gone for good, even if a later sync succeeds, as Linux does since its pages are marked
//! clean.

use std::collections::{BTreeMap, BTreeSet};
use std::io::{self, Cursor, Read};
use std::ops::Range;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use super::store::{Facts, Locking, Store, StoredFile};

/// The size of the pieces that a power cut loses.
const SECTOR: usize = 512;
/// Up to this many unsynced sectors every subset is lost in turn; above, each one alone.
const ALL_SUBSETS: usize = 5;

/// What goes wrong at a planned call.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fault {
    /// The call does nothing and fails with this error number of the system (5 is EIO, 28 ENOSPC).
    Error(i32),
    /// A write takes only so many bytes; any other call succeeds.
    ShortWrite(usize),
    /// The call is carried out in memory, but the power is gone: it and every later call fail.
    PowerCut,
}

#[derive(Clone, Default)]
struct Inode {
    cached: Vec<u8>,
    durable: Vec<u8>,
    reserved_to: u64,
    /// Bytes that a failed sync has dropped; no later sync brings them back.
    dropped: Vec<Range<usize>>,
}

#[derive(Clone, Default)]
struct State {
    inodes: Vec<Inode>,
    names: BTreeMap<PathBuf, usize>,
    durable_names: BTreeMap<PathBuf, usize>,
    notes: BTreeMap<PathBuf, String>,
    read_only: BTreeSet<PathBuf>,
    calls: Vec<&'static str>,
    faults: BTreeMap<usize, Fault>,
    is_cut: bool,
    capacity: Option<u64>,
    locks_unsupported: bool,
}

/// A disk in memory. Clones share the same disk.
#[derive(Clone, Default)]
pub struct MemoryDisk(Arc<Mutex<State>>);

struct MemoryFile {
    disk: MemoryDisk,
    inode: usize,
}

struct MemoryLock {
    disk: MemoryDisk,
    path: PathBuf,
}

impl Drop for MemoryLock {
    fn drop(&mut self) {
        self.disk.state().notes.remove(&self.path);
    }
}

impl MemoryDisk {
    /// Makes an empty disk.
    pub fn new() -> Self {
        Self::default()
    }

    /// Plans what goes wrong at a call, counted from 0.
    pub fn plan(&self, call: usize, fault: Fault) {
        self.state().faults.insert(call, fault);
    }

    /// Lists the calls so far by name.
    pub fn calls(&self) -> Vec<&'static str> {
        self.state().calls.clone()
    }

    /// Limits the disk to so many bytes in all, or lifts the limit.
    pub fn set_capacity(&self, bytes: Option<u64>) {
        self.state().capacity = bytes;
    }

    /// Lets locking fail as on a file system that knows no locks.
    pub fn without_locks(&self) {
        self.state().locks_unsupported = true;
    }

    /// Gives what a reader would see in a file now.
    pub fn contents(&self, path: &Path) -> Option<Vec<u8>> {
        let state = self.state();
        state.inode_at(path).map(|inode| inode.cached.clone())
    }

    /// Puts a new file at a path, in the place of what stood there, as another program does.
    pub fn put(&self, path: &Path, bytes: &[u8]) {
        let mut state = self.state();
        let inode = state.add_inode();
        if let Some(file) = state.inodes.get_mut(inode) {
            file.cached = bytes.to_vec();
            file.durable = bytes.to_vec();
        }
        state.names.insert(path.to_owned(), inode);
        state.durable_names.insert(path.to_owned(), inode);
    }

    /// Adds bytes to a file behind the log's back.
    pub fn append_foreign(&self, path: &Path, bytes: &[u8]) {
        let mut state = self.state();
        let inode = state.names.get(path).copied();
        if let Some(file) = inode.and_then(|inode| state.inodes.get_mut(inode)) {
            file.cached.extend_from_slice(bytes);
        }
    }

    /// Lists every file that a reader would see.
    pub fn paths(&self) -> Vec<PathBuf> {
        self.state().names.keys().cloned().collect()
    }

    /// Gives every disk that a power cut or a killed program could leave now, without faults and without locks. The
    /// first is what a killed program leaves, the second what is certain to survive.
    pub fn crash_images(&self) -> Vec<Self> {
        let state = self.state();
        let mut images = vec![state.image(&state.names, |inode| inode.cached.clone())];
        for names in [&state.durable_names, &state.names] {
            images.push(state.image(names, |inode| inode.durable.clone()));
            for (number, inode) in state.inodes.iter().enumerate() {
                for bytes in inode.possible() {
                    images.push(state.image_with(names, number, &bytes));
                }
            }
        }
        images
    }

    fn state(&self) -> MutexGuard<'_, State> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl Inode {
    /// Gives every content that could be found after a power cut.
    fn possible(&self) -> Vec<Vec<u8>> {
        if self.cached == self.durable {
            return Vec::new();
        }
        let Some(added) = self.cached.strip_prefix(self.durable.as_slice()) else {
            return vec![self.durable.clone(), self.cached.clone()];
        };
        let kept = self.durable.len();
        let cuts = (0..=added.len()).map(|more| self.cached.get(..kept + more).unwrap_or_default().to_vec());
        cuts.chain(self.with_lost_sectors()).collect()
    }

    fn with_lost_sectors(&self) -> Vec<Vec<u8>> {
        let kept = self.durable.len();
        let sectors: Vec<usize> = (kept / SECTOR..=self.cached.len().saturating_sub(1) / SECTOR).collect();
        let subsets: Vec<Vec<usize>> = if sectors.len() <= ALL_SUBSETS {
            (1_usize..1 << sectors.len())
                .map(|bits| sectors.iter().enumerate().filter(|(at, _)| bits >> at & 1 == 1).map(|(_, s)| *s).collect())
                .collect()
        } else {
            sectors.iter().map(|sector| vec![*sector]).collect()
        };
        let mut images = Vec::new();
        for lost in &subsets {
            for stale in [&b"\0"[..], b"old bytes of another file ", b"{\"n\":3,\"t\":\n"] {
                let mut bytes = self.cached.clone();
                for (at, byte) in bytes.iter_mut().enumerate().skip(kept) {
                    if lost.contains(&(at / SECTOR)) {
                        *byte = stale.get(at % stale.len()).copied().unwrap_or_default();
                    }
                }
                images.push(bytes);
            }
        }
        images
    }

    fn sync(&mut self) {
        self.durable.clone_from(&self.cached);
        for range in self.dropped.clone() {
            for byte in self.durable.iter_mut().take(range.end).skip(range.start) {
                *byte = 0;
            }
        }
    }

    fn drop_unsynced(&mut self) {
        let from = self.durable.len().min(self.cached.len());
        self.dropped.push(from..self.cached.len());
    }

    fn used(&self) -> u64 {
        self.reserved_to.max(self.cached.len() as u64)
    }
}

impl State {
    fn add_inode(&mut self) -> usize {
        self.inodes.push(Inode::default());
        self.inodes.len() - 1
    }

    fn inode_at(&self, path: &Path) -> Option<&Inode> {
        self.names.get(path).and_then(|inode| self.inodes.get(*inode))
    }

    fn image(&self, names: &BTreeMap<PathBuf, usize>, content: impl Fn(&Inode) -> Vec<u8>) -> MemoryDisk {
        let mut image = Self { names: names.clone(), durable_names: names.clone(), ..Self::default() };
        for inode in &self.inodes {
            let bytes = content(inode);
            image.inodes.push(Inode { cached: bytes.clone(), durable: bytes, ..Inode::default() });
        }
        MemoryDisk(Arc::new(Mutex::new(image)))
    }

    fn image_with(&self, names: &BTreeMap<PathBuf, usize>, number: usize, bytes: &[u8]) -> MemoryDisk {
        let image = self.image(names, |inode| inode.durable.clone());
        if let Some(inode) = image.state().inodes.get_mut(number) {
            inode.cached = bytes.to_vec();
            inode.durable = bytes.to_vec();
        }
        image
    }

    /// Counts a call and gives what goes wrong at it.
    fn enter(&mut self, name: &'static str) -> io::Result<Option<Fault>> {
        if self.is_cut {
            return Err(no_power());
        }
        self.calls.push(name);
        match self.faults.get(&(self.calls.len() - 1)).copied() {
            Some(Fault::Error(number)) => Err(io::Error::from_raw_os_error(number)),
            other => Ok(other),
        }
    }

    /// Ends a call whose effect has taken place.
    fn leave(&mut self, fault: Option<Fault>) -> io::Result<()> {
        if fault == Some(Fault::PowerCut) {
            self.is_cut = true;
            return Err(no_power());
        }
        Ok(())
    }

    fn room(&self) -> u64 {
        let used = self.inodes.iter().map(Inode::used).sum();
        self.capacity.map_or(u64::MAX, |capacity| capacity.saturating_sub(used))
    }
}

fn no_power() -> io::Error {
    io::Error::other("the power is gone")
}

fn missing() -> io::Error {
    io::ErrorKind::NotFound.into()
}

fn full() -> io::Error {
    io::ErrorKind::StorageFull.into()
}

impl Store for MemoryDisk {
    fn create_new(&self, path: &Path) -> io::Result<Box<dyn StoredFile>> {
        let mut state = self.state();
        let fault = state.enter("create")?;
        if state.names.contains_key(path) {
            return Err(io::ErrorKind::AlreadyExists.into());
        }
        let inode = state.add_inode();
        state.names.insert(path.to_owned(), inode);
        state.leave(fault)?;
        Ok(Box::new(MemoryFile { disk: self.clone(), inode }))
    }

    fn open_append(&self, path: &Path) -> io::Result<Box<dyn StoredFile>> {
        let mut state = self.state();
        let fault = state.enter("open")?;
        let inode = state.names.get(path).copied().ok_or_else(missing)?;
        if state.read_only.contains(path) {
            return Err(io::ErrorKind::PermissionDenied.into());
        }
        state.leave(fault)?;
        Ok(Box::new(MemoryFile { disk: self.clone(), inode }))
    }

    fn open_read(&self, path: &Path) -> io::Result<Box<dyn Read + Send>> {
        let mut state = self.state();
        let fault = state.enter("open_read")?;
        let bytes = state.inode_at(path).ok_or_else(missing)?.cached.clone();
        state.leave(fault)?;
        Ok(Box::new(Cursor::new(bytes)))
    }

    fn facts(&self, path: &Path) -> io::Result<Facts> {
        let mut state = self.state();
        let fault = state.enter("facts")?;
        let inode = state.names.get(path).copied().ok_or_else(missing)?;
        state.leave(fault)?;
        state.facts_of(inode)
    }

    fn sync_folder(&self, folder: &Path) -> io::Result<()> {
        let mut state = self.state();
        let fault = state.enter("sync_folder")?;
        let here = |path: &Path| path.parent() == Some(folder);
        let names = state.names.clone();
        state.durable_names.retain(|path, _| !here(path));
        state.durable_names.extend(names.into_iter().filter(|(path, _)| here(path)));
        state.leave(fault)
    }

    fn make_folder(&self, _: &Path) -> io::Result<()> {
        let mut state = self.state();
        let fault = state.enter("make_folder")?;
        state.leave(fault)
    }

    fn names(&self, folder: &Path) -> io::Result<Vec<String>> {
        let mut state = self.state();
        let fault = state.enter("names")?;
        let here = state.names.keys().filter(|path| path.parent() == Some(folder));
        let names = here.filter_map(|path| path.file_name()?.to_str().map(str::to_owned)).collect();
        state.leave(fault)?;
        Ok(names)
    }

    fn lock(&self, path: &Path, note: &str) -> io::Result<Locking> {
        let mut state = self.state();
        let fault = state.enter("lock")?;
        if state.locks_unsupported {
            return Ok(Locking::Unsupported);
        }
        if let Some(note) = state.notes.get(path) {
            return Ok(Locking::Taken(note.clone()));
        }
        state.leave(fault)?;
        state.notes.insert(path.to_owned(), note.to_owned());
        Ok(Locking::Held(Box::new(MemoryLock { disk: self.clone(), path: path.to_owned() })))
    }

    fn set_read_only(&self, path: &Path) -> io::Result<()> {
        let mut state = self.state();
        let fault = state.enter("set_read_only")?;
        state.read_only.insert(path.to_owned());
        state.leave(fault)
    }

    fn remove(&self, path: &Path) -> io::Result<()> {
        let mut state = self.state();
        let fault = state.enter("remove")?;
        state.names.remove(path).ok_or_else(missing)?;
        state.leave(fault)
    }

    fn is_removable(&self, _: &Path) -> bool {
        false
    }
}

impl State {
    fn facts_of(&self, inode: usize) -> io::Result<Facts> {
        let file = self.inodes.get(inode).ok_or_else(missing)?;
        Ok(Facts { regular: true, identity: Some((1, inode as u64 + 1)), length: file.cached.len() as u64 })
    }
}

impl MemoryFile {
    /// Carries out a call on the file.
    fn call<T>(&self, name: &'static str, act: impl FnOnce(&mut Inode) -> T) -> io::Result<T> {
        let mut state = self.disk.state();
        let fault = state.enter(name)?;
        let result = act(state.inodes.get_mut(self.inode).ok_or_else(missing)?);
        state.leave(fault)?;
        Ok(result)
    }

    fn sync(&self, name: &'static str) -> io::Result<()> {
        let mut state = self.disk.state();
        let entered = state.enter(name);
        let is_cut = state.is_cut;
        let file = state.inodes.get_mut(self.inode).ok_or_else(missing)?;
        match entered {
            Ok(Some(Fault::PowerCut)) => state.leave(Some(Fault::PowerCut)),
            Ok(fault) => {
                file.sync();
                state.leave(fault)
            }
            Err(error) => {
                if !is_cut {
                    file.drop_unsynced();
                }
                Err(error)
            }
        }
    }
}

impl StoredFile for MemoryFile {
    fn facts(&self) -> io::Result<Facts> {
        let mut state = self.disk.state();
        let fault = state.enter("file_facts")?;
        state.leave(fault)?;
        state.facts_of(self.inode)
    }

    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        let mut state = self.disk.state();
        let fault = state.enter("write")?;
        let room = state.room();
        let file = state.inodes.get_mut(self.inode).ok_or_else(missing)?;
        let reserved = file.used() - file.cached.len() as u64;
        let space = usize::try_from(room.saturating_add(reserved)).unwrap_or(usize::MAX);
        let asked = match fault {
            Some(Fault::ShortWrite(limit)) => bytes.len().min(limit),
            _ => bytes.len(),
        };
        let taken = asked.min(space);
        if taken == 0 && asked > 0 {
            return Err(full());
        }
        file.cached.extend_from_slice(bytes.get(..taken).unwrap_or_default());
        state.leave(fault)?;
        Ok(taken)
    }

    fn sync_data(&mut self) -> io::Result<()> {
        self.sync("sync_data")
    }

    fn sync_all(&mut self) -> io::Result<()> {
        self.sync("sync_all")
    }

    fn set_len(&mut self, length: u64) -> io::Result<()> {
        let length = usize::try_from(length).unwrap_or(usize::MAX);
        self.call("set_len", |file| {
            file.cached.truncate(length);
            file.reserved_to = 0;
            file.dropped.retain(|range| range.end <= length);
        })
    }

    fn reserve(&mut self, from: u64, bytes: u64) -> io::Result<()> {
        let mut state = self.disk.state();
        let fault = state.enter("reserve")?;
        let room = state.room();
        let file = state.inodes.get_mut(self.inode).ok_or_else(missing)?;
        let end = from + bytes;
        if end.saturating_sub(file.used()) > room {
            return Err(full());
        }
        file.reserved_to = file.reserved_to.max(end);
        state.leave(fault)
    }
}
