//! Looking at sessions without touching them.

use std::path::Path;
use std::time::Duration;

use serde_json::{Value, json};

use crate::cli::arguments::Review as Options;
use crate::cli::environment::Surroundings;
use crate::cli::failure::Failure;
use crate::cli::print;
use crate::cli::sessions::{find, on_screen};
use crate::session::{Overview, Review, Standing, TrailLine, overviews, review as read_session, session_name, trail};
use crate::session_log::{Follower, witness};
use crate::workbook::Start;

/// Lists the sessions, newest first.
pub(in crate::cli) fn list(as_json: bool, here: &Surroundings) -> Result<u8, Failure> {
    let house = here.house()?;
    let all = overviews(&house.sessions)
        .map_err(|error| Failure::failed(format!("{}: {error}", house.sessions.display())))?;
    if as_json {
        let rows: Vec<Value> = all.iter().map(row).collect();
        return print(&format!("{}\n", json!({"schema": "setwright/sessions/1", "sessions": rows}))).map(|()| 0);
    }
    if all.is_empty() {
        return print("No sessions yet. Start the practice job with: setwright follow\n").map(|()| 0);
    }
    let lines: Vec<String> = all.iter().map(words).collect();
    print(&lines.concat()).map(|()| 0)
}

fn standing(overview: &Overview) -> (&'static str, String) {
    match &overview.standing {
        Standing::Unfinished(stopped) => ("unfinished", stopped.to_string()),
        Standing::Sealed => ("sealed", String::new()),
        Standing::Unreadable(why) => ("unreadable", why.clone()),
    }
}

fn row(overview: &Overview) -> Value {
    let (standing, place) = standing(overview);
    json!({
        "session": overview.name, "path": overview.path.to_string_lossy(), "title": overview.title, "standing": standing,
        "place": place, "last": overview.last, "events": overview.events,
    })
}

fn words(overview: &Overview) -> String {
    let (standing, place) = standing(overview);
    format!(
        "{}\n    {}, {standing}{}{place}, {} events, last {}\n",
        overview.name,
        overview.title,
        if place.is_empty() { "" } else { ": " },
        overview.events,
        overview.last
    )
}

/// Shows a session as it stands in its log.
pub(in crate::cli) fn review(options: &Options, here: &Surroundings) -> Result<u8, Failure> {
    let house = here.house()?;
    let path = match &options.session {
        Some(name) => find(&house, name)?,
        None => newest(&house.sessions)?,
    };
    let review = read_session(&path)?;
    if here.is_interactive() && !options.json && !options.plain && !options.follow {
        return on_screen(&house, Start::Review(Box::new(review)), &here.screen(None, options.ascii));
    }
    let code = if review.check.problem.is_some() { 65 } else { 0 };
    if options.json {
        print(&format!("{}\n", as_json(&review)))?;
        return Ok(code);
    }
    print(&as_text(&review))?;
    if options.follow { follow(&path, &review) } else { Ok(code) }
}

fn newest(folder: &Path) -> Result<std::path::PathBuf, Failure> {
    let all = overviews(folder).map_err(|error| Failure::failed(format!("{}: {error}", folder.display())))?;
    all.into_iter().next().map(|overview| overview.path).ok_or_else(|| Failure::no_input("No session here yet."))
}

fn as_json(review: &Review) -> Value {
    let lines: Vec<Value> = trail(&review.events, review.progress.entries())
        .iter()
        .map(|line| {
            json!({"seq": line.seq, "time": line.time, "by": line.by, "kind": line.kind, "text": line.text, "struck": line.struck, "void": line.void})
        })
        .collect();
    let steps: Vec<Value> = review
        .progress
        .statuses()
        .iter()
        .map(|status| {
            json!({"step": status.slot.step.id(), "piece": status.slot.piece, "state": status.state.word(), "verdict": status.verdict.map(crate::checklist::Verdict::word)})
        })
        .collect();
    json!({
        "schema": "setwright/review/1", "session": session_name(&review.path), "class": review.check.class.name(),
        "sealed": review.check.sealed, "head": review.check.head.as_str(), "events": review.check.count,
        "problem": review.check.problem.as_ref().map(|problem| json!({"line": problem.line, "what": problem.what})),
        "steps": steps, "trail": lines,
    })
}

fn as_text(review: &Review) -> String {
    let card = review.progress.card();
    let mut text = format!(
        "{}: {}, {} events, {}\n",
        session_name(&review.path),
        card.title,
        review.check.count,
        review.check.class.name()
    );
    if let Some(problem) = &review.check.problem {
        text.push_str(&format!("DAMAGED at line {}: {}\n", problem.line, problem.what));
    }
    for line in trail(&review.events, review.progress.entries()) {
        text.push_str(&line_words(&line));
    }
    for status in review.progress.statuses() {
        let piece = status.slot.piece.map(|piece| format!(", piece {piece}")).unwrap_or_default();
        let verdict = status.verdict.map(|verdict| format!(", {}", verdict.word())).unwrap_or_default();
        text.push_str(&format!("{}{piece}: {}{verdict}\n", status.slot.step.title(), status.state.word()));
    }
    text.push_str(&format!(
        "Head after event {}: {}\n",
        review.check.count.saturating_sub(1),
        witness(&review.check.head)
    ));
    text
}

fn line_words(line: &TrailLine) -> String {
    let fate = match (&line.struck, line.void) {
        (Some(why), _) => format!("   CROSSED OUT: {why}"),
        (None, true) => "   VOID".to_owned(),
        (None, false) => String::new(),
    };
    format!("{:>5}  {}  {:<4} {}{fate}\n", line.seq, line.time.get(..19).unwrap_or(&line.time), line.by, line.text)
}

/// How often a log that another terminal writes is looked at.
const LOOK_EVERY: Duration = Duration::from_millis(500);

/// Goes on showing what is written, until the session is sealed.
fn follow(path: &Path, review: &Review) -> Result<u8, Failure> {
    let mut follower = Follower::open(path)?;
    let mut shown = review.events.len();
    loop {
        let fresh = follower.poll()?;
        if !fresh.is_empty() {
            let now = read_session(path)?;
            for line in trail(&now.events, now.progress.entries()).iter().skip(shown) {
                print(&line_words(line))?;
            }
            shown = now.events.len();
        }
        if follower.is_sealed() {
            return Ok(0);
        }
        std::thread::sleep(LOOK_EVERY);
    }
}
