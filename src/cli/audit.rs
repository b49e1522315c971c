//! Auditing logs.

use serde_json::{Value, json};

use crate::cli::arguments::Audit as Options;
use crate::cli::environment::Surroundings;
use crate::cli::failure::Failure;
use crate::cli::{print, sessions};
use crate::session::{Audit, audit as audit_log, session_name};
use crate::session_log::{Head, witness};

/// Audits every log named; the worst result decides the exit code.
pub(super) fn audit(options: &Options, here: &Surroundings) -> Result<u8, Failure> {
    let expected = options.expect.as_deref().map(head).transpose()?;
    if expected.is_some() && options.sessions.len() > 1 {
        return Err(Failure::usage("--expect takes one session: a head belongs to one log."));
    }
    let house = here.house()?;
    let mut worst = 0;
    let mut rows = Vec::new();
    for name in &options.sessions {
        let audited = audit_log(&sessions::find(&house, name)?)?;
        let as_expected = expected.as_ref().is_none_or(|head| *head == audited.check.head);
        worst = worse(worst, code(&audited, as_expected));
        if options.json {
            rows.push(row(&audited, as_expected));
        } else {
            print(&words(&audited, as_expected))?;
        }
    }
    if options.json {
        print(&format!("{}\n", json!({"schema": "setwright/audit/1", "logs": rows})))?;
    }
    Ok(worst)
}

fn head(text: &str) -> Result<Head, Failure> {
    let digits: String = text.chars().filter(|letter| !letter.is_whitespace()).collect();
    Head::parse(&digits).map_err(|why| Failure::usage(format!("--expect: {why}")))
}

fn code(audited: &Audit, as_expected: bool) -> u8 {
    if !audited.is_whole() || !as_expected {
        65
    } else if !audited.differences.is_empty() {
        4
    } else if !audited.all_within() {
        3
    } else {
        0
    }
}

/// Damage is worse than a difference, a difference worse than a verdict.
const fn worse(one: u8, other: u8) -> u8 {
    const fn rank(code: u8) -> u8 {
        match code {
            65 => 3,
            4 => 2,
            3 => 1,
            _ => 0,
        }
    }
    if rank(one) >= rank(other) { one } else { other }
}

fn row(audited: &Audit, as_expected: bool) -> Value {
    let differences: Vec<Value> = audited
        .differences
        .iter()
        .map(|one| json!({"seq": one.seq, "calculation": one.calculation, "key": one.key, "logged": one.logged, "now": one.now}))
        .collect();
    json!({
        "session": session_name(&audited.path), "class": audited.check.class.name(), "events": audited.check.count,
        "sealed": audited.check.sealed, "head": audited.check.head.as_str(), "head_as_expected": as_expected,
        "reckoned": audited.reckoned, "differences": differences, "all_within": audited.all_within(),
        "verdicts": audited.verdicts, "remarks": audited.remarks,
        "problem": audited.check.problem.as_ref().map(|problem| json!({"line": problem.line, "what": problem.what})),
    })
}

fn words(audited: &Audit, as_expected: bool) -> String {
    let seal =
        if audited.check.sealed { "sealed" } else { "NOT sealed: what was cut off cleanly at its end cannot be seen" };
    let mut text = format!(
        "{}: chain {}, {} events, {seal}\n  {} calculations made again, {} came out otherwise\n",
        session_name(&audited.path),
        audited.check.class.name(),
        audited.check.count,
        audited.reckoned,
        audited.differences.len()
    );
    if let Some(problem) = &audited.check.problem {
        let hint = problem.hint.as_ref().map(|hint| format!(" ({hint})")).unwrap_or_default();
        text.push_str(&format!("  DAMAGED at line {}: {}{hint}\n", problem.line, problem.what));
    }
    for one in &audited.differences {
        text.push_str(&format!(
            "  DIFFERS: event {}, {} {}: logged {}, now {}\n",
            one.seq, one.calculation, one.key, one.logged, one.now
        ));
    }
    for (step, verdict) in audited.verdicts.iter().filter(|(_, verdict)| verdict != "within") {
        text.push_str(&format!("  {step}: {verdict}\n"));
    }
    for remark in &audited.remarks {
        text.push_str(&format!("  {remark}\n"));
    }
    if !as_expected {
        text.push_str("  THE HEAD IS NOT THE ONE EXPECTED: this is another log, or a shorter one.\n");
    }
    text.push_str(&format!("  head {}\n", witness(&audited.check.head)));
    text
}
