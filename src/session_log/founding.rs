//! New log files: a new session, a continuation, an amendment, a rescue.

use std::path::{Path, PathBuf};

use serde_json::{Map, Value, json};
use sha2::{Digest, Sha256};

use super::appender::{Appender, Failure, Room};
use super::chain::{Chain, FORMAT_NAME, FORMAT_VERSION};
use super::clock::Moment;
use super::error::LogError;
use super::event::{Draft, Event, MAX_CARD};
use super::head::Head;
use super::kind::Kind;
use super::opening::take_lock;
use super::places::{amendment_path, folder_of, lock_path, log_name, logs_in, slug_of};
use super::reader::{Class, Reader, verify_in};
use super::store::Store;
use super::writer::{Founding, SessionLog, State, Surroundings, taken};

/// The version of the calculations, in every header.
const CALC_VERSION: &str = "1";
/// How many names are tried before giving up.
const ATTEMPTS: u32 = 99;
/// What the log itself puts into a header; the caller may not.
const OWN_KEYS: [&str; 11] = ["f", "fv", "min", "sid", "app", "calc", "unit", "boot", "prev", "continues", "amends"];

pub(super) fn create(mut around: Surroundings, founding: &Founding<'_>) -> Result<SessionLog, LogError> {
    let folder = founding.folder;
    around.store.make_folder(folder).map_err(|source| LogError::io(folder, "make the folder", source))?;
    let now = around.clock.now();
    let mut data = identity(&mut around, folder);
    data.insert("unit".to_owned(), founding.unit.into());
    data.extend(checked(folder, &founding.data)?);
    let body = header_body(&now.rfc3339(), 1, founding.by, &data);
    let slug = founding.slug.to_owned();
    found(around, now, vec![body], |around, _| folder.join(log_name(&now, &slug, around.ids.next_bits())))
}

pub(super) fn carry_on(mut around: Surroundings, path: &Path) -> Result<SessionLog, LogError> {
    let (bodies, chain, class) = good_part(&*around.store, path)?;
    if !matches!(class, Class::Damaged | Class::DamagedTail) {
        let why = "it is not damaged; resume it".to_owned();
        return Err(LogError::Refused { path: path.to_owned(), why });
    }
    let now = around.clock.now();
    let folder = folder_of(path).to_owned();
    let bodies = continuation(&mut around, &folder, now, &bodies, &chain)?;
    let slug = slug_of(path);
    found(around, now, bodies, |around, _| folder.join(log_name(&now, &slug, around.ids.next_bits())))
}

#[expect(clippy::needless_pass_by_value, reason = "the caller makes the data for this event alone")]
pub(super) fn amend(
    mut around: Surroundings,
    path: &Path,
    by: &str,
    data: Map<String, Value>,
) -> Result<SessionLog, LogError> {
    let check = verify_in(&*around.store, path)?;
    let newer = check.is_newer();
    let Some(header) = check.header else { return Err(LogError::NoHeader { path: path.to_owned() }) };
    if newer {
        return Err(newer_error(path, header.version, header.least));
    }
    if let (Class::Damaged | Class::DamagedTail | Class::Torn, Some(problem)) = (check.class, check.problem) {
        return Err(LogError::Damaged { path: path.to_owned(), problem });
    }
    if !check.sealed {
        return Err(LogError::NotSealed { path: path.to_owned() });
    }
    let now = around.clock.now();
    let data = checked(path, &data)?;
    let mut new = identity(&mut around, folder_of(path));
    new.insert("unit".to_owned(), header.data.get("unit").cloned().unwrap_or_default());
    let sha256 = file_hash(&*around.store, path)?;
    new.insert(
        "amends".to_owned(),
        json!({"sid": header.sid, "n": check.count - 1, "head": check.head.as_str(), "sha256": sha256.as_str()}),
    );
    new.extend(data);
    let body = header_body(&now.rfc3339(), 1, by, &new);
    found(around, now, vec![body], |_, attempt| amendment_path(path, attempt))
}

/// Copies a whole session from memory into the fallback folder and gives the copy's path.
pub(super) fn rescue(
    around: &mut Surroundings,
    path: &Path,
    bodies: &[Vec<u8>],
    chain: &Chain,
) -> Result<PathBuf, LogError> {
    let folder = around.fallback.clone();
    around.store.make_folder(&folder).map_err(|source| LogError::io(&folder, "make the folder", source))?;
    let now = around.clock.now();
    let bodies = continuation(around, &folder, now, bodies, chain)?;
    let slug = slug_of(path);
    let new = write_new(around, now, &bodies, |around, _| folder.join(log_name(&now, &slug, around.ids.next_bits())))?;
    Ok(new.path)
}

/// Reads the bodies of the good events of a log.
pub(super) fn good_part(store: &dyn Store, path: &Path) -> Result<(Vec<Vec<u8>>, Chain, Class), LogError> {
    let failed = |source| LogError::io(path, "read", source);
    let mut reader = Reader::new(store.open_read(path).map_err(failed)?);
    let mut bodies = Vec::new();
    while reader.pass().map_err(failed)? {
        bodies.push(reader.last_body().to_vec());
    }
    let chain = reader.chain_so_far().clone();
    let class = reader.into_check().class;
    match &chain.header {
        None => Err(LogError::NoHeader { path: path.to_owned() }),
        Some(header) if header.is_newer() => Err(newer_error(path, header.version, header.least)),
        Some(_) => Ok((bodies, chain, class)),
    }
}

pub(super) fn newer_error(path: &Path, version: u64, least: u64) -> LogError {
    let what = format!("format {version}, needs a reader of format {least}; this one knows {FORMAT_VERSION}");
    LogError::Newer { path: path.to_owned(), what }
}

/// Puts a header that says `continues` before the same events. Only the hashes differ from the old file.
fn continuation(
    around: &mut Surroundings,
    folder: &Path,
    now: Moment,
    bodies: &[Vec<u8>],
    chain: &Chain,
) -> Result<Vec<Vec<u8>>, LogError> {
    let broken = |why: String| LogError::Refused { path: folder.to_owned(), why };
    let first = bodies.first().ok_or_else(|| broken("there is no first event".to_owned()))?;
    let (_, old) = taken(&mut Chain::new(), first).map_err(broken)?;
    let old_sid = old.data.get("sid").cloned().unwrap_or_default();
    let mut data = identity(around, folder);
    data.insert(
        "continues".to_owned(),
        json!({"sid": old_sid, "n": chain.count.saturating_sub(1), "head": chain.head.as_str(), "t": now.rfc3339()}),
    );
    data.extend(old.data.into_iter().filter(|(key, _)| !is_renewed(key)));
    let header = header_body(&old.t, old.r, &old.by, &data);
    Ok(std::iter::once(header).chain(bodies.iter().skip(1).cloned()).collect())
}

/// Refuses what the caller may not put into a header.
fn checked(path: &Path, data: &Map<String, Value>) -> Result<Map<String, Value>, LogError> {
    let refused = |why| LogError::Refused { path: path.to_owned(), why };
    if let Some(key) = OWN_KEYS.iter().find(|key| data.contains_key(**key)) {
        return Err(refused(format!("the header's field \"{key}\" is the log's own")));
    }
    let card = data.get("card").map_or(0, |card| card.to_string().len());
    if card > MAX_CARD {
        return Err(refused(format!("the job card is larger than 48 KiB ({card} bytes)")));
    }
    Ok(data.clone())
}

/// Tells whether a continuation has its own value of a header's field. Unit, card and what is amended stay.
fn is_renewed(key: &str) -> bool {
    OWN_KEYS.contains(&key) && !matches!(key, "unit" | "amends")
}

/// Says who made the log, with what, under which id, after which log.
fn identity(around: &mut Surroundings, folder: &Path) -> Map<String, Value> {
    let app = format!("setwright {} {}-{}", env!("CARGO_PKG_VERSION"), std::env::consts::ARCH, std::env::consts::OS);
    let mut data = Map::new();
    for (key, value) in [
        ("f", json!(FORMAT_NAME)),
        ("fv", json!(FORMAT_VERSION)),
        ("min", json!(FORMAT_VERSION)),
        ("sid", json!(format!("{:032x}", around.ids.next_bits()))),
        ("app", json!(app)),
        ("calc", json!(CALC_VERSION)),
        ("boot", json!(format!("{:032x}", around.ids.next_bits()))),
    ] {
        data.insert(key.to_owned(), value);
    }
    if let Some(previous) = log_before(&*around.store, folder) {
        data.insert("prev".to_owned(), previous);
    }
    data
}

/// Names the newest log of a folder that holds a session.
fn log_before(store: &dyn Store, folder: &Path) -> Option<Value> {
    logs_in(store, folder).into_iter().find_map(|path| {
        let check = verify_in(store, &path).ok()?;
        Some(json!({"sid": check.header?.sid, "n": check.count - 1, "h": check.head.as_str()}))
    })
}

fn header_body(t: &str, run: u64, by: &str, data: &Map<String, Value>) -> Vec<u8> {
    Draft { n: 0, t, m: 0, r: run, kind: Kind::SessionOpen, by, data }.body()
}

fn file_hash(store: &dyn Store, path: &Path) -> Result<Head, LogError> {
    let failed = |source| LogError::io(path, "read", source);
    let mut file = store.open_read(path).map_err(failed)?;
    let mut hasher = Sha256::new();
    let mut piece = vec![0; 64 * 1024];
    loop {
        let count = file.read(&mut piece).map_err(failed)?;
        if count == 0 {
            return Ok(Head::of_digest(&hasher.finalize()));
        }
        hasher.update(piece.get(..count).unwrap_or_default());
    }
}

/// A new file that holds its first events, all synced.
struct NewFile {
    path: PathBuf,
    appender: Appender,
    lock: Option<Box<dyn Send>>,
    notices: Vec<String>,
    chain: Chain,
    events: Vec<Event>,
}

/// Makes the file and turns it into an open log.
fn found<N>(mut around: Surroundings, now: Moment, bodies: Vec<Vec<u8>>, name: N) -> Result<SessionLog, LogError>
where
    N: Fn(&mut Surroundings, u32) -> PathBuf,
{
    let new = write_new(&mut around, now, &bodies, name)?;
    let is_copy = bodies.len() > 1;
    let boot = new.chain.header.as_ref().and_then(|header| header.data.get("boot")).and_then(Value::as_str);
    Ok(SessionLog {
        boot: boot.unwrap_or_default().to_owned(),
        run: new.chain.last_run + u64::from(is_copy),
        around,
        path: new.path,
        appender: new.appender,
        lock: new.lock,
        chain: new.chain,
        events: new.events,
        bodies,
        run_began_ms: now.steady_ms,
        last: Some(now),
        state: State::Open,
        notices: new.notices,
    })
}

/// Makes a file that did not exist, locks it, and writes its first events with one write.
fn write_new<N>(around: &mut Surroundings, now: Moment, bodies: &[Vec<u8>], name: N) -> Result<NewFile, LogError>
where
    N: Fn(&mut Surroundings, u32) -> PathBuf,
{
    let mut chain = Chain::new();
    let mut text = Vec::new();
    let mut events = Vec::new();
    for body in bodies {
        let (line, event) = taken(&mut chain, body).map_err(|why| {
            let path = name(around, 1);
            LogError::Refused { path, why }
        })?;
        text.extend_from_slice(&line);
        events.push(event);
    }
    let (path, file) = create_file(around, name)?;
    let failed = |source| LogError::io(&path, "create", source);
    let store = std::sync::Arc::clone(&around.store);
    let (lock, notices) = take_lock(&*store, &path, now)?;
    let twice = around.sync_twice || store.is_removable(&path);
    let mut appender = Appender::new(file, &path, twice).map_err(failed)?;
    appender.append(&*store, &text, Room::Ordinary).map_err(|failure| match failure {
        Failure::Undone(source) => {
            // The file is empty again; it would only be in the way.
            let _ = store.remove(&path);
            let _ = store.remove(&lock_path(&path));
            failed(source)
        }
        Failure::Untrusted(why) => failed(std::io::Error::other(why.to_string())),
    })?;
    appender.sync_all().and_then(|()| store.sync_folder(folder_of(&path))).map_err(failed)?;
    Ok(NewFile { path, appender, lock, notices, chain, events })
}

fn create_file<N>(around: &mut Surroundings, name: N) -> Result<(PathBuf, Box<dyn super::store::StoredFile>), LogError>
where
    N: Fn(&mut Surroundings, u32) -> PathBuf,
{
    let mut attempt = 1;
    loop {
        let path = name(around, attempt);
        match around.store.create_new(&path) {
            Ok(file) => return Ok((path, file)),
            Err(error) if error.kind() == std::io::ErrorKind::AlreadyExists && attempt < ATTEMPTS => attempt += 1,
            Err(error) => return Err(LogError::io(&path, "create", error)),
        }
    }
}
