//! What the plain face says, and what it has said already.

use std::io::{self, Write};

use crate::checklist::{Ask, Consultation, Finding, GateKind, GateState};
use crate::quantity::print::with_uncertainty;
use crate::session::Session;

/// The one line of help.
pub(super) const HELP_LINE: &str = "Type an answer and Enter. Commands begin with a colon; :help lists them.";

/// The whole help.
pub(super) const HELP: &str = ":sure because ...          keep a value that was questioned
:strike 12 why             cross out entry 12
:again GATE why            cross out all that a failed gate rests on, and measure again
:go-on GATE why            go on past a gate that may be passed, with your reason
:happened WORD             tell what happened (power-cut, bump, fixture-off, ...)
:late PAPER ANSWER         answer with what was written on that paper before
:note TEXT                 write a note
:trail                     everything so far
:seal                      close the session for good, when every step is closed
:leave                     stop here; everything is saved";

/// Remembers what was said, so that nothing is said twice.
#[derive(Default)]
pub(super) struct Shown {
    step: String,
    findings: Vec<String>,
    said: Vec<String>,
}

impl Shown {
    /// Says what has changed, and asks.
    pub(super) fn page(&mut self, session: &Session, output: &mut dyn Write) -> io::Result<()> {
        for (slot, consultation) in session.closed() {
            self.changes(consultation, output)?;
            writeln!(output, "{} is done: {}.", slot.step.title(), consultation.verdict.word().to_uppercase())?;
        }
        let Some((slot, consultation)) = session.consult() else {
            return write!(output, "\nEvery step is closed. :seal closes the session for good.\n> ");
        };
        let piece = slot
            .piece
            .map(|piece| format!(", piece {piece} of {}", session.progress().card().part.batch))
            .unwrap_or_default();
        let heading = format!("{}{piece}", slot.step.title());
        if heading != self.step {
            writeln!(output, "\nStep: {heading}")?;
            self.step = heading;
            self.findings.clear();
            self.said.clear();
            self.fresh_cautions(&consultation, output)?;
            if let Some(trap) = consultation.trap {
                writeln!(output, "What goes wrong here: {trap}")?;
            }
        }
        self.fresh_cautions(&consultation, output)?;
        self.changes(&consultation, output)?;
        if let Some(to) = &consultation.machine_move {
            writeln!(output, "SET {} TO {}: {}", to.axis, to.to, to.says)?;
        }
        match &consultation.next {
            Some(ask) => question(ask, output),
            None => write!(output, "Nothing is asked before this is put right.\n> "),
        }
    }

    /// Says the cautions that came up since.
    fn fresh_cautions(&mut self, consultation: &Consultation, output: &mut dyn Write) -> io::Result<()> {
        for caution in &consultation.cautions {
            let line = format!("Caution: {caution}");
            if !self.said.contains(&line) {
                writeln!(output, "{line}")?;
                self.said.push(line);
            }
        }
        Ok(())
    }

    fn changes(&mut self, consultation: &Consultation, output: &mut dyn Write) -> io::Result<()> {
        for finding in &consultation.findings {
            let line = finding_words(finding);
            if !self.findings.contains(&line) {
                writeln!(output, "  {line}")?;
                self.findings.push(line);
            }
        }
        for gate in &consultation.gates {
            let passed = match gate.state {
                GateState::Fail if gate.kind == GateKind::Stop => "STOP",
                GateState::Fail => "GATE",
                GateState::Conceded => "gone on with reason",
                GateState::Pass | GateState::Open => continue,
            };
            let line = format!("{passed} ({}): {}", gate.id, gate.says);
            if !self.said.contains(&line) {
                writeln!(output, "  {line}")?;
                self.said.push(line);
            }
        }
        Ok(())
    }
}

fn finding_words(finding: &Finding) -> String {
    let about = if finding.about.is_empty() { String::new() } else { format!(" ({})", finding.about) };
    let value = match finding.uncertainty {
        Some(uncertainty) if uncertainty > 0.0 => {
            with_uncertainty(finding.shown.value, uncertainty, finding.shown.unit).replace('\u{b1}', "+-")
        }
        Some(_) | None => finding.shown.to_string(),
    };
    let verdict = finding.verdict.map(|verdict| format!(": {}", verdict.word().to_uppercase())).unwrap_or_default();
    format!("{}{about} {value}{verdict}", finding.label)
}

fn question(ask: &Ask, output: &mut dyn Write) -> io::Result<()> {
    writeln!(output, "{}", ask.say)?;
    let mut hints = Vec::new();
    if ask.of > 1 {
        hints.push(format!("reading {} of {}", ask.repeat, ask.of));
    }
    if !ask.choices.is_empty() {
        hints.push(ask.choices.join(" / "));
    }
    if !ask.unit.is_empty() {
        hints.push(format!("in {}", ask.unit));
    }
    if let Some(window) = ask.expected_shown {
        // As many decimals as the screen shows.
        let decimals = if ask.unit == "in" { 4 } else { 3 };
        hints.push(format!("expected {:.decimals$} to {:.decimals$}", window.low, window.high));
    }
    if ask.kind == crate::checklist::AskKind::YesNo {
        hints.push("yes / no".to_owned());
    }
    write!(output, "{} > ", hints.join(", "))
}
