#![allow(
    dead_code,
    unreachable_pub,
    clippy::missing_panics_doc,
    reason = "shared by several test files, each of which uses a part"
)]
//! Plays a practice job through a real session: every answer comes from a script by ask, piece and round.

use std::collections::BTreeMap;
use std::path::Path;

use serde_json::Value;
use setwright::checklist::{Ask, AskKind, Command, Consultation, GateState, Reckoning};
use setwright::job;
use setwright::session::{House, Outcome, Session};

/// A finding by id and what it is about, for one piece (0 for the setup): value, unit, digits shown.
pub type Seen = BTreeMap<(u32, String, String), (f64, String)>;

pub struct Player {
    pub session: Session,
    pub script: Value,
    pub seen: Seen,
    pub reckoned: BTreeMap<(u32, String), Reckoning>,
}

pub fn script(name: &str) -> Value {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/demo").join(format!("{name}.json"));
    serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap()
}

pub fn card(name: &str) -> job::JobCard {
    let (_, text) = job::practice_cards().into_iter().find(|(id, _)| *id == name).unwrap();
    job::read(text).unwrap()
}

/// Finds the answer to (ask, round, repeat) in a script; a tick without an entry is a yes.
pub fn answer_in(
    script: &Value,
    (id, round, repeat): (&str, u32, u32),
    tick: bool,
    piece: Option<u32>,
) -> Option<String> {
    let nth = usize::try_from(repeat - 1).unwrap();
    let of_piece = piece.and_then(|piece| script["pieces"].get(piece.to_string()).and_then(|asks| asks.get(id)));
    let rounds = of_piece.or_else(|| script["answers"].get(id));
    let answer =
        rounds.and_then(|rounds| rounds.get(round.to_string())).and_then(|list| list.get(nth)).and_then(Value::as_str);
    answer.map(str::to_owned).or_else(|| tick.then(|| "yes".to_owned()))
}

impl Player {
    pub fn start(home: &Path, name: &str) -> Self {
        let house = House::under(home);
        let session = Session::start(house.surroundings(), &house.sessions, card(name), "KT").unwrap();
        Self { session, script: script(name), seen: Seen::new(), reckoned: BTreeMap::new() }
    }

    /// Finds the scripted answer to an ask; a tick without an entry is a yes.
    pub fn scripted(&self, ask: &Ask, piece: Option<u32>) -> Option<String> {
        answer_in(&self.script, (ask.id, ask.round, ask.repeat), ask.kind == AskKind::YesNo, piece)
    }

    pub fn look(&mut self) -> Option<(Option<u32>, Consultation)> {
        let (slot, consultation) = self.session.consult()?;
        self.keep(slot.piece, &consultation);
        Some((slot.piece, consultation))
    }

    fn keep(&mut self, piece: Option<u32>, consultation: &Consultation) {
        for finding in &consultation.findings {
            let key = (piece.unwrap_or(0), finding.id.to_owned(), finding.about.clone());
            self.seen.insert(key, (finding.shown.value, finding.shown.unit.name.to_owned()));
        }
        for reckoning in &consultation.reckonings {
            self.reckoned.insert((piece.unwrap_or(0), reckoning.role.clone()), reckoning.clone());
        }
    }

    /// One output of a calculation, in the unit of the catalogue.
    pub fn output(&self, piece: u32, role: &str, key: &str) -> f64 {
        let reckoning = self
            .reckoned
            .get(&(piece, role.to_owned()))
            .unwrap_or_else(|| panic!("no reckoning {role} for piece {piece}"));
        let output = &reckoning.outputs[key];
        output.as_f64().or_else(|| output["value"].as_f64()).unwrap()
    }

    /// Answers the current ask from the script. Panics with the whole situation when it cannot.
    pub fn step(&mut self) -> bool {
        let Some((piece, consultation)) = self.look() else { return false };
        let Some(ask) = consultation.next.clone() else { return self.concede(&consultation) };
        let Some(text) = self.scripted(&ask, piece) else {
            panic!("no answer in the script for {ask:#?} (piece {piece:?})")
        };
        match self.enter(&text) {
            Outcome::Recorded(_) => true,
            other => panic!("{} <- {text}: {other:?}", ask.id),
        }
    }

    /// Goes on past the two gates that the story of the practice batch meets after piece 10, with its reasons.
    fn concede(&mut self, consultation: &Consultation) -> bool {
        let failed = consultation.gates.iter().find(|gate| gate.state == GateState::Fail);
        let Some(gate) = failed else { panic!("nothing asked, nothing failed: {consultation:#?}") };
        let why = match gate.id {
            "check.bore" => "one reading does not prove it: gauged again with the pins, 8.006 goes",
            "check.predicted-bore" => "drift seen: wear corrected by 0.004 on diameter before the next piece",
            _ => panic!("stuck at {gate:#?}"),
        };
        let command = Command::Concede { gate: gate.id.to_owned(), why: why.to_owned(), by: "KT".to_owned() };
        match self.session.take(&command).unwrap() {
            Outcome::Recorded(_) => true,
            other => panic!("{} not conceded: {other:?}", gate.id),
        }
    }

    pub fn enter(&mut self, text: &str) -> Outcome {
        let outcome = self.session.take(&Command::Enter { text: text.to_owned(), sure: None }).unwrap();
        let closed: Vec<_> = self.session.closed().to_vec();
        for (slot, consultation) in &closed {
            self.keep(slot.piece, consultation);
        }
        outcome
    }

    /// Answers from the script until an ask with this id (in this round, for this piece) is next.
    pub fn until(&mut self, id: &str, round: u32, piece: u32) {
        loop {
            let (at, consultation) = self.look().expect("the session went on to its end");
            if consultation.next.is_some_and(|ask| ask.id == id && ask.round == round && at.unwrap_or(1) == piece) {
                return;
            }
            assert!(self.step());
        }
    }

    pub fn finish(&mut self) {
        while self.step() {}
    }

    pub fn seen(&self, piece: u32, id: &str, about: &str) -> f64 {
        let found = self.seen.get(&(piece, id.to_owned(), about.to_owned()));
        found.unwrap_or_else(|| panic!("no finding {id} {about} for piece {piece}")).0
    }
}
