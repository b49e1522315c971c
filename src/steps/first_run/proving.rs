//! Proving the run: rapid ceiling, staged approach, dials, first cut (R6, R7, D19, shop-sense 1 to 5, 13).

use serde_json::json;

use crate::checklist::{Entry, GateCheck, GateKind, Question, Window, Worksheet, shown};
use crate::steps::first_run::cutting::Floor;
use crate::steps::first_run::{
    CUT_LOOKED, CUT_UNBROKEN, DIALS_UP, FEED_DIAL, LAST_APPROACH, MACHINE_Z, RAPID_DIAL, SPINDLE_DIAL, TO_GO,
    first_feature, register_z,
};

/// The rapid ceiling from the real gap, and what to do when no dial step keeps to it.
pub(super) fn rapid(sheet: &mut Worksheet<'_>) -> Option<()> {
    let card = sheet.card();
    let machine = &card.machine;
    let outputs = sheet.reckon(
        "rapid-ceiling",
        "rapid-ceiling",
        json!({
            "clearance": card.first_run.rapid_gap.mm(), "deceleration": machine.deceleration_mm_s2,
            "reaction_time": machine.reaction_s, "rapid_rate": machine.rapid_mm_min,
        }),
    )?;
    let ceiling = outputs.value("ceiling")?;
    sheet.finding("run.rapid-ceiling", "rapid ceiling", shown(ceiling, "%", 0.01), &outputs);
    let step = sheet.reckon(
        "rapid-dial-step",
        "dial-step",
        json!({"limit": ceiling, "dial_steps": machine.rapid_dial_percent, "rule": "at-most"}),
    )?;
    let highest = step.value("dial_step");
    if let Some(highest) = highest {
        sheet.finding("run.rapid-dial-step", "rapid dial at most", shown(highest, "%", 1.0), &step);
    }
    let dial = sheet.answer(Question::of(&RAPID_DIAL).expect(Window { low: 0.0, high: 100.0 }))?;
    stopping(sheet, dial.number())?;
    let approach = sheet.answer(Question::of(&LAST_APPROACH))?;
    let stoppable = dial.number() <= ceiling;
    sheet.gate(GateCheck {
        id: "run.last-approach",
        about: String::new(),
        kind: GateKind::Stop,
        pass: approach.word() != "rapid" || stoppable,
        measured: Some(shown(dial.number(), "%", 1.0)),
        limit: Some(shown(ceiling, "%", 0.01)),
        says: (
            "The last gap is crossed in a way that a person can stop.".to_owned(),
            format!(
                "At {} % nobody stops a rapid in {}: {}. Single block, and the last approach as a feed move or by handwheel.",
                dial.number(),
                sheet.length(card.first_run.rapid_gap.mm(), 0.1),
                highest.map_or_else(|| "no dial step is low enough".to_owned(), |step| format!("{step} % at most"))
            ),
        ),
        rests_on: vec![dial.seq, approach.seq],
    })
}

fn stopping(sheet: &mut Worksheet<'_>, dial: f64) -> Option<()> {
    let machine = &sheet.card().machine;
    let outputs = sheet.reckon(
        "stopping-distance",
        "stopping-distance",
        json!({
            "rapid_rate": machine.rapid_mm_min, "rapid_dial": dial, "deceleration": machine.deceleration_mm_s2,
            "reaction_time": machine.reaction_s,
        }),
    )?;
    let distance = sheet.length(outputs.value("stopping_distance")?, 0.01);
    sheet.finding("run.stopping-distance", "a rapid runs on for", distance, &outputs);
    Some(())
}

/// Counts of the display by which distance-to-go and machine Z may differ from what is expected (D19).
const COUNTS: f64 = 2.0;

/// Stops over the first feature and compares distance-to-go and machine Z with what is expected.
pub(super) fn staged_approach(sheet: &mut Worksheet<'_>, length: f64) -> Option<()> {
    let card = sheet.card();
    let feature = first_feature(sheet)?;
    let surface = sheet.at().handed.number_about(Some(1), "index.z-program", &feature.id)?;
    let rounded = sheet.reckon(
        "surface",
        "nearest-increment",
        json!({"value": surface, "least_increment": card.machine.least_length.mm()}),
    )?;
    let surface = rounded.value("rounded")?;
    let target = surface - feature.tip_depth.mm();
    for (round, (name, height)) in (0_u32..).zip(&card.first_run.stops) {
        stop(sheet, &Stop { round, name, now: surface + height.mm(), target, length })?;
    }
    at_the_cut(sheet, surface, target, length)
}

struct Stop<'a> {
    round: u32,
    name: &'a str,
    now: f64,
    target: f64,
    length: f64,
}

fn expected(sheet: &mut Worksheet<'_>, stop: &Stop<'_>) -> Option<(f64, f64)> {
    let outputs = sheet.reckon(
        &format!("stop/{}", stop.name),
        "distance-to-go",
        json!({
            "program_z_now": stop.now, "program_z_target": stop.target, "z_register": register_z(sheet)?, "tool_length": stop.length,
        }),
    )?;
    let (to_go, machine) = (outputs.value("distance_to_go")?, outputs.value("machine_z_now")?);
    let at = sheet.at_least_increment(stop.now);
    sheet.finding_about("run.z-program", stop.name, "Z in the program", at, &outputs);
    let go = sheet.at_least_increment(to_go);
    sheet.finding_about("run.to-go-expected", stop.name, "to go", go, &outputs);
    let z = sheet.at_least_increment(machine);
    sheet.finding_about("run.machine-z-expected", stop.name, "machine Z", z, &outputs);
    Some((to_go, machine))
}

fn stop(sheet: &mut Worksheet<'_>, stop: &Stop<'_>) -> Option<()> {
    let (to_go, machine) = expected(sheet, stop)?;
    let window = COUNTS * sheet.card().machine.least_length.mm();
    let say = format!("Stop `{}`, single block, only look: distance-to-go in Z, off the screen.", stop.name);
    let answer = sheet
        .answer(Question::of(&TO_GO).round(stop.round).say(say).expect(Window::around(to_go, window * 1.000_001)))?;
    stop_gate(sheet, "run.to-go", stop.name, answer, to_go)?;
    let say = format!("Stop `{}`: machine Z, off the screen.", stop.name);
    let answer = sheet.answer(
        Question::of(&MACHINE_Z).round(stop.round).say(say).expect(Window::around(machine, window * 1.000_001)),
    )?;
    stop_gate(sheet, "run.machine-z", stop.name, answer, machine)
}

fn stop_gate(sheet: &mut Worksheet<'_>, id: &'static str, name: &str, answer: &Entry, wanted: f64) -> Option<()> {
    let window = COUNTS * sheet.card().machine.least_length.mm();
    let (found, wanted_shown) = (sheet.at_least_increment(answer.number()), sheet.at_least_increment(wanted));
    sheet.gate(GateCheck {
        id,
        about: name.to_owned(),
        kind: GateKind::Stop,
        pass: (answer.number() - wanted).abs() <= window * 1.000_001,
        measured: Some(found.clone()),
        limit: Some(wanted_shown.clone()),
        says: (
            format!("As expected: {wanted_shown}."),
            format!("The screen shows {found}, expected {wanted_shown}. Stop here: a length, a lift or a register is wrong. Do not go on down."),
        ),
        rests_on: vec![answer.seq],
    })
}

fn at_the_cut(sheet: &mut Worksheet<'_>, surface: f64, target: f64, length: f64) -> Option<()> {
    expected(sheet, &Stop { round: 0, name: "cut", now: surface, target, length }).map(|_| ())
}

const MAY_BE_SLOWED: &str =
    "May be slowed: rapids, the approach to the clearance plane, turns of the rotary, retracts, the air pass.";
const MUST_NOT_BE_SLOWED: &str = "Must NOT be slowed in the cut: drilling, the re-entry of a peck, the finish pass of a bore, tapping (its feed is locked to the spindle). Never dwell at the bottom.";
const AFTER_A_HOLD: &str = "Feed hold and stop are always right. After a feed hold in the cut: retract with the spindle turning, look at edge and hole with it stopped, go in again at full feed.";

/// Both dials before the first cut, against the floor of the first tool.
pub(super) fn dials(sheet: &mut Worksheet<'_>, floors: &[Floor]) -> Option<()> {
    sheet.cautions_here(&[MAY_BE_SLOWED, MUST_NOT_BE_SLOWED, AFTER_A_HOLD]);
    let tool = first_feature(sheet)?.tool;
    let floor = floors.iter().find(|floor| floor.tool == tool)?;
    let step = sheet.reckon(
        "feed-dial-step",
        "dial-step",
        json!({"limit": floor.percent, "dial_steps": sheet.card().machine.feed_dial_percent, "rule": "at-least"}),
    )?;
    let lowest = step.value("dial_step").unwrap_or(floor.percent);
    let say = format!("Feed override for the first cut: {lowest} % or more. What does the dial stand at?");
    let feed = sheet.answer(Question::of(&FEED_DIAL).say(say).expect(Window { low: 0.0, high: 200.0 }))?;
    let spindle = sheet.answer(Question::of(&SPINDLE_DIAL).expect(Window { low: 1.0, high: 200.0 }))?;
    let outputs = sheet.reckon(
        "actual-feed",
        "feed-per-rev-from-dials",
        json!({"feed_per_rev": floor.feed, "feed_dial": feed.number(), "spindle_dial": spindle.number()}),
    )?;
    let actual = outputs.value("actual_feed_per_rev")?;
    sheet.finding("run.actual-feed", "real feed", shown(actual, "mm/rev", 0.001), &outputs);
    let share = 100.0 * actual / floor.feed;
    sheet.gate(GateCheck {
        id: "run.feed-floor",
        about: format!("t{tool}"),
        kind: GateKind::Ask,
        pass: share >= floor.percent,
        measured: Some(shown(share, "%", 0.1)),
        limit: Some(shown(floor.percent, "%", 0.1)),
        says: (
            "The chip is thick enough to cut.".to_owned(),
            format!(
                "With both dials the chip is {share:.0} % of the programmed one, the floor is {:.0} %: it would rub and harden the skin. Turn the feed up to {lowest} % with the spindle at 100 %. (The constants of the floor are handbook figures.)",
                floor.percent
            ),
        ),
        rests_on: vec![feed.seq, spindle.seq],
    })
}

/// The first cut looked at, and the overrides brought up.
pub(super) fn first_cut(sheet: &mut Worksheet<'_>) -> Option<()> {
    sheet.cautions_here(&[
        "Coolant can spray and slip on the floor. Stop at squeal, blue chips or smoke. Don't reach in to clear a chip.",
        "Let the spindle stop before reaching in.",
    ]);
    sheet.tick(Question::of(&CUT_LOOKED), "Do not go on: find out why, change the tool, look at the hole.")?;
    sheet.tick(
        Question::of(&CUT_UNBROKEN),
        "Retract with the spindle turning. Spindle stopped: look at edge and hole. A dull edge is changed; then in again at full feed, through the hardened skin.",
    )?;
    sheet.tick(Question::of(&DIALS_UP), "Bring the overrides up one stage at a time, never below the floor.")
}
