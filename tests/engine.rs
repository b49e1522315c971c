//! The engine without a face: striking upstream, concessions, happenings, and any commands in any order.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, reason = "a test may stop at what it did not expect")]

#[path = "support/player.rs"]
mod player;

use std::path::{Path, PathBuf};
use std::sync::Arc;

use player::Player;
use proptest::prelude::*;
use setwright::checklist::{Command, GateState, Happening, SlotState};
use setwright::session::{Outcome, Session, review};
use setwright::session_log::memory::MemoryDisk;
use setwright::session_log::{FixedClock, FixedIds, Surroundings};

fn state(player: &Player, step: &str) -> SlotState {
    player.session.progress().statuses().into_iter().find(|status| status.slot.step.id() == step).unwrap().state
}

fn started() -> (tempfile::TempDir, Player) {
    let home = tempfile::tempdir().unwrap();
    let player = Player::start(home.path(), "flow-sensor-body");
    (home, player)
}

fn seq_of(player: &Player, ask: &str) -> u64 {
    player.session.progress().entries().iter().rfind(|entry| entry.spec.id == ask && entry.stands()).unwrap().seq
}

#[test]
fn striking_upstream_reopens_the_step_and_makes_what_follows_stale() {
    let (_home, mut player) = started();
    player.until("run.unit-mode", 0, 1);
    assert_eq!(state(&player, "rotary-tram"), SlotState::Closed);
    let seq = seq_of(&player, "pickup.x");
    let strike = Command::Strike { seq, why: "touched a chip".to_owned() };
    assert!(matches!(player.session.take(&strike).unwrap(), Outcome::Recorded(_)));
    assert_eq!(state(&player, "linear-pickup"), SlotState::Open);
    assert_eq!(state(&player, "rotary-tram"), SlotState::Stale);
    // The new reading moves X by 0.02: the register that was read back no longer holds what is to be written.
    let answer = player.session.take(&Command::Enter { text: "-315.404".to_owned(), sure: None }).unwrap();
    assert!(matches!(answer, Outcome::Recorded(_)), "{answer:?}");
    let entry = player.session.progress().entries().last().unwrap().clone();
    assert_eq!(entry.replaces, Some(seq), "the new entry names what it replaces");
    // X is -312.405 as before at the least increment: the tram closes again by itself, nothing is asked twice.
    assert_eq!(state(&player, "rotary-tram"), SlotState::Closed);
    let (slot, consultation) = player.session.consult().unwrap();
    assert_eq!((slot.step.id(), consultation.next.unwrap().id), ("first-run", "run.unit-mode"));
}

#[test]
fn a_register_that_no_longer_fits_is_asked_for_again() {
    let (_home, mut player) = started();
    player.until("run.unit-mode", 0, 1);
    for seq in player
        .session
        .progress()
        .entries()
        .iter()
        .filter(|entry| entry.spec.id == "pickup.x")
        .map(|entry| entry.seq)
        .collect::<Vec<_>>()
    {
        let strike = Command::Strike { seq, why: "touched on a chip".to_owned() };
        assert!(matches!(player.session.take(&strike).unwrap(), Outcome::Recorded(_)));
    }
    for text in ["-315.456", "-315.456", "-315.455"] {
        assert!(matches!(player.enter(text), Outcome::Recorded(_)));
    }
    let (slot, consultation) = player.session.consult().unwrap();
    assert_eq!(slot.step.id(), "rotary-tram");
    let gate = consultation.gates.iter().find(|gate| gate.state == GateState::Fail).unwrap();
    assert_eq!(gate.id, "capture.written");
    assert!(gate.says.contains("X holds -312.405"), "{}", gate.says);
}

#[test]
fn a_concession_holds_for_its_entries_only() {
    let (_home, mut player) = started();
    player.until("tram.rear", 0, 1);
    player.enter("0.111");
    assert!(matches!(player.enter("0.131"), Outcome::Doubt(_)));
    assert!(matches!(player.session.sure("so it reads").unwrap(), Outcome::Recorded(_)));
    let concede =
        Command::Concede { gate: "repeats-agree".to_owned(), why: "floor shakes".to_owned(), by: "KT".to_owned() };
    assert!(matches!(player.session.take(&concede).unwrap(), Outcome::Recorded(_)));
    let seq = seq_of(&player, "tram.rear");
    player.session.take(&Command::Strike { seq, why: "read again".to_owned() }).unwrap();
    assert!(matches!(player.enter("0.132"), Outcome::Doubt(_)));
    player.session.sure("so it reads again").unwrap();
    let (_, consultation) = player.session.consult().unwrap();
    assert!(
        consultation.gates.iter().any(|gate| gate.id == "repeats-agree" && gate.state == GateState::Fail),
        "the old concession was taken for the new reading"
    );
}

#[test]
fn a_reason_is_needed_and_a_finished_piece_is_left_alone() {
    let (_home, mut player) = started();
    player.until("tram.tip-clear", 0, 2);
    let first = player.session.progress().entries().iter().find(|entry| entry.spec.id == "tram.rear").unwrap().seq;
    for (seq, why) in [(first, "wrong"), (1, "no"), (99_999, "not there")] {
        let outcome = player.session.take(&Command::Strike { seq, why: why.to_owned() }).unwrap();
        assert!(matches!(outcome, Outcome::Refused(_)), "{outcome:?}");
    }
    assert!(matches!(player.session.take(&Command::Seal).unwrap(), Outcome::Refused(_)));
}

#[test]
fn what_happens_to_a_later_piece_leaves_the_finished_ones_closed() {
    let (_home, mut player) = started();
    player.until("tram.rear", 0, 3);
    player.session.take(&Command::Happened { what: Happening::PowerCut }).unwrap();
    let statuses = player.session.progress().statuses();
    let of = |step: &str, piece: Option<u32>| {
        statuses.iter().find(|status| status.slot.step.id() == step && status.slot.piece == piece).unwrap().state
    };
    assert_eq!(of("rotary-tram", Some(1)), SlotState::Closed);
    assert_eq!(of("piece-check", Some(2)), SlotState::Closed);
    assert_eq!(of("linear-pickup", None), SlotState::Void);
    let (slot, consultation) = player.session.consult().unwrap();
    assert_eq!((slot.step.id(), consultation.next.unwrap().id), ("linear-pickup", "pickup.check-x"));
}

#[test]
fn every_id_that_is_shown_stands_in_the_permanent_table() {
    for job in ["flow-sensor-body", "metering-valve-body"] {
        let home = tempfile::tempdir().unwrap();
        let mut player = Player::start(home.path(), job);
        let everywhere = ["repeats-agree", "ticked", "cannot-be-worked-out"];
        while let Some((slot, consultation)) = player.session.consult() {
            let known = |id: &str| everywhere.contains(&id) || slot.step.names().iter().any(|(name, _)| *name == id);
            let ids = consultation
                .findings
                .iter()
                .map(|finding| finding.id)
                .chain(consultation.gates.iter().map(|gate| gate.id));
            for id in ids.chain(consultation.hands_on.iter().map(|fact| fact.id)) {
                assert!(known(id), "{id} of {} is in no table", slot.step.id());
            }
            if !player.step() {
                break;
            }
        }
    }
}

#[test]
fn a_full_disk_shows_nothing_as_saved_and_the_session_goes_on() {
    let disk = MemoryDisk::new();
    let around = Surroundings {
        store: Arc::new(disk.clone()),
        clock: Box::new(FixedClock::parse("2026-08-23T07:12:00Z").unwrap()),
        ids: Box::new(FixedIds::new("full")),
        fallback: PathBuf::from("fallback"),
        sync_twice: false,
        machines: None,
    };
    let mut session = Session::start(around, Path::new("sessions"), player::card("flow-sensor-body"), "KT").unwrap();
    let yes = Command::Enter { text: "yes".to_owned(), sure: None };
    assert!(matches!(session.take(&yes).unwrap(), Outcome::Recorded(_)));
    let before = session.progress().digest();
    disk.set_capacity(Some(0));
    // The room kept back takes some more events; what is left of it then is for closing the session alone.
    for length in [1900, 1] {
        let note = Command::Note { text: "x".repeat(length) };
        let filled = (0..500).any(|_| matches!(session.take(&note).unwrap(), Outcome::Refused(_)));
        assert!(filled, "a full disk takes notes without end");
    }
    let choice = Command::Enter { text: "at-the-top".to_owned(), sure: None };
    let Outcome::Refused(why) = session.take(&choice).unwrap() else { panic!("shown as saved on a full disk") };
    assert!(why.contains("NOT SAVED"), "{why}");
    assert_eq!(session.progress().digest(), before);
    disk.set_capacity(None);
    assert!(matches!(session.take(&choice).unwrap(), Outcome::Recorded(_)));
    assert_ne!(session.progress().digest(), before);
}

#[derive(Debug, Clone)]
enum Deed {
    Script,
    Text(String),
    Strike(u64),
    Concede,
    Again,
    Happened(usize),
    Sure,
    Seal,
}

fn deeds() -> impl Strategy<Value = Vec<Deed>> {
    let deed = prop_oneof![
        20 => Just(Deed::Script),
        2 => "[-0-9., /a-z]{0,12}".prop_map(Deed::Text),
        2 => (0_u64..300).prop_map(Deed::Strike),
        2 => Just(Deed::Concede),
        1 => Just(Deed::Again),
        1 => (0_usize..17).prop_map(Deed::Happened),
        1 => Just(Deed::Sure),
        1 => Just(Deed::Seal),
    ];
    proptest::collection::vec(deed, 1..120)
}

fn failed_gate(player: &Player) -> Option<String> {
    let (_, consultation) = player.session.consult()?;
    consultation.gates.iter().find(|gate| gate.state == GateState::Fail).map(|gate| gate.id.to_owned())
}

fn carry_out(player: &mut Player, deed: &Deed) {
    let why = "tried out".to_owned();
    let gate = failed_gate(player).unwrap_or_else(|| "none".to_owned());
    let command = match deed {
        Deed::Script => {
            let Some((slot, consultation)) = player.session.consult() else { return };
            let Some(ask) = consultation.next else { return };
            Command::Enter { text: player.scripted(&ask, slot.piece).unwrap_or_else(|| "0.01".to_owned()), sure: None }
        }
        Deed::Text(text) => Command::Enter { text: text.clone(), sure: None },
        Deed::Strike(seq) => Command::Strike { seq: *seq, why },
        Deed::Concede => Command::Concede { gate, why, by: "KT".to_owned() },
        Deed::Again => Command::Again { gate, why },
        Deed::Happened(which) => Command::Happened { what: Happening::ALL[*which] },
        Deed::Sure => {
            player.session.sure("because it is so").unwrap();
            return;
        }
        Deed::Seal => Command::Seal,
    };
    player.session.take(&command).unwrap();
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, ..ProptestConfig::default() })]

    /// Whatever was done, in any order: nothing panics, nothing is owed, and the log alone rebuilds the session.
    #[test]
    fn the_log_alone_rebuilds_the_session(deeds in deeds()) {
        let home = tempfile::tempdir().unwrap();
        let mut player = Player::start(home.path(), "flow-sensor-body");
        for deed in &deeds {
            carry_out(&mut player, deed);
            prop_assert!(player.session.progress().owed().is_empty());
        }
        let path = player.session.log().path().to_owned();
        let rebuilt = review(&path).unwrap().progress.digest();
        prop_assert_eq!(rebuilt, player.session.progress().digest());
        // Saying something that was refused or decided changes nothing by itself.
        let before = player.session.progress().digest();
        let _ = player.session.progress().decide(&Command::Note { text: "only decided".to_owned() }, "KT");
        prop_assert_eq!(before, player.session.progress().digest());
    }
}
