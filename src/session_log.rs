//! The append-only log of a session: a file of JSON lines chained by SHA-256, written so that what was shown as saved
//! is on the disk.
//!
//! A line is `{"n":7,"t":"…","m":…,"r":1,"k":"entry.add","a":"KT","d":{…},"h":"64 digits"}` and a line feed. Its hash
//! is SHA-256 over the hash of the line before (64 zeros for the first), a line feed, and every byte of the line
//! before `,"h":"`. Whoever remembers a hash can tell later whether anything before it was changed. The chain alone
//! does not show that the last lines were cut off at a line end, that the whole chain was computed anew, or that a
//! reading is true.
//!
//! # What is saved when
//! [`SessionLog::append`] returns only after one write and one successful sync (two on a removable medium). A write
//! that fails is taken back and the session goes on; a sync that fails, or a file that is not ours alone any more,
//! ends all writing to it, and the whole session is copied to the fallback folder.

mod appender;
mod chain;
mod clock;
mod disk;
mod error;
mod event;
mod follow;
mod founding;
mod head;
mod ids;
mod kind;
pub mod memory;
mod opening;
mod places;
mod reader;
mod signals;
mod store;
mod strict;
mod writer;

pub use chain::{FORMAT_NAME, FORMAT_VERSION, Header};
pub use clock::{Clock, FixedClock, Moment, SystemClock, minutes_between};
pub use disk::Disk;
pub use error::{ErrorClass, LogError, Rescue};
pub use event::{Event, EventKind, MAX_CARD, MAX_LINE};
pub use follow::Follower;
pub use head::{Head, witness};
pub use ids::{FixedIds, Ids, RandomIds};
pub use kind::Kind;
pub use places::{is_log_name, slug};
pub use reader::{Check, Class, Hint, Problem, Reader, Reading, check, read, verify};
pub use signals::survive_file_size_limit;
pub use store::{Facts, Locking, Store, StoredFile};
pub use writer::{Founding, PROGRAM, Saved, SessionLog, Surroundings, WrongTail};
