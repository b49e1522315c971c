//! Job cards: finding, reading, checking, making.

use std::fs::{self, OpenOptions};
use std::io::{self, Read, Write};
use std::path::Path;

use crate::cli::arguments::CardTask;
use crate::cli::failure::Failure;
use crate::cli::print;
use crate::job::{self, JobCard};

/// A card is at most 48 KiB; a little more is read so that a larger one is known as such.
const MOST_READ: u64 = 64 * 1024;

/// Carries out `setwright card …`.
pub(super) fn card(task: &CardTask) -> Result<u8, Failure> {
    match task {
        CardTask::New { file, inch } => new(file.as_deref(), *inch),
        CardTask::Check { file } => check(file),
        CardTask::Schema => {
            let schema =
                serde_json::to_string_pretty(&job::schema()).map_err(|error| Failure::failed(error.to_string()))?;
            print(&format!("{schema}\n")).map(|()| 0)
        }
    }
}

fn new(file: Option<&Path>, inch: bool) -> Result<u8, Failure> {
    let [metric, imperial] = job::practice_cards();
    let (_, text) = if inch { imperial } else { metric };
    let Some(path) = file else { return print(text).map(|()| 0) };
    let made = OpenOptions::new().write(true).create_new(true).open(path).and_then(|mut file| {
        file.write_all(text.as_bytes())?;
        file.sync_all()
    });
    match made {
        Ok(()) => print(&format!(
            "{}: a practice card to start from. Change it, then: setwright card check {}\n",
            path.display(),
            path.display()
        ))
        .map(|()| 0),
        Err(error) if error.kind() == io::ErrorKind::AlreadyExists => Err(Failure::failed(format!(
            "{} is there already and was left alone. Choose another name.",
            path.display()
        ))),
        Err(error) => Err(Failure::failed(format!("{} cannot be written: {error}", path.display()))),
    }
}

fn check(path: &Path) -> Result<u8, Failure> {
    let card = read(&path.to_string_lossy())?;
    print(&format!(
        "{}: {}, {} features, {} tools, in {}. No faults found.\n",
        path.display(),
        card.title,
        card.features.len(),
        card.tools.len(),
        crate::session::unit_name(card.unit)
    ))?;
    Ok(0)
}

/// Finds a card: the name of a practice card, or a file.
pub(super) fn find(name: &str) -> Result<JobCard, Failure> {
    match job::practice_cards().into_iter().find(|(id, _)| *id == name) {
        Some((_, text)) => job::read(text).map_err(|faults| Failure::card(name, &faults)),
        None => read(name),
    }
}

/// Reads a card from a file.
fn read(name: &str) -> Result<JobCard, Failure> {
    let path = Path::new(name);
    let facts = fs::metadata(path).map_err(|error| match error.kind() {
        io::ErrorKind::NotFound => Failure::no_input(format!("{name}: there is no such card. Practice cards: flow-sensor-body, metering-valve-body. To make one: setwright card new FILE")),
        _ => Failure::no_input(format!("{name} cannot be read: {error}")),
    })?;
    if !facts.is_file() {
        let what = if facts.is_dir() { "a folder" } else { "no regular file" };
        return Err(Failure::no_input(format!("{name} is {what}: name the file of a job card.")));
    }
    let mut bytes = Vec::new();
    let file = fs::File::open(path).map_err(|error| Failure::no_input(format!("{name} cannot be read: {error}")))?;
    file.take(MOST_READ)
        .read_to_end(&mut bytes)
        .map_err(|error| Failure::no_input(format!("{name} cannot be read: {error}")))?;
    let text = String::from_utf8(bytes)
        .map_err(|_| Failure::bad_data(format!("{name} is no UTF-8 text: save the card as UTF-8.")))?;
    job::read(&text).map_err(|faults| Failure::card(name, &faults))
}
