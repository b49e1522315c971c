//! Opening slots that are still tight, pass by pass: half of what is wanted off each wall, never past the target.

use serde_json::json;

use crate::checklist::{AskSpec, GateCheck, GateKind, Question, Reading, Window, Worksheet};

/// A slot with the jaw that goes into it.
pub(super) struct Pair {
    /// Name of the slot.
    pub(super) name: &'static str,
    /// The ask for its width.
    pub(super) slot: &'static AskSpec,
    /// The ask for what was taken off each wall.
    pub(super) wall: &'static AskSpec,
    /// Mean width of the jaw, millimetres.
    pub(super) jaw: f64,
    /// The entries that the jaw's width rests on.
    pub(super) jaw_entries: Vec<u64>,
}

/// How far a slot's width may lie from its jaw's before it is questioned, millimetres.
const SLOT_WINDOW_MM: f64 = 0.5;
/// Passes after which the creep-up is given up.
const MOST_PASSES: u32 = 12;
/// Share of what is missing that the first pass takes while the cutter's response is unknown.
const FIRST_SHARE: f64 = 0.5;
/// Share of what is missing that a pass takes once the response is known.
const LATER_SHARE: f64 = 0.8;

/// Goes on when both slots have play enough; otherwise says what to take off each wall next.
pub(super) fn open_slots(sheet: &mut Worksheet<'_>, pairs: &[Pair]) -> Option<()> {
    for pass in 0..MOST_PASSES {
        let mut tight = Vec::new();
        for pair in pairs {
            let width = width(sheet, pair, pass)?;
            let least = sheet.card().fixture.play_window.0.mm();
            if width.mean - pair.jaw < least {
                tight.push((pair, width));
            }
        }
        if tight.is_empty() {
            return Some(());
        }
        for (pair, width) in &tight {
            next_wall(sheet, pair, width, pass)?;
        }
    }
    given_up(sheet)
}

/// Returns the newest measured width of a slot. A slot that was not cut in a pass keeps the width it had.
pub(super) fn newest_width(sheet: &mut Worksheet<'_>, pair: &Pair) -> Option<Reading> {
    let last = (0..MOST_PASSES).rev().find(|pass| !sheet.standing(pair.slot.id, *pass).is_empty())?;
    width(sheet, pair, last)
}

fn width(sheet: &mut Worksheet<'_>, pair: &Pair, pass: u32) -> Option<Reading> {
    let was_cut = pass == 0 || !sheet.standing(pair.wall.id, pass - 1).is_empty();
    if !was_cut {
        return newest_width(sheet, pair);
    }
    let say = if pass == 0 {
        pair.slot.says.to_owned()
    } else {
        format!("{} After pass {pass}, deburred and wiped.", pair.slot.says)
    };
    sheet.measure(Question::of(pair.slot).round(pass).say(say).expect(Window::around(pair.jaw, SLOT_WINDOW_MM)))
}

fn next_wall(sheet: &mut Worksheet<'_>, pair: &Pair, width: &Reading, pass: u32) -> Option<()> {
    let (response, share) = match response(sheet, pair, width, pass)? {
        Some(response) => (response, LATER_SHARE),
        None => (1.0, FIRST_SHARE),
    };
    let outputs = sheet.reckon(
        &format!("next-wall/{}/{pass}", pair.name),
        "slot-next-wall",
        json!({
            "slot_width": width.mean, "jaw_width": pair.jaw, "play_wanted": sheet.card().fixture.play_wanted.mm(),
            "response": response, "damping": share,
        }),
    )?;
    let (tight, wall) = (outputs.value("tightness")?, outputs.value("wall_offset")?);
    let about = format!("{}/{pass}", pair.name);
    let shown_tight = sheet.fine(tight);
    sheet.finding_about("fit.tight", &about, "too tight by", shown_tight, &outputs);
    let shown_wall = sheet.fine(wall);
    sheet.finding_about("fit.next-wall", &about, "take off each wall", shown_wall.clone(), &outputs);
    if sheet.standing(pair.wall.id, pass).is_empty() {
        let says = format!("off EACH wall of {}: the slot opens by twice as much", pair.name);
        sheet.set("wall", shown_wall.clone(), None, says);
    }
    let say = format!(
        "{}: strip the fixture, pick up the same two datum edges, take {shown_wall} off EACH wall (the slot opens by twice that), all walls alike. What did you command?",
        pair.name
    );
    sheet.number(Question::of(pair.wall).round(pass).say(say))?;
    sheet.moved();
    Some(())
}

/// Works out how much of the last commanded cut the slot really opened by; `Some(None)` before the first pass.
#[expect(clippy::option_option, reason = "the outer one stops the walk, the inner one says that nothing was cut yet")]
fn response(sheet: &mut Worksheet<'_>, pair: &Pair, width: &Reading, pass: u32) -> Option<Option<f64>> {
    let Some(last) = (0..pass).rev().find(|cut| !sheet.standing(pair.wall.id, *cut).is_empty()) else {
        return Some(None);
    };
    let wall = sheet.standing(pair.wall.id, last).last().map(|entry| entry.number())?;
    let before = (0..=last).rev().find(|cut| !sheet.standing(pair.slot.id, *cut).is_empty())?;
    let before = self::width(sheet, pair, before)?;
    let outputs = sheet.reckon(
        &format!("response/{}/{last}", pair.name),
        "slot-response",
        json!({"width_before": before.mean, "width_after": width.mean, "wall_offset": wall}),
    )?;
    let response = outputs.value("response")?;
    let about = format!("{}/{last}", pair.name);
    sheet.finding_about(
        "fit.response",
        &about,
        "of the cut came off",
        crate::checklist::shown(response, "1", 0.01),
        &outputs,
    );
    // A cutter that took next to nothing tells nothing about the next pass: then the cautious first share is used again.
    Some((response >= LEAST_RESPONSE).then_some(response))
}

/// Response below which a pass counts as a rub.
const LEAST_RESPONSE: f64 = 0.2;

fn given_up(sheet: &mut Worksheet<'_>) -> Option<()> {
    sheet.gate(GateCheck {
        id: "fit.play-window",
        about: "passes".to_owned(),
        kind: GateKind::Stop,
        pass: false,
        measured: None,
        limit: None,
        says: (
            String::new(),
            format!("After {MOST_PASSES} passes a slot is still tight: look at cutter, stick-out and gauge before cutting again."),
        ),
        rests_on: Vec::new(),
    })
}
