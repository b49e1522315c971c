//! The simulated shop: whole setups played through real sessions, with and without something planted.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout,
    reason = "a test may stop at what it did not expect"
)]

use setwright::checklist::Command;
use setwright::job::{self, JobCard};
use setwright::session::{House, Outcome, Session};
use setwright::shop::{PLANTS, Plant, Shop, Typed, rehearsal_card};

/// Answers after which a setup of twelve pieces should long be over.
const MOST: usize = 5_000;

fn card(name: &str) -> JobCard {
    let (_, text) = job::practice_cards().into_iter().find(|(id, _)| *id == name).unwrap();
    job::read(text).unwrap()
}

/// A third card, made up: another machine that turns the other way, another size, three pieces.
fn third_card() -> JobCard {
    let (_, text) = job::practice_cards()[0];
    let mut value: serde_json::Value = serde_json::from_str(text).unwrap();
    value["id"] = "third-job".into();
    value["title"] = "Third job".into();
    value["part"]["batch"] = 3.into();
    value["depth"] = "normal".into();
    value["machine"]["work_turns"] = "right-hand".into();
    value["machine"]["top_faces"] = "-X".into();
    value["fixture"]["back_face_side"] = "plus".into();
    value["fixture"]["touch_height"] = 0.into();
    value["fixture"]["pad_span"] = 40.into();
    value["register"]["claimed"] = "G57".into();
    job::read(&value.to_string()).unwrap()
}

struct Played {
    _home: tempfile::TempDir,
    session: Session,
    shop: Shop,
    answers: Vec<String>,
}

fn play(card: &JobCard, seed: u64, plants: &[&'static Plant]) -> Played {
    let home = tempfile::tempdir().unwrap();
    let house = House::under(home.path());
    let session = Session::start(house.surroundings(), &house.sessions, card.clone(), "KT").unwrap();
    let mut played = Played { _home: home, session, shop: Shop::open(card, seed, plants), answers: Vec::new() };
    for _ in 0..MOST {
        if played.session.progress().is_sealed() {
            return played;
        }
        step(&mut played);
    }
    panic!("no end after {MOST} answers");
}

fn step(played: &mut Played) {
    let typed = played.shop.next(played.session.progress());
    let command = match typed {
        Typed::Answer(text) => {
            played.answers.push(text.clone());
            Command::Enter { text, sure: None }
        }
        Typed::Again(gate, why) => Command::Again { gate, why },
        Typed::GoOn(gate, why) => Command::Concede { gate, why, by: "KT".to_owned() },
        Typed::Seal => Command::Seal,
        Typed::Stuck(why) => panic!("stuck: {why}"),
    };
    match played.session.take(&command).unwrap() {
        Outcome::Recorded(_) => {}
        Outcome::Doubt(doubt) => {
            if played.shop.doubted() {
                played.session.drop_doubt();
            } else {
                // Chance alone: kept, because it is what the display shows.
                played.session.sure("it is what the display shows").unwrap();
            }
            println!("{}", doubt.question);
        }
        Outcome::Refused(why) => panic!("{command:?}: {why}"),
    }
}

/// The register must hold the truth: X, Y, Z within a few pickup uncertainties, A within what the error budget allows.
fn register_is_right(played: &Played) {
    let progress = played.session.progress();
    let [x, y, z, a] = played.shop.errors(progress).unwrap();
    let handed = progress.handed();
    for (axis, error, id) in [("X", x, "pickup.x"), ("Y", y, "pickup.y"), ("Z", z, "pickup.z")] {
        let spread = handed.uncertainty(id).unwrap().hypot(progress.card().machine.least_length.mm());
        assert!(error.abs() <= 5.0 * spread, "{axis} is off by {error}, stated {spread}");
    }
    let half_width = handed.number("brief.tram-half-width").unwrap();
    assert!(a.abs() <= half_width, "A is off by {a}, allowed {half_width}");
}

#[test]
fn both_practice_cards_and_a_third_are_played_to_their_seal_and_the_register_holds_the_truth() {
    for card in [card("flow-sensor-body"), card("metering-valve-body"), third_card()] {
        for seed in [1, 2] {
            let played = play(&card, seed, &[]);
            assert!(played.session.progress().is_sealed());
            assert_eq!(played.session.progress().run().piece, card.part.batch, "{}", card.id);
            register_is_right(&played);
        }
    }
}

#[test]
fn a_seed_gives_the_same_setup_and_another_seed_another() {
    let card = third_card();
    let first = play(&card, 5, &[]).answers;
    assert_eq!(first, play(&card, 5, &[]).answers);
    assert_ne!(first, play(&card, 6, &[]).answers);
}

#[test]
fn whatever_is_planted_is_caught_and_the_register_is_right_in_the_end() {
    let card = third_card();
    for plant in &PLANTS {
        let played = play(&card, 3, &[plant]);
        let caught = played.shop.caught_so_far();
        assert_eq!(caught.len(), 1, "{} was not caught: {:?}", plant.name, played.shop.got_through());
        println!("{:<24} {}", plant.name, caught[0].1);
        register_is_right(&played);
    }
}

#[test]
fn a_rehearsal_cannot_be_mistaken_for_a_setup() {
    let real = card("metering-valve-body");
    let marked = rehearsal_card(&real).unwrap();
    assert!(marked.title.starts_with("REHEARSAL"), "{}", marked.title);
    assert!(marked.id.starts_with("rehearsal-"), "{}", marked.id);
    assert!(marked.text.contains("REHEARSAL"), "the log embeds this text");
    let house = House::under(std::path::Path::new("home"));
    let apart = house.for_rehearsals();
    assert_ne!(house.sessions, apart.sessions);
    assert_ne!(house.machines, apart.machines, "nothing is learned of a machine that does not exist");
}

fn program(home: &std::path::Path, arguments: &[&str]) -> std::process::Command {
    let mut command = std::process::Command::new(env!("CARGO_BIN_EXE_setwright"));
    command.env_clear().env("SETWRIGHT_HOME", home).env("PATH", "/usr/bin:/bin").args(arguments);
    command
}

#[test]
fn a_rehearsal_plays_itself_in_a_pipe_and_tells_the_truth_at_its_end() {
    let home = tempfile::tempdir().unwrap();
    let begun = std::time::Instant::now();
    let arguments = ["rehearse", "metering-valve-body", "--auto", "--seed", "4", "--plant", "lift-left-in"];
    let output = program(home.path(), &arguments).output().unwrap();
    let text = String::from_utf8(output.stdout).unwrap();
    assert_eq!(output.status.code(), Some(0), "{text}\n{}", String::from_utf8_lossy(&output.stderr));
    for words in
        ["REHEARSAL", "The hidden truth", "Planted lift-left-in: CAUGHT by gate run.lowered", "hand over is done"]
    {
        assert!(text.contains(words), "`{words}` is missing");
    }
    println!("{:.1} s", begun.elapsed().as_secs_f64());
    assert!(begun.elapsed().as_secs() < 60, "a few seconds, on a busy machine a minute");
    assert!(!home.path().join("sessions").exists(), "a rehearsal is no session");
    assert_eq!(
        std::fs::read_dir(home.path().join("rehearsals"))
            .unwrap()
            .filter(|entry| { entry.as_ref().unwrap().path().extension().is_some_and(|ending| ending == "jsonl") })
            .count(),
        1
    );
}

#[test]
fn a_person_sees_what_the_shop_shows_and_makes_the_slips() {
    use std::io::Write as _;
    let home = tempfile::tempdir().unwrap();
    let refused = program(home.path(), &["rehearse", "--plant", "lift-left-in"]).output().unwrap();
    assert_eq!(refused.status.code(), Some(2));
    let mut command = program(home.path(), &["rehearse", "--plant", "turned-end-for-end"]);
    command
        .stdin(std::process::Stdio::piped())
        .stdout(std::process::Stdio::piped())
        .stderr(std::process::Stdio::piped());
    let mut child = command.spawn().unwrap();
    let typed = "yes\nat-the-top\nminus-x\n:again brief.faces-as-card looked again\nplus-x\n:leave\n";
    child.stdin.take().unwrap().write_all(typed.as_bytes()).unwrap();
    let output = child.wait_with_output().unwrap();
    let text = String::from_utf8(output.stdout).unwrap();
    assert!(text.contains("At the machine you see: minus-x"), "{text}");
    assert!(text.contains("Planted turned-end-for-end: CAUGHT by gate brief.faces-as-card"), "{text}");
}
