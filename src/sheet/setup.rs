//! The setup sheet: what hangs at the machine, and where next year starts from.

use crate::checklist::{EntryValue, Finding, Gate, GateState};
use crate::job::pictures;
use crate::scene::Scene;
use crate::session_log::witness;
use crate::sheet::document::{Block, Document, Section, Table};
use crate::sheet::record::{Record, StepRecord, moment, named, place, shown};
use crate::steps::GENERAL_CAUTION;

/// Gathers the setup sheet of a session.
pub(super) fn document(record: &Record<'_>) -> Document {
    Document {
        title: format!("Setup sheet: {}", record.card().title),
        subtitle: format!("Session {}", record.name()),
        alarms: record.alarms(),
        sections: vec![
            job(record),
            cautions(record),
            pictures_of(record),
            registers(record),
            tools(record),
            index_table(record),
            tram(record),
            first_run(record),
            gates_in_brief(record),
            struck(record),
            carried_over(record),
            chain(record),
        ],
    }
}

pub(super) fn job(record: &Record<'_>) -> Section {
    let card = record.card();
    let events = &record.review.events;
    let time = |event: Option<&crate::session_log::Event>| event.map(|event| moment(&event.t)).unwrap_or_default();
    let mut people: Vec<&str> = events.iter().map(|event| event.by.as_str()).filter(|by| !by.is_empty()).collect();
    people.sort_unstable();
    people.dedup();
    let program =
        record.review.check.header.as_ref().and_then(|header| header.data.get("app")?.as_str().map(str::to_owned));
    let fact = |name: &str, value: String| (name.to_owned(), value);
    Section::new("Job and setup")
        .with(Block::Facts(vec![
            fact("Part", card.part.name.clone()),
            fact("Drawing", format!("{} revision {}", card.part.drawing, card.part.revision)),
            fact("Material", card.part.material.name.clone()),
            fact("Batch", format!("{} pieces", card.part.batch)),
            fact("Machine", card.machine.name.clone()),
            fact("Fixture", card.fixture.id.clone()),
            fact("Register", card.register.name.clone()),
            fact("Units", format!("{}; a decimal point; + and - as shown", crate::session::unit_name(card.unit))),
            fact("Begun", time(events.first())),
            fact("Last entry", time(events.last())),
            fact("By", people.join(", ")),
            fact(
                "Log",
                format!(
                    "{} events, {}",
                    record.review.check.count,
                    if record.review.check.sealed { "sealed" } else { "not sealed" }
                ),
            ),
            fact("Made by", program.unwrap_or_default()),
        ]))
        .words("A printed copy is good for the day it was printed unless your shop keeps it under control.")
}

pub(super) fn cautions(record: &Record<'_>) -> Section {
    let mut words = vec![GENERAL_CAUTION.to_owned()];
    for record in &record.steps {
        for caution in &record.answer.cautions {
            if !words.iter().any(|known| known == caution) {
                words.push((*caution).to_owned());
            }
        }
    }
    Section::new("Cautions").with(Block::Cautions(words))
}

fn pictures_of(record: &Record<'_>) -> Section {
    let card = record.card();
    let swing = record.review.progress.handed().number("fit.swing");
    let picture = |scene, caption: &str| Block::Picture { scene, caption: caption.to_owned() };
    let reach = swing.map(|radius| format!(", swing radius {}", record.length(radius))).unwrap_or_default();
    Section::new("Pictures, to scale")
        .with(picture(
            swing_picture(record).unwrap_or_else(|| pictures::end_view(card, swing)),
            &format!("Fixture, ring and what sticks out, as it swings{reach}"),
        ))
        .with(picture(pictures::side_view(card), "Features along the axis, from the back face"))
        .with(picture(pictures::feature_positions(card), "Features round the axis, as the drawing has them"))
}

/// The fixture as it swings, as the step itself showed it: with what was found to reach further and what stands near.
fn swing_picture(record: &Record<'_>) -> Option<Scene> {
    let fit = record.steps.iter().find(|step| step.answer.hands_on.iter().any(|fact| fact.id == "fit.swing"))?;
    fit.answer.scene.clone()
}

fn registers(record: &Record<'_>) -> Section {
    let section = Section::new("Registers")
        .table_or(register_table(record, 1), "No register has been written yet.")
        .words("A is written anew for every piece: see Level, piece by piece.");
    let protected = &record.card().register.protected;
    if protected.is_empty() {
        return section;
    }
    section.words(format!("Registers of other jobs, never to be touched: {}.", protected.join(", ")))
}

/// The claimed register as it was written for a piece; X, Y and Z stay from the first piece on unless written anew.
pub(super) fn register_table(record: &Record<'_>, piece: u32) -> Table {
    let handed = record.review.progress.handed();
    let name = &record.card().register.name;
    let caption = format!("Register {name}, piece {piece}");
    let mut table = Table::new(caption, &["axis", "#as written", "#read back off the control"]);
    for (axis, fact) in [('X', "capture.x"), ('Y', "capture.y"), ('Z', "capture.z"), ('A', "tram.a")] {
        let of = |piece| handed.number_of(Some(piece), fact).map(|written| (piece, written));
        let kept = if axis == 'A' { None } else { of(1) };
        let Some((from, written)) = of(piece).or(kept) else { continue };
        let words = if axis == 'A' { record.angle(written) } else { record.length(written) };
        table.row(vec![axis.to_string(), words, read_back(record, name, axis, from)]);
    }
    table
}

/// The newest standing read-back of a register on one axis for a piece, as typed off the screen.
fn read_back(record: &Record<'_>, register: &str, axis: char, piece: u32) -> String {
    let lines = record
        .entries()
        .iter()
        .rev()
        .filter(|entry| entry.stands() && entry.piece == Some(piece) && entry.spec.id == "capture.registers-after");
    let found =
        lines.flat_map(crate::checklist::Entry::registers).find(|line| line.name.eq_ignore_ascii_case(register));
    let value = found.and_then(|line| line.axes.iter().find(|(letter, _)| *letter == axis));
    value.map_or_else(|| "-".to_owned(), |(_, quantity)| quantity.echo())
}

fn tools(record: &Record<'_>) -> Section {
    let card = record.card();
    let mut table = Table::new(
        "Tools as called in the program",
        &[
            "#T",
            "tool",
            "#diameter",
            "#point",
            "#stored length",
            "#stands out of its holder",
            "#must reach below its start",
        ],
    );
    for tool in &card.tools {
        let reach =
            card.features.iter().filter(|feature| feature.tool == tool.number).map(|feature| feature.tip_depth.mm());
        let deepest = reach.fold(f64::NAN, f64::max);
        table.row(vec![
            tool.number.to_string(),
            tool.name.clone(),
            record.length(tool.diameter.mm()),
            format!("{} deg", crate::quantity::print::shortest(tool.point_angle_deg)),
            record.length(tool.length.mm()),
            tool.stick_out.map_or_else(|| "-".to_owned(), |out| record.length(out.mm())),
            if deepest.is_finite() { record.length(deepest) } else { "-".to_owned() },
        ]);
    }
    let plan = pivot("Cutting plan", "tool", &first_run_findings(record, &PLAN));
    Section::new("Tools").with(Block::Table(table)).table_or(plan, "The cutting plan has not been worked out yet.")
}

/// Findings about a tool, in the order in which they are shown.
const PLAN: [&str; 7] =
    ["run.speed", "run.feed", "run.chip", "run.thrust", "run.torque", "run.depth-ratio", "run.feed-floor"];

fn first_run_findings<'a>(record: &'a Record<'_>, ids: &[&str]) -> Vec<&'a Finding> {
    let found = record.step("first-run", None).map(|step| step.answer.findings.as_slice()).unwrap_or_default();
    ids.iter().flat_map(|id| found.iter().filter(move |finding| finding.id == *id)).collect()
}

/// What stands in the program, and what the machine shows there.
const IN_PROGRAM: [&str; 5] =
    ["index.a-program", "index.x-program", "index.y-program", "index.z-program", "index.entry-slope"];

fn index_table(record: &Record<'_>) -> Section {
    let all: Vec<&Finding> = record
        .findings_for(1)
        .filter(|finding| finding.id.starts_with("index.") && !finding.about.is_empty())
        .collect();
    let (program, machine): (Vec<&Finding>, Vec<&Finding>) =
        all.into_iter().partition(|finding| IN_PROGRAM.contains(&finding.id));
    let section = Section::new("Index table");
    if program.is_empty() {
        return section.words("The zero has not been captured yet.");
    }
    section
        .with(Block::Table(pivot("In the program (zero of piece 1)", "feature", &program)))
        .with(Block::Table(pivot("At the machine (zero of piece 1)", "feature", &machine)))
}

fn tram(record: &Record<'_>) -> Section {
    let limit: Vec<String> = record
        .findings_for(1)
        .filter(|finding| matches!(finding.id, "brief.tram-limit" | "brief.tram-half-width"))
        .map(|finding| format!("{}: {}", finding.label, shown(finding)))
        .collect();
    let mut table = Table::new(
        "Level, piece by piece",
        &["piece", "#rear minus front", "#roll of the part", "#gain", "#A for the register", "verdict"],
    );
    for step in record.steps.iter().filter(|step| step.status.slot.step.id() == "rotary-tram") {
        // The last try is the one that counts.
        let last = |id: &str| step.answer.findings.iter().rev().find(|finding| finding.id == id);
        let words = |id: &str| last(id).map(shown).unwrap_or_default();
        if last("tram.difference").is_none() {
            continue;
        }
        let verdict = last("tram.difference").and_then(|finding| finding.verdict);
        table.row(vec![
            step.status.slot.piece.map(|piece| piece.to_string()).unwrap_or_default(),
            words("tram.difference"),
            words("tram.roll"),
            words("tram.gain"),
            words("tram.a"),
            verdict.map(|verdict| verdict.word().to_owned()).unwrap_or_default(),
        ]);
    }
    let section = Section::new("Level (tram)").words(if limit.is_empty() {
        "The limit has not been worked out yet.".to_owned()
    } else {
        format!("Limit from the error budget: {}.", limit.join("; "))
    });
    section.table_or(table, "No piece has been levelled yet.")
}

fn first_run(record: &Record<'_>) -> Section {
    let stops = pivot(
        "Stops of the first approach",
        "stop",
        &first_run_findings(record, &["run.z-program", "run.machine-z-expected", "run.to-go-expected"]),
    );
    let rapid = first_run_findings(
        record,
        &["run.rapid-ceiling", "run.rapid-dial-step", "run.stopping-distance", "run.actual-feed"],
    );
    let words: Vec<String> = rapid.iter().map(|finding| labelled(finding)).collect();
    Section::new("First run: stops and overrides")
        .table_or(stops, "The stops have not been worked out yet.")
        .with(Block::Points(words))
        .words("At a stop compare the distance-to-go with this table and look; no hand near a tool that may turn.")
}

fn labelled(finding: &Finding) -> String {
    format!("{}: {}", named(finding), shown(finding))
}

/// How many gates passed in each step, and which did not, with the reason they were gone past.
fn gates_in_brief(record: &Record<'_>) -> Section {
    let mut steps: Vec<(&str, usize)> = Vec::new();
    let mut not_passed = Table::new("Not passed", &["step", "gate", "state", "#measured", "#limit", "says"]);
    for step in &record.steps {
        let title = step.status.slot.step.title();
        let passed = step.answer.gates.iter().filter(|gate| gate.state == GateState::Pass).count();
        match steps.iter_mut().find(|(known, _)| *known == title) {
            Some((_, count)) => *count += passed,
            None => steps.push((title, passed)),
        }
        for gate in step.answer.gates.iter().filter(|gate| matches!(gate.state, GateState::Fail | GateState::Conceded))
        {
            not_passed.row(gate_row(step, gate));
        }
    }
    let words = steps.iter().map(|(title, count)| format!("{title}: {count}")).collect::<Vec<_>>().join("; ");
    Section::new("Gates")
        .words(format!("Passed: {words}. Each one with its numbers: on the evidence."))
        .table_or(not_passed, "None failed or was gone past.")
        .table_or(conceded(record), "No gate was passed with a reason.")
}

pub(super) fn gates(record: &Record<'_>) -> Section {
    let mut table = Table::new("Gates", &["step", "gate", "state", "#measured", "#limit", "says"]);
    for step in &record.steps {
        for gate in step.answer.gates.iter().filter(|gate| gate.state != GateState::Open) {
            table.row(gate_row(step, gate));
        }
    }
    Section::new("Gates")
        .table_or(table, "No gate has been judged yet.")
        .table_or(conceded(record), "No gate was passed with a reason.")
}

fn conceded(record: &Record<'_>) -> Table {
    let mut conceded = Table::new("Gone on with reason", &["gate", "step", "by", "when", "reason"]);
    for concession in record.review.progress.concessions() {
        let about = if concession.about.is_empty() { String::new() } else { format!(" ({})", concession.about) };
        conceded.row(vec![
            format!("{}{about}", concession.gate),
            place(concession.step, concession.piece),
            concession.by.clone(),
            moment(record.time(concession.seq)),
            concession.why.clone(),
        ]);
    }
    conceded
}

fn gate_row(step: &StepRecord, gate: &Gate) -> Vec<String> {
    let about = if gate.about.is_empty() { String::new() } else { format!(" ({})", gate.about) };
    let text =
        |shown: &Option<crate::checklist::Quantified>| shown.as_ref().map(ToString::to_string).unwrap_or_default();
    vec![
        place(step.status.slot.step.title(), step.status.slot.piece),
        format!("{}{about}", gate.id),
        gate.state.word().to_owned(),
        text(&gate.measured),
        text(&gate.limit),
        gate.says.clone(),
    ]
}

pub(super) fn struck(record: &Record<'_>) -> Section {
    let mut table = Table::new(
        "Crossed out; what was typed stays readable",
        &["#line", "what", "typed", "crossed out by", "why", "taken instead"],
    );
    for entry in record.entries() {
        let Some(strike) = &entry.struck else { continue };
        let instead = record.entries().iter().find(|other| other.replaces == Some(entry.seq));
        table.row(vec![
            entry.seq.to_string(),
            entry.spec.id.to_owned(),
            typed(&entry.value),
            strike.by.clone(),
            strike.why.clone(),
            instead.map(|other| format!("{} (line {})", typed(&other.value), other.seq)).unwrap_or_default(),
        ]);
    }
    Section::new("Readings crossed out").table_or(table, "No reading was crossed out.")
}

/// A value as it was typed.
pub(super) fn typed(value: &EntryValue) -> String {
    match value {
        EntryValue::Quantity(quantity) => quantity.text().to_owned(),
        other => other.to_string(),
    }
}

fn carried_over(record: &Record<'_>) -> Section {
    let mut table = Table::new(
        "Expected next time, ± twice the standard uncertainty (a window to compare with, never a setting)",
        &["what", "#this time"],
    );
    let found: Vec<&Finding> = record.findings_for(1).collect();
    for id in CARRIED_OVER {
        let Some(finding) = found.iter().rev().find(|finding| finding.id == id) else { continue };
        let expanded = Finding { uncertainty: finding.uncertainty.map(|u| 2.0 * u), ..(*finding).clone() };
        table.row(vec![named(finding), shown(&expanded)]);
    }
    Section::new("What carries over").table_or(table, "Nothing carries over yet.").words(
        "Measured again every time: every register, the level of the part, tool lengths, the read-back. Old registers are never typed in again.",
    )
}

/// Findings that the next setup of the same fixture is expected to repeat (job map, 1D).
pub(super) const CARRIED_OVER: [&str; 11] = [
    "pickup.off-centre-y",
    "pickup.off-centre-z",
    "fit.seat-tilt",
    "fit.play",
    "fit.expected-gap",
    "pickup.axis-slope-y",
    "pickup.axis-slope-z",
    "pickup.half-height",
    "fit.swing",
    "brief.tram-limit",
    "run.feed-floor",
];

pub(super) fn chain(record: &Record<'_>) -> Section {
    let check = &record.review.check;
    let head = witness(&check.head);
    Section::new("The log behind this sheet")
        .words(format!("{} events. The head of the chain, to be kept with this paper:", check.count))
        .with(Block::Verbatim(head.clone()))
        .with(Block::Code { text: format!("{} {} {}", record.name(), check.count, check.head), caption: "Session, number of events, head".to_owned() })
        .words("To check that the log is still the one this sheet was made from:")
        .with(Block::Verbatim(format!("setwright audit {} --expect \"{head}\"", record.name())))
        .words("Without the program: each line's hash is the SHA-256 of the hash before it, a line feed, and the bytes of the line before its own hash; the last one is the head above.")
}

/// Turns findings about several things into one table: a row for each thing, a column for each kind of finding.
pub(super) fn pivot(caption: &str, about: &str, findings: &[&Finding]) -> Table {
    let mut things: Vec<&str> = Vec::new();
    let mut kinds: Vec<(&str, &str)> = Vec::new();
    for finding in findings {
        if !things.contains(&finding.about.as_str()) {
            things.push(&finding.about);
        }
        if !kinds.iter().any(|(id, _)| *id == finding.id) {
            kinds.push((finding.id, finding.label));
        }
    }
    let titles: Vec<String> =
        std::iter::once(about.to_owned()).chain(kinds.iter().map(|(_, label)| format!("#{label}"))).collect();
    let mut table = Table::new(caption, &titles.iter().map(String::as_str).collect::<Vec<_>>());
    for thing in things {
        let cell = |(id, _): &(&str, &str)| {
            let found = findings.iter().find(|finding| finding.id == *id && finding.about == thing);
            found.map(|finding| shown(finding)).unwrap_or_default()
        };
        table.row(std::iter::once(thing.to_owned()).chain(kinds.iter().map(cell)).collect());
    }
    table
}
