//! Commands, events and refusals, and the events' form in the log.

use serde_json::{Map, Value, json};

use crate::checklist::{Checklist, Doubt, Entry, EntryValue, Fact, FactValue, Happening, Reckoning, Step, Verdict};

/// What a person wants.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Command {
    /// Answer the current ask with what was typed; `sure` carries the reason when a doubt was raised before.
    Enter {
        /// What was typed.
        text: String,
        /// The reason why a doubted value is right all the same.
        sure: Option<String>,
    },
    /// Answer the current ask with what was written on paper before.
    EnterLate {
        /// What was typed.
        text: String,
        /// The number of the paper.
        paper: String,
        /// The reason, as in `Enter`.
        sure: Option<String>,
    },
    /// Cross out an entry.
    Strike {
        /// Sequence number of the entry.
        seq: u64,
        /// The reason, at least three characters.
        why: String,
    },
    /// Cross out everything that a failed gate rests on and measure again.
    Again {
        /// The gate.
        gate: String,
        /// The reason.
        why: String,
    },
    /// Go on past a failed gate with a reason.
    Concede {
        /// The gate.
        gate: String,
        /// The reason, at least three characters.
        why: String,
        /// Initials of who concedes.
        by: String,
    },
    /// Tell that something happened.
    Happened {
        /// What.
        what: Happening,
    },
    /// Write a note.
    Note {
        /// The note.
        text: String,
    },
    /// Record that the head of the log was written down elsewhere.
    Witness {
        /// Where and by whom.
        text: String,
    },
    /// Sign a review.
    Review {
        /// What the reviewer says.
        text: String,
    },
    /// Close the session for good.
    Seal,
}

impl Command {
    /// Adds the reason why a doubted value is right all the same; other commands stay as they are.
    #[must_use]
    pub fn confirmed(self, why: &str) -> Self {
        let sure = Some(why.to_owned());
        match self {
            Self::Enter { text, .. } => Self::Enter { text, sure },
            Self::EnterLate { text, paper, .. } => Self::EnterLate { text, paper, sure },
            other => other,
        }
    }

    /// Returns whether it answers what is asked.
    pub const fn answers(&self) -> bool {
        matches!(self, Self::Enter { .. } | Self::EnterLate { .. })
    }
}

/// Where and by whom an event was recorded.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Stamp {
    /// Sequence number in the log.
    pub seq: u64,
    /// Initials.
    pub by: String,
}

/// What is recorded.
#[derive(Debug, Clone, PartialEq)]
pub enum Event {
    /// A session was opened; the card is in the header.
    Opened,
    /// An entry was made.
    Entered(Box<Entry>),
    /// A doubted value was confirmed; the entry follows.
    Doubted(Doubt, String),
    /// An entry was crossed out.
    Struck {
        /// The entry.
        of: u64,
        /// The reason.
        why: String,
    },
    /// A calculation was made.
    Reckoned {
        /// The step.
        step: &'static str,
        /// The piece.
        piece: Option<u32>,
        /// The calculation.
        reckoning: Box<Reckoning>,
    },
    /// A gate was passed with a reason.
    Conceded(crate::checklist::Concession),
    /// A step was closed.
    StepClosed {
        /// The step.
        step: &'static str,
        /// The piece.
        piece: Option<u32>,
        /// Its verdict.
        verdict: Verdict,
        /// What it hands on.
        facts: Vec<Fact>,
    },
    /// Something happened.
    Happened {
        /// What.
        what: Happening,
    },
    /// The session was resumed.
    Resumed,
    /// A note.
    Noted(String),
    /// The head of the log was written down elsewhere.
    Witnessed(String),
    /// A review was signed.
    Reviewed(String),
    /// The session was closed for good.
    Sealed,
    /// The log was mended when it was opened.
    Recovered,
    /// The clock was set.
    ClockStepped,
}

/// Why a command was not carried out.
#[derive(Debug, Clone, PartialEq)]
pub enum Refusal {
    /// It cannot be done, and why.
    Refused(String),
    /// The value looks like a slip.
    Doubt(Doubt),
}

/// Why an event of a log cannot be understood.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("event {seq} ({kind}) cannot be understood: {what}")]
pub struct EventFault {
    /// Sequence number.
    pub seq: u64,
    /// Kind.
    pub kind: String,
    /// What is wrong.
    pub what: String,
}

impl Event {
    /// Returns the kind under which the log keeps it (decisions 12).
    pub const fn kind(&self) -> &'static str {
        match self {
            Self::Opened => "session.open",
            Self::Entered(_) => "entry.add",
            Self::Doubted(..) => "doubt.sure",
            Self::Struck { .. } => "entry.strike",
            Self::Reckoned { .. } => "reckoning.add",
            Self::Conceded(_) => "gate.concede",
            Self::StepClosed { .. } => "step.close",
            Self::Happened { .. } => "happened",
            Self::Resumed => "session.resume",
            Self::Noted(_) => "note.add",
            Self::Witnessed(_) => "witness.add",
            Self::Reviewed(_) => "review.sign",
            Self::Sealed => "session.seal",
            Self::Recovered => "log.recovered",
            Self::ClockStepped => "clock.step",
        }
    }

    /// Returns the data that the log keeps.
    pub fn to_data(&self) -> Map<String, Value> {
        let data = match self {
            Self::Entered(entry) => entry_data(entry),
            Self::Doubted(doubt, why) => {
                json!({"ask": doubt.ask, "raw": doubt.typed, "question": doubt.question, "slip": doubt.slip, "why": why})
            }
            Self::Struck { of, why } => json!({"of": of, "why": why}),
            Self::Reckoned { step, piece, reckoning } => reckoning_data(step, *piece, reckoning),
            Self::Conceded(concession) => json!({
                "step": concession.step, "piece": concession.piece, "gate": concession.gate, "about": concession.about,
                "rests_on": concession.rests_on, "why": concession.why, "by": concession.by,
            }),
            Self::StepClosed { step, piece, verdict, facts } => {
                json!({"step": step, "piece": piece, "verdict": verdict.word(), "facts": facts.iter().map(fact_data).collect::<Vec<_>>()})
            }
            Self::Happened { what } => json!({"what": what.word(), "voids": what.voids()}),
            Self::Noted(text) | Self::Witnessed(text) | Self::Reviewed(text) => json!({"text": text}),
            Self::Opened | Self::Resumed | Self::Sealed | Self::Recovered | Self::ClockStepped => json!({}),
        };
        match data {
            Value::Object(map) => map,
            _ => Map::new(),
        }
    }

    /// Reads an event from a log; `None` for a kind that this version does not know and may skip.
    pub fn from_data(
        checklist: Checklist,
        seq: u64,
        kind: &str,
        data: &Map<String, Value>,
    ) -> Result<Option<Self>, EventFault> {
        let reader = Reader { checklist, seq, kind, data };
        Ok(Some(match kind {
            "session.open" => Self::Opened,
            "entry.add" => Self::Entered(Box::new(reader.entry()?)),
            "doubt.sure" => Self::Doubted(reader.doubt()?, reader.text("why")?),
            "entry.strike" => Self::Struck { of: reader.whole("of")?, why: reader.text("why")? },
            "reckoning.add" => reader.reckoned()?,
            "gate.concede" => Self::Conceded(reader.concession()?),
            "step.close" => reader.closed()?,
            "happened" => Self::Happened {
                what: Happening::named(&reader.text("what")?).ok_or_else(|| reader.fault("an unknown happening"))?,
            },
            "session.resume" => Self::Resumed,
            "note.add" => Self::Noted(reader.text("text")?),
            "witness.add" => Self::Witnessed(reader.text("text")?),
            "review.sign" => Self::Reviewed(reader.text("text")?),
            "session.seal" => Self::Sealed,
            "log.recovered" => Self::Recovered,
            "clock.step" => Self::ClockStepped,
            _ => return Ok(None),
        }))
    }
}

fn entry_data(entry: &Entry) -> Value {
    let mut data = Map::new();
    data.insert("step".to_owned(), json!(entry.step));
    data.insert("piece".to_owned(), json!(entry.piece));
    data.insert("ask".to_owned(), json!(entry.spec.id));
    data.insert("round".to_owned(), json!(entry.round));
    data.extend(entry.value.to_data());
    data.insert("instrument".to_owned(), json!(entry.instrument));
    data.insert("replaces".to_owned(), json!(entry.replaces));
    if let Some(paper) = &entry.paper {
        data.insert("paper".to_owned(), json!(paper));
    }
    Value::Object(data)
}

fn reckoning_data(step: &str, piece: Option<u32>, reckoning: &Reckoning) -> Value {
    json!({
        "step": step, "piece": piece, "role": reckoning.role, "id": reckoning.calculation, "version": reckoning.version,
        "inputs": reckoning.inputs, "outputs": reckoning.outputs,
    })
}

fn fact_data(fact: &Fact) -> Value {
    // Only reckonings hold numbers that are not whole; here they are text that reads back to the same bits.
    let text = |number: f64| crate::quantity::print::shortest(number);
    let (key, value) = match &fact.value {
        FactValue::Number(number) => ("number", text(*number)),
        FactValue::Word(word) => ("word", word.clone()),
    };
    json!({"id": fact.id, "about": fact.about, key: value, "u": fact.uncertainty.map(text)})
}

struct Reader<'a> {
    checklist: Checklist,
    seq: u64,
    kind: &'a str,
    data: &'a Map<String, Value>,
}

impl Reader<'_> {
    fn fault(&self, what: impl Into<String>) -> EventFault {
        EventFault { seq: self.seq, kind: self.kind.to_owned(), what: what.into() }
    }

    fn text(&self, key: &str) -> Result<String, EventFault> {
        let found = self.data.get(key).and_then(Value::as_str).map(str::to_owned);
        found.ok_or_else(|| self.fault(format!("`{key}` is missing")))
    }

    fn whole(&self, key: &str) -> Result<u64, EventFault> {
        self.data.get(key).and_then(Value::as_u64).ok_or_else(|| self.fault(format!("`{key}` is missing")))
    }

    fn piece(&self) -> Option<u32> {
        self.data.get("piece").and_then(Value::as_u64).and_then(|piece| u32::try_from(piece).ok())
    }

    fn step(&self) -> Result<&'static str, EventFault> {
        let id = self.text("step")?;
        self.checklist.step(&id).map(Step::id).ok_or_else(|| self.fault(format!("the step `{id}` is not known here")))
    }

    fn entry(&self) -> Result<Entry, EventFault> {
        let id = self.text("ask")?;
        let spec = self.checklist.ask(&id).ok_or_else(|| self.fault(format!("the ask `{id}` is not known here")))?;
        let value = EntryValue::from_data(spec, self.data).map_err(|fault| self.fault(fault.0))?;
        Ok(Entry {
            seq: self.seq,
            step: self.step()?,
            piece: self.piece(),
            spec,
            round: u32::try_from(self.whole("round")?).unwrap_or(u32::MAX),
            value,
            instrument: self.data.get("instrument").and_then(Value::as_str).map(str::to_owned),
            replaces: self.data.get("replaces").and_then(Value::as_u64),
            by: String::new(),
            paper: self.data.get("paper").and_then(Value::as_str).map(str::to_owned),
            struck: None,
            void: None,
        })
    }

    fn doubt(&self) -> Result<Doubt, EventFault> {
        let slip = self.data.get("slip").and_then(Value::as_str).map(str::to_owned);
        Ok(Doubt { ask: self.text("ask")?, typed: self.text("raw")?, question: self.text("question")?, slip })
    }

    fn reckoned(&self) -> Result<Event, EventFault> {
        let id = self.text("id")?;
        let calculation = crate::calc::calculation(&id)
            .ok_or_else(|| self.fault(format!("the calculation `{id}` is not known here")))?;
        let object = |key: &str| self.data.get(key).and_then(Value::as_object).cloned().unwrap_or_default();
        let version = u32::try_from(self.whole("version")?).unwrap_or(u32::MAX);
        let reckoning = Reckoning {
            role: self.text("role")?,
            calculation: calculation.id,
            version,
            inputs: object("inputs"),
            outputs: object("outputs"),
        };
        Ok(Event::Reckoned { step: self.step()?, piece: self.piece(), reckoning: Box::new(reckoning) })
    }

    fn concession(&self) -> Result<crate::checklist::Concession, EventFault> {
        let rests_on = self
            .data
            .get("rests_on")
            .and_then(Value::as_array)
            .map(|list| list.iter().filter_map(Value::as_u64).collect());
        Ok(crate::checklist::Concession {
            seq: self.seq,
            step: self.step()?,
            piece: self.piece(),
            gate: self.text("gate")?,
            about: self.text("about")?,
            rests_on: rests_on.unwrap_or_default(),
            why: self.text("why")?,
            by: self.text("by")?,
        })
    }

    fn closed(&self) -> Result<Event, EventFault> {
        let verdict = Verdict::named(&self.text("verdict")?).ok_or_else(|| self.fault("an unknown verdict"))?;
        let step = self.step()?;
        let names = self.checklist.step(step).map(Step::names).unwrap_or_default();
        let list = self.data.get("facts").and_then(Value::as_array).cloned().unwrap_or_default();
        let facts = list.iter().map(|data| self.fact(names, data)).collect::<Result<Vec<_>, _>>()?;
        Ok(Event::StepClosed { step, piece: self.piece(), verdict, facts })
    }

    fn fact(&self, names: &'static [(&'static str, &'static str)], data: &Value) -> Result<Fact, EventFault> {
        let id = data.get("id").and_then(Value::as_str).unwrap_or_default();
        let (id, _) = names
            .iter()
            .find(|(name, _)| *name == id)
            .ok_or_else(|| self.fault(format!("the fact `{id}` is not known here")))?;
        let text = |key: &str| data.get(key).and_then(Value::as_str);
        let number =
            |key: &str| text(key).and_then(|text| text.parse::<f64>().ok()).filter(|number| number.is_finite());
        let value = match (number("number"), text("word")) {
            (Some(number), _) => FactValue::Number(number),
            (None, Some(word)) => FactValue::Word(word.to_owned()),
            (None, None) => return Err(self.fault("a fact without a value")),
        };
        let about = data.get("about").and_then(Value::as_str).unwrap_or_default().to_owned();
        Ok(Fact { id, about, value, uncertainty: number("u") })
    }
}
