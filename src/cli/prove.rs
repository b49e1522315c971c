//! Proving a program against a session or a card.

use std::fs::File;
use std::io::{self, BufReader, Read, Seek};

use serde_json::{Value, json};

use crate::checklist::Progress;
use crate::cli::arguments::Prove as Options;
use crate::cli::environment::Surroundings;
use crate::cli::failure::Failure;
use crate::cli::{cards, print, sessions};
use crate::job::{CardUnit, JobCard, WorkTurns};
use crate::program::{At, Found, KEPT_OF_A_KIND, Proof, ProveError, Report, Setup, Severity, Subprograms, ToolPart};
use crate::quantity::{Dimension, Unit, print as printed};
use crate::session::{review, without_controls};

/// So much of standard input is read whole; a longer program is given as a file.
const MOST_FROM_INPUT: u64 = 16 * 1024 * 1024;

/// Proves a program: exit 0 when there is nothing to look at, 3 when there is.
pub(super) fn prove(options: &Options, here: &Surroundings) -> Result<u8, Failure> {
    let (card, found) = match (&options.session, &options.card) {
        (Some(name), _) => {
            let session = review(&sessions::find(&here.house()?, name)?)?;
            (session.progress.card().clone(), Some(found(&session.progress)))
        }
        (None, Some(name)) => (cards::find(name)?, None),
        (None, None) => return Err(Failure::usage("Name what to compare with: --session SESSION or --card CARD.")),
    };
    let setup = Setup { card: &card, found };
    let proof = if options.program == "-" { from_input(&setup) } else { from_file(&options.program, &setup) }?;
    let text = if options.json { format!("{}\n", as_json(&proof, &card)) } else { as_text(&proof, &card) };
    print(&without_controls(&text))?;
    Ok(if proof.reports.worst() >= Some(Severity::Look) { 3 } else { 0 })
}

fn from_file(name: &str, setup: &Setup<'_>) -> Result<Proof, Failure> {
    let unreadable = |error: io::Error| Failure::no_input(format!("{name} cannot be read: {error}"));
    let mut file = File::open(name).map_err(|error| match error.kind() {
        io::ErrorKind::NotFound => Failure::no_input(format!("{name}: there is no such program.")),
        _ => unreadable(error),
    })?;
    if !file.metadata().map_err(unreadable)?.is_file() {
        return Err(Failure::no_input(format!("{name} is no regular file. A program from a pipe: setwright prove -")));
    }
    let subprograms = Subprograms::collect(BufReader::new(&file)).map_err(unreadable)?;
    file.rewind().map_err(unreadable)?;
    crate::program::prove(BufReader::with_capacity(1 << 16, &file), &subprograms, setup)
        .map_err(|error| failure(name, &error))
}

fn from_input(setup: &Setup<'_>) -> Result<Proof, Failure> {
    let mut bytes = Vec::new();
    io::stdin().lock().take(MOST_FROM_INPUT + 1).read_to_end(&mut bytes).map_err(Failure::stream)?;
    if u64::try_from(bytes.len()).unwrap_or(u64::MAX) > MOST_FROM_INPUT {
        return Err(Failure::usage("The program on standard input is longer than 16 MiB: save it and name the file."));
    }
    let subprograms = Subprograms::collect(bytes.as_slice()).map_err(Failure::stream)?;
    crate::program::prove(bytes.as_slice(), &subprograms, setup).map_err(|error| failure("standard input", &error))
}

fn failure(name: &str, error: &ProveError) -> Failure {
    match error {
        ProveError::Stream(_) => Failure::no_input(format!("{name}: {error}")),
        ProveError::NoText | ProveError::Setup(_) => Failure::bad_data(format!("{name}: {error}")),
    }
}

/// Gathers what a session has found at the machine; what is not known yet stays open.
fn found(progress: &Progress) -> Found {
    let handed = progress.handed();
    let first = |id| handed.number_of(Some(1), id);
    let register = [first("capture.x"), first("capture.y"), first("capture.z")];
    let sense = handed
        .word_of(Some(1), "tram.sense")
        .map(|word| if word == WorkTurns::RightHand.word() { WorkTurns::RightHand } else { WorkTurns::LeftHand });
    Found {
        register: if let [Some(x), Some(y), Some(z)] = register { Some([x, y, z]) } else { None },
        register_a: first("tram.a"),
        work_turns: sense,
        off_centre: first("index.off-centre-y").zip(first("index.off-centre-z")),
        axis_slope: (
            handed.number("pickup.axis-slope-y").unwrap_or(0.0),
            handed.number("pickup.axis-slope-z").unwrap_or(0.0),
        ),
        swing: handed.number("fit.swing"),
        lengths: Vec::new(),
    }
}

fn place(at: At) -> String {
    match (at.line, at.number) {
        (0, _) => "whole program".to_owned(),
        (line, Some(number)) => format!("line {line}, N{number}"),
        (line, None) => format!("line {line}"),
    }
}

fn as_text(proof: &Proof, card: &JobCard) -> String {
    let mut text = format!("{} lines, {} moves walked against {}.\n", proof.lines, proof.moves, card.title);
    if !proof.in_machine {
        text.push_str("The register is not known yet: machine coordinates are not shown.\n");
    }
    for report in proof.reports.kept() {
        text.push_str(&report_words(report, card.unit));
    }
    for (kind, count) in proof.reports.counts().iter().filter(|(_, count)| **count > KEPT_OF_A_KIND) {
        text.push_str(&format!("       {kind}: {count} times in all\n"));
    }
    if proof.reports.worst().is_none() {
        text.push_str("Nothing found.\n");
    }
    for part in &proof.plan {
        text.push_str(&plan_words(part, card.unit));
    }
    text
}

fn report_words(report: &Report, unit: CardUnit) -> String {
    let times = if report.times > 1 { format!(" ({} times)", report.times) } else { String::new() };
    let weight = report.trouble.severity().word().to_uppercase();
    format!("{weight:<5}  {}: {}{times}\n", place(report.at), report.trouble.says(unit))
}

fn length(mm: f64, unit: CardUnit) -> String {
    let (name, step) = if unit == CardUnit::Inch { ("in", 0.0001) } else { ("mm", 0.001) };
    let unit = Unit::of(Dimension::Length, name);
    unit.map_or_else(String::new, |unit| printed::at_resolution(unit.from_base(mm), step, unit))
}

fn plan_words(part: &ToolPart, unit: CardUnit) -> String {
    let tool = part.tool.map_or_else(|| "no tool called".to_owned(), |tool| format!("tool {tool}"));
    let mut text = format!("\nFirst run, {tool}:\n");
    if let Some((at, from, to)) = &part.index {
        let angle = |a: &Option<f64>| a.map_or_else(|| "not known".to_owned(), |a| format!("{a:.3} deg"));
        text.push_str(&format!("  first turn      {}: A {} to {}\n", place(*at), angle(from), angle(to)));
    }
    if let Some(approach) = &part.approach {
        let kind = if approach.rapid { "rapid" } else { "feed" };
        text.push_str(&format!(
            "  first approach  {}: {kind} to Z {}, {} over the surface\n",
            place(approach.at),
            length(approach.to, unit),
            length(approach.gap, unit)
        ));
        if let Some(ceiling) = approach.rapid_ceiling.filter(|_| approach.rapid) {
            let step = approach.rapid_step.map_or_else(
                || "no step of the dial is low enough".to_owned(),
                |step| format!("dial at most {step} %"),
            );
            text.push_str(&format!("                  rapid override at most {ceiling:.2} %: {step}\n"));
        }
    }
    for stop in &part.stops {
        let machine = stop.machine_z.map_or_else(String::new, |z| format!(", machine Z {}", length(z, unit)));
        text.push_str(&format!(
            "  stop `{}`  {}: Z {}, to go {}{machine}\n",
            stop.name,
            place(stop.at),
            length(stop.program_z, unit),
            length(stop.to_go, unit)
        ));
    }
    if let Some(cut) = &part.cut {
        let to = cut.to.map_or_else(|| "not known".to_owned(), |to| length(to, unit));
        text.push_str(&format!("  first cut       {}: single block ends at Z {to}\n", place(cut.at)));
        if let Some(depth) = cut.first_peck {
            text.push_str(&format!("                  its first peck ends at Z {}\n", length(depth, unit)));
        }
        match cut.lowest_feed_step {
            Some(step) => text.push_str(&format!("                  feed override at least {step} %\n")),
            None => text
                .push_str("                  no feed override keeps the chip thick enough, or the feed is not known\n"),
        }
        let times: Vec<String> = cut.seconds.iter().map(|(step, seconds)| format!("{step} % {seconds:.1} s")).collect();
        if !times.is_empty() {
            text.push_str(&format!("                  takes {}\n", times.join(", ")));
        }
    }
    text
}

fn as_json(proof: &Proof, card: &JobCard) -> Value {
    let reports: Vec<Value> = proof
        .reports
        .kept()
        .iter()
        .map(|report| {
            json!({
                "id": report.trouble.id(), "severity": report.trouble.severity().word(), "line": report.at.line,
                "block": report.at.number, "times": report.times, "says": report.trouble.says(card.unit),
            })
        })
        .collect();
    let plan: Vec<Value> = proof.plan.iter().map(part_as_json).collect();
    json!({
        "schema": "setwright/prove/1", "card": card.id, "lines": proof.lines, "moves": proof.moves,
        "worst": proof.reports.worst().map(Severity::word), "machine_coordinates": proof.in_machine,
        "counts": proof.reports.counts(), "reports": reports, "unit": "mm", "plan": plan,
    })
}

fn part_as_json(part: &ToolPart) -> Value {
    let at = |at: At| json!({"line": at.line, "block": at.number});
    json!({
        "tool": part.tool,
        "index": part.index.map(|(place, from, to)| json!({"at": at(place), "from": from, "to": to})),
        "approach": part.approach.as_ref().map(|approach| json!({
            "at": at(approach.at), "from": approach.from, "to": approach.to, "gap": approach.gap, "rapid": approach.rapid,
            "rapid_ceiling": approach.rapid_ceiling, "rapid_step": approach.rapid_step,
        })),
        "cut": part.cut.as_ref().map(|cut| json!({
            "at": at(cut.at), "from": cut.from, "to": cut.to, "first_peck": cut.first_peck, "feed": cut.feed,
            "lowest_feed_step": cut.lowest_feed_step, "seconds": cut.seconds,
        })),
        "stops": part.stops.iter().map(|stop| json!({
            "name": stop.name, "at": at(stop.at), "program_z": stop.program_z, "machine_z": stop.machine_z, "to_go": stop.to_go,
        })).collect::<Vec<_>>(),
    })
}
