//! How long a sheet of a session of 10,000 events takes: `cargo bench --bench sheet`. The limit is half a second.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout,
    reason = "a bench may stop at what it did not expect"
)]

use std::time::{Duration, Instant};

use setwright::checklist::Command;
use setwright::session::{House, Outcome, Session, review};
use setwright::session_log::SystemClock;
use setwright::sheet;

const EVENTS: u64 = 10_000;
const LIMIT: Duration = Duration::from_millis(500);

fn main() {
    let home = tempfile::tempdir().unwrap();
    let path = long_session(&House::under(home.path()));
    let began = Instant::now();
    let read = review(&path).unwrap();
    let reading = began.elapsed();
    println!("{} events, read in {} ms", read.check.count, reading.as_millis());
    let mut worst = Duration::ZERO;
    for (name, write) in [
        ("setup sheet", (|read| sheet::to_html(&sheet::setup_sheet(read))) as fn(&_) -> String),
        ("evidence", |read| sheet::to_html(&sheet::evidence(read))),
        ("record as JSON", |read| sheet::to_json(read).to_string()),
    ] {
        let began = Instant::now();
        let text = write(&read);
        let whole = reading + began.elapsed();
        println!("{name}: {} bytes, {} ms with the reading", text.len(), whole.as_millis());
        worst = worst.max(whole);
    }
    assert!(worst <= LIMIT, "{} ms, and {} are the limit", worst.as_millis(), LIMIT.as_millis());
}

/// A session in which one answer is given and crossed out again and again.
fn long_session(house: &House) -> std::path::PathBuf {
    let [(_, card), _] = setwright::job::practice_cards();
    let card = setwright::job::read(card).unwrap();
    let mut around = house.surroundings();
    around.clock = Box::new(SystemClock::new());
    let mut session = Session::start(around, &house.sessions, card, "KT").unwrap();
    while session.log().events().len() < usize::try_from(EVENTS).unwrap() {
        let Outcome::Recorded(lines) = session.take(&Command::Enter { text: "yes".to_owned(), sure: None }).unwrap()
        else {
            panic!("the first question wants a yes")
        };
        let strike = Command::Strike { seq: lines[0], why: "taken again".to_owned() };
        assert!(matches!(session.take(&strike).unwrap(), Outcome::Recorded(_)));
    }
    session.log().path().to_owned()
}
