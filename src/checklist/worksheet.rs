//! The sheet on which a step works out its answer: it reads top to bottom like the procedure itself.
//!
//! Each call gives `None` as soon as something is missing, and notes what to ask; with `?` a step stops there.

use serde_json::{Map, Value, json};

use crate::calc;
use crate::checklist::{
    Approach, Ask, AskKind, Concession, Consultation, Entry, Fact, FactValue, Finding, Gate, GateKind, GateState,
    Happening, MachineMove, Outputs, Quantified, Question, Reckoning, Scatter, Situation, Verdict, Window,
};
use crate::job::{CardUnit, JobCard};
use crate::quantity::{Dimension, Unit};
use crate::scene::{Plot, Scene};

/// Repeated readings of one thing, worked out.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading {
    /// Mean, in the base unit.
    pub mean: f64,
    /// Standard uncertainty of the mean, in the base unit.
    pub uncertainty: f64,
    /// The readings in order, in the base unit.
    pub values: Vec<f64>,
    /// Sequence numbers of the entries.
    pub entries: Vec<u64>,
    /// The role of the reckoning.
    pub role: String,
}

/// A gate about to be judged.
pub struct GateCheck {
    /// Permanent id.
    pub id: &'static str,
    /// Which one of several; empty when there is one.
    pub about: String,
    /// Whether it can be conceded.
    pub kind: GateKind,
    /// Whether it holds.
    pub pass: bool,
    /// What was measured.
    pub measured: Option<Quantified>,
    /// What is allowed.
    pub limit: Option<Quantified>,
    /// What it says when it holds, and when it does not together with what to do.
    pub says: (String, String),
    /// The entries that it rests on.
    pub rests_on: Vec<u64>,
}

/// The sheet of one consultation.
pub struct Worksheet<'a> {
    at: &'a Situation<'a>,
    out: Consultation,
    judged: Option<Verdict>,
}

impl<'a> Worksheet<'a> {
    /// Answers a situation by walking through a step's procedure.
    pub fn walk(at: &'a Situation<'a>, procedure: impl FnOnce(&mut Self) -> Option<()>) -> Consultation {
        let mut sheet = Self { at, out: Consultation::empty(), judged: None };
        let complete = procedure(&mut sheet).is_some();
        sheet.close(complete)
    }

    fn close(mut self, complete: bool) -> Consultation {
        self.out.complete = complete;
        let failed = self.out.gates.iter().any(|gate| gate.state == GateState::Fail);
        let conceded = self.out.gates.iter().any(|gate| gate.state == GateState::Conceded);
        self.out.verdict = match (complete, self.judged) {
            (false, _) if failed => Verdict::Outside,
            (false, judged) => judged.unwrap_or(Verdict::Open),
            (true, Some(judged)) => judged,
            (true, None) if conceded => Verdict::NotProven,
            (true, None) => Verdict::Within,
        };
        self.out
    }

    /// Returns the job card.
    pub fn card(&self) -> &'a JobCard {
        self.at.card
    }

    /// Returns the situation.
    pub fn at(&self) -> &'a Situation<'a> {
        self.at
    }

    /// Lists the standing entries under an ask in a round, in the order made.
    pub fn standing(&self, id: &str, round: u32) -> Vec<&'a Entry> {
        self.at.entries.iter().filter(|entry| entry.spec.id == id && entry.round == round).copied().collect()
    }

    /// Returns the newest standing answer to a question, or notes that it is to be asked.
    pub fn answer(&mut self, question: Question) -> Option<&'a Entry> {
        let standing = self.standing(question.spec.id, question.round);
        if let Some(entry) = standing.last() {
            return Some(entry);
        }
        self.ask(question, &[], 0.0);
        None
    }

    /// Returns the number answered, in the base unit.
    pub fn number(&mut self, question: Question) -> Option<f64> {
        self.answer(question).map(Entry::number)
    }

    /// Goes on only when the answer is yes; a no keeps the question open.
    pub fn tick(&mut self, question: Question, if_no: &str) -> Option<()> {
        let standing = self.standing(question.spec.id, question.round);
        let Some(last) = standing.last() else {
            self.ask(question, &[], 0.0);
            return None;
        };
        if last.is_yes() {
            return Some(());
        }
        self.out.gates.push(Gate {
            id: "ticked",
            about: question.spec.id.to_owned(),
            kind: GateKind::Stop,
            state: GateState::Fail,
            measured: None,
            limit: None,
            says: if_no.to_owned(),
            rests_on: vec![last.seq],
        });
        let say = format!("{if_no} Then: {}", question.say.as_deref().unwrap_or(question.spec.says));
        self.ask(question.say(say), &[], 0.0);
        None
    }

    /// Takes as many readings as the question wants, checks that they agree, and works out their mean.
    pub fn measure(&mut self, question: Question) -> Option<Reading> {
        let standing = self.standing(question.spec.id, question.round);
        let values: Vec<f64> = standing.iter().map(|entry| entry.number()).collect();
        let usual = question.repeats(self.card());
        let wanted = usual.saturating_add(self.pauses_after(&question));
        let scatter = question.read_as(self.card());
        if u32::try_from(values.len()).unwrap_or(u32::MAX) < wanted {
            let limit = scatter.map_or(0.0, |scatter| range_limit(scatter, values.len() + 1));
            let question = if wanted > usual { once_more(question) } else { question };
            self.ask_for(question, &values, limit, wanted);
            return None;
        }
        let read_as = scatter.unwrap_or(Scatter { step: 0.0, deviation: 0.0 });
        let role = format!("{}/{}", question.spec.id, question.round);
        let inputs = json!({"readings": values, "display_step": read_as.step, "repeatability": read_as.deviation});
        let outputs = self.reckon(&role, "repeated-reading", inputs)?;
        let entries: Vec<u64> = standing.iter().map(|entry| entry.seq).collect();
        if scatter.is_some() && values.len() > 1 {
            self.repeats_gate(&question, read_as, &outputs, &entries)?;
        }
        Some(Reading {
            mean: outputs.value("mean")?,
            uncertainty: outputs.value("standard_uncertainty")?,
            values,
            entries,
            role,
        })
    }

    fn repeats_gate(
        &mut self,
        question: &Question,
        read_as: Scatter,
        outputs: &Outputs,
        entries: &[u64],
    ) -> Option<()> {
        let resolution = read_as.step;
        let (range, limit) = (outputs.value("range")?, outputs.value("range_limit")?);
        let (measured, allowed) = (self.length(range, resolution), self.length(limit, resolution));
        let suspect = if outputs.flag("agrees")? { String::new() } else { self.suspect(question, read_as)? };
        let says = (
            format!("The readings agree within {measured}."),
            format!(
                "The readings lie {measured} apart, more than {allowed}: {suspect}cross out the wrong one and read again, or wipe and repeat."
            ),
        );
        self.gate(GateCheck {
            id: "repeats-agree",
            about: outputs.role.clone(),
            kind: GateKind::Ask,
            pass: outputs.flag("agrees")?,
            measured: Some(measured),
            limit: Some(allowed),
            says,
            rests_on: entries.to_vec(),
        })
    }

    /// Names the reading that stands off the others; it is only named, never dropped.
    fn suspect(&mut self, question: &Question, read_as: Scatter) -> Option<String> {
        let standing = self.standing(question.spec.id, question.round);
        if standing.len() < 3 {
            return Some("of two nobody can tell which is wrong; ".to_owned());
        }
        let readings: Vec<f64> = standing.iter().map(|entry| entry.number()).collect();
        let Scatter { step, deviation: repeatability } = read_as;
        let role = format!("suspect/{}/{}", question.spec.id, question.round);
        let inputs = json!({"readings": readings, "repeatability": repeatability, "display_step": step});
        let outputs = self.reckon(&role, "suspect-reading", inputs)?;
        if !outputs.flag("others_agree")? {
            return Some("none of them can be told apart as the wrong one; ".to_owned());
        }
        let (suspect, place) = (self.length(outputs.value("suspect")?, step), outputs.value("suspect_place")?);
        let away = self.length(outputs.value("away")?, step);
        Some(format!("reading {place}, {suspect}, stands off the others by {away}, look at it first; "))
    }

    /// Counts the long pauses in this step that came right after a reading of this question.
    fn pauses_after(&self, question: &Question) -> u32 {
        let right_after = |seq: u64, during: (&str, Option<u32>)| {
            let before = self.at.entries.iter().rfind(|entry| entry.seq < seq && entry.spec.reader.is_some());
            before.is_some_and(|entry| {
                (entry.step, entry.piece) == during
                    && entry.spec.id == question.spec.id
                    && entry.round == question.round
            })
        };
        let pauses = self.at.run.happened.iter().filter(|happened| happened.what == Happening::LongPause);
        let here = pauses.filter(|pause| pause.during.is_some_and(|during| right_after(pause.seq, during)));
        u32::try_from(here.count()).unwrap_or(u32::MAX)
    }

    fn ask(&mut self, question: Question, others: &[f64], range_limit: f64) {
        let of = question.repeats(self.card());
        self.ask_for(question, others, range_limit, of);
    }

    fn ask_for(&mut self, question: Question, others: &[f64], range_limit: f64, of: u32) {
        if self.out.next.is_some() {
            return;
        }
        let unit = unit_of(question.spec.kind, self.card().unit);
        let instrument = question.spec.reader.map(|reader| reader.on(self.card()));
        let expected_shown = match (unit, question.expected) {
            (Some(unit), Some(window)) => {
                Some(Window { low: unit.from_base(window.low), high: unit.from_base(window.high) })
            }
            (None, window) => window,
            (Some(_), None) => None,
        };
        let display_step = question.read_as(self.card()).map_or(0.0, |scatter| scatter.step);
        self.out.next = Some(Ask {
            id: question.spec.id,
            kind: question.spec.kind,
            round: question.round,
            repeat: u32::try_from(others.len() + 1).unwrap_or(u32::MAX),
            of,
            unit: unit.map_or("", |unit| unit.name),
            choices: question.spec.choices.to_vec(),
            expected: question.expected,
            expected_shown,
            say: question.say.unwrap_or_else(|| question.spec.says.to_owned()),
            others: others.to_vec(),
            display_step,
            range_limit,
            instrument: instrument.map(|tool| tool.name.clone()),
        });
    }

    /// Makes a registered calculation. A refusal stands in the way as a gate that says why.
    pub fn reckon(&mut self, role: &str, name: &str, inputs: Value) -> Option<Outputs> {
        let Value::Object(inputs) = inputs else { return None };
        match calc::reckon(name, &inputs) {
            Ok(outputs) => {
                self.keep(role, name, inputs, outputs.clone());
                Some(Outputs { role: role.to_owned(), map: outputs })
            }
            Err(refused) => {
                self.refused(role, &refused.reason);
                None
            }
        }
    }

    fn keep(&mut self, role: &str, name: &str, inputs: Map<String, Value>, outputs: Map<String, Value>) {
        let Some(calculation) = calc::calculation(name) else { return };
        self.out.reckonings.push(Reckoning {
            role: role.to_owned(),
            calculation: calculation.id,
            version: calculation.version,
            inputs,
            outputs,
        });
    }

    fn refused(&mut self, role: &str, reason: &str) {
        self.out.gates.push(Gate {
            id: "cannot-be-worked-out",
            about: role.to_owned(),
            kind: GateKind::Stop,
            state: GateState::Fail,
            measured: None,
            limit: None,
            says: format!(
                "This cannot be worked out from the readings: {} Cross out the wrong reading and take it again.",
                with_full_stop(reason)
            ),
            rests_on: self.at.entries.last().map(|entry| entry.seq).into_iter().collect(),
        });
    }

    /// Judges a gate; goes on when it holds or has been conceded on the same entries.
    pub fn gate(&mut self, check: GateCheck) -> Option<()> {
        let state = if check.pass {
            GateState::Pass
        } else if check.kind == GateKind::Ask && self.conceded(&check) {
            GateState::Conceded
        } else {
            GateState::Fail
        };
        let (holds, fails) = check.says;
        self.out.gates.push(Gate {
            id: check.id,
            about: check.about,
            kind: check.kind,
            state,
            measured: check.measured,
            limit: check.limit,
            says: if check.pass { holds } else { fails },
            rests_on: check.rests_on,
        });
        (state != GateState::Fail).then_some(())
    }

    fn conceded(&self, check: &GateCheck) -> bool {
        let same = |concession: &&&Concession| {
            concession.gate == check.id && concession.about == check.about && concession.rests_on == check.rests_on
        };
        self.at.concessions.iter().any(|concession| same(&concession))
    }

    /// Shows a result.
    pub fn finding(&mut self, id: &'static str, label: &'static str, shown: Quantified, from: &Outputs) {
        self.finding_about(id, "", label, shown, from);
    }

    /// Shows a result about one of several things.
    pub fn finding_about(
        &mut self,
        id: &'static str,
        about: &str,
        label: &'static str,
        shown: Quantified,
        from: &Outputs,
    ) {
        self.out.findings.push(Finding {
            id,
            about: about.to_owned(),
            label,
            shown,
            uncertainty: None,
            verdict: None,
            reckoning: from.role.clone(),
        });
    }

    /// Gives the newest finding its standard uncertainty, in the base unit of lengths or in degrees.
    pub fn with_uncertainty(&mut self, base: f64) {
        if let Some(finding) = self.out.findings.last_mut() {
            finding.uncertainty = Some(finding.shown.unit.from_base(base));
        }
    }

    /// Gives the newest finding a verdict.
    pub fn with_verdict(&mut self, verdict: Verdict) {
        if let Some(finding) = self.out.findings.last_mut() {
            finding.verdict = Some(verdict);
        }
    }

    /// Sets the step's verdict.
    pub fn judge(&mut self, verdict: Verdict) {
        self.judged = Some(verdict);
    }

    /// Hands a number on, in the base unit, with its standard uncertainty when known.
    pub fn hand(&mut self, id: &'static str, value: f64, uncertainty: Option<f64>) {
        self.hand_about(id, "", value, uncertainty);
    }

    /// Hands on a number about one of several things.
    pub fn hand_about(&mut self, id: &'static str, about: &str, value: f64, uncertainty: Option<f64>) {
        self.out.hands_on.push(Fact { id, about: about.to_owned(), value: FactValue::Number(value), uncertainty });
    }

    /// Returns what a calculation answered earlier in this very consultation.
    pub fn reckoned(&self, role: &str) -> Option<Outputs> {
        let made = self.out.reckonings.iter().rev().find(|reckoning| reckoning.role == role)?;
        Some(Outputs { role: role.to_owned(), map: made.outputs.clone() })
    }

    /// Returns a number that this very consultation hands on already, with its uncertainty.
    pub fn handed_here(&self, id: &str) -> Option<(f64, f64)> {
        let fact = self.out.hands_on.iter().find(|fact| fact.id == id && fact.about.is_empty())?;
        match fact.value {
            FactValue::Number(number) => Some((number, fact.uncertainty.unwrap_or(0.0))),
            FactValue::Word(_) => None,
        }
    }

    /// Hands on a word.
    pub fn hand_word(&mut self, id: &'static str, word: &str) {
        let value = FactValue::Word(word.to_owned());
        self.out.hands_on.push(Fact { id, about: String::new(), value, uncertainty: None });
    }

    /// Shows the next number to set at the machine.
    pub fn set(&mut self, axis: &'static str, to: Quantified, approach: Option<Approach>, says: impl Into<String>) {
        self.out.machine_move = Some(MachineMove { axis, to, approach, says: says.into() });
    }

    /// Takes the move away again once it has been made.
    pub fn moved(&mut self) {
        self.out.machine_move = None;
    }

    /// Shows a caution.
    pub fn caution(&mut self, words: &'static str) {
        self.out.cautions.push(words);
    }

    /// Shows the cautions of this place before those of earlier places, which stay for the sheet.
    pub fn cautions_here(&mut self, words: &[&'static str]) {
        self.out.cautions.retain(|earlier| !words.contains(earlier));
        self.out.cautions.splice(0..0, words.iter().copied());
    }

    /// Shows what would go wrong here.
    pub fn trap(&mut self, words: &'static str) {
        self.out.trap = Some(words);
    }

    /// Puts the picture away where words need the room.
    pub fn put_picture_away(&mut self) {
        self.out.scene = None;
    }

    /// Shows a picture.
    pub fn picture(&mut self, scene: Scene) {
        self.out.scene = Some(scene);
    }

    /// Shows what was read so far against what was set.
    pub fn plot(&mut self, plot: Plot) {
        self.out.plot = Some(plot);
    }

    /// Shows a length, given in millimetres, in the card's unit; `resolution_mm` is the step it is rounded to on screen.
    pub fn length(&self, mm: f64, resolution_mm: f64) -> Quantified {
        let unit = length_unit(self.card().unit);
        Quantified { value: unit.from_base(mm), unit, resolution: unit.from_base(resolution_mm) }
    }

    /// Shows a length at a tenth of the machine's least increment.
    pub fn fine(&self, mm: f64) -> Quantified {
        self.length(mm, self.card().machine.least_length.mm() / 10.0)
    }

    /// Shows a length at the machine's least increment.
    pub fn at_least_increment(&self, mm: f64) -> Quantified {
        self.length(mm, self.card().machine.least_length.mm())
    }

    /// Shows an angle in degrees.
    pub fn angle(&self, degrees: f64) -> Quantified {
        shown(degrees, "deg", self.card().machine.least_angle_deg)
    }
}

/// Asks for one reading more after a long pause.
fn once_more(question: Question) -> Question {
    let says = question.say.clone().unwrap_or_else(|| question.spec.says.to_owned());
    question.say(format!("You were long away: once more, to see that nothing has moved. {says}"))
}

/// Ends a sentence with exactly one full stop.
fn with_full_stop(sentence: &str) -> String {
    format!("{}.", sentence.trim_end_matches('.'))
}

/// Shows a number in a unit given by name.
pub fn shown(value: f64, unit: &str, resolution: f64) -> Quantified {
    Quantified { value, unit: Unit::named(unit).unwrap_or_else(|| Dimension::Ratio.base_unit()), resolution }
}

/// Returns the unit in which a card's lengths are shown.
fn length_unit(card: CardUnit) -> &'static Unit {
    unit_of(AskKind::Length, card).unwrap_or_else(|| Dimension::Length.base_unit())
}

/// Returns how far repeats may lie apart, in the base unit.
fn range_limit(scatter: Scatter, count: usize) -> f64 {
    let inputs = json!({"count": count, "repeatability": scatter.deviation, "display_step": scatter.step});
    let answered = inputs.as_object().and_then(|inputs| calc::reckon("repeat-range-limit", inputs).ok());
    answered.and_then(|map| Outputs { role: String::new(), map }.value("range_limit")).unwrap_or(0.0)
}

/// Returns the unit of a bare number for a kind of ask.
pub(super) fn unit_of(kind: AskKind, card: CardUnit) -> Option<&'static Unit> {
    let dimension = kind.dimension()?;
    match (dimension, card) {
        (Dimension::Length, CardUnit::Inch) => Unit::of(Dimension::Length, "in"),
        (Dimension::Force, CardUnit::Inch) => Unit::of(Dimension::Force, "lbf"),
        (Dimension::Torque, CardUnit::Inch) => Unit::of(Dimension::Torque, "lbf in"),
        (dimension, _) => Some(dimension.base_unit()),
    }
}
