//! Proving the run: read-back, air pass, rapid ceiling, staged approach, dials (R1 to R7, D19, shop-sense 1 to 5, 13).

use serde_json::json;

use crate::checklist::{Entry, GateCheck, GateKind, Question, Window, Worksheet, shown};
use crate::job::{CardUnit, Feature};
use crate::steps::first_run::cutting::Floor;
use crate::steps::first_run::{
    AIR_DOTS, AIR_LIFT, BRAKE_ON, CUT_LOOKED, DIALS_UP, DISTANCE_MODE, DOOR, FEED_DIAL, LAST_APPROACH, LENGTH_CALL,
    LOWERED_Z, MACHINE_Z, RAPID_DIAL, REGISTER_CALL, SPINDLE_DIAL, TO_GO, TOOL_CALL, TOOL_LENGTH, UNIT_MODE,
};

fn first_feature<'a>(sheet: &Worksheet<'a>) -> Option<&'a Feature> {
    sheet.card().features.first()
}

/// Reads the modes back: each typed from the screen.
pub(super) fn read_back(sheet: &mut Worksheet<'_>) -> Option<()> {
    let card = sheet.card();
    let tool = first_feature(sheet)?.tool;
    let unit = if card.unit == CardUnit::Inch { "g20" } else { "g21" };
    let register = card.register.name.to_lowercase();
    let answer = sheet.answer(Question::of(&UNIT_MODE))?;
    word_gate(
        sheet,
        "unit mode",
        answer,
        unit,
        "The control takes inches for millimetres or the other way: every move would be 25.4 times wrong.",
    )?;
    let answer = sheet.answer(Question::of(&DISTANCE_MODE))?;
    word_gate(
        sheet,
        "distance mode",
        answer,
        "g90",
        "Incremental mode was left on: every move would start from the last.",
    )?;
    let answer = sheet.answer(Question::of(&REGISTER_CALL))?;
    word_gate(
        sheet,
        "register",
        answer,
        &register,
        "The program calls another register than the one this setup was written into.",
    )?;
    let answer = sheet.answer(Question::of(&TOOL_CALL))?;
    count_gate(sheet, "tool", answer, tool, "Another tool is in the spindle than the first feature needs.")?;
    let answer = sheet.answer(Question::of(&LENGTH_CALL))?;
    count_gate(
        sheet,
        "length call",
        answer,
        tool,
        "The length of another tool is called: the tip would be too high or plunge.",
    )?;
    sheet.tick(Question::of(&BRAKE_ON), "Put the brake on and single block on first.")?;
    sheet.tick(Question::of(&DOOR), "Shut the door, clear the room, coolant ready.")
}

fn word_gate(sheet: &mut Worksheet<'_>, what: &str, answer: &Entry, wanted: &str, danger: &str) -> Option<()> {
    let found = answer.word().to_owned();
    read_back_gate(sheet, what, (&found, wanted), danger, answer.seq)
}

fn count_gate(sheet: &mut Worksheet<'_>, what: &str, answer: &Entry, wanted: u32, danger: &str) -> Option<()> {
    let found = answer.value.to_string();
    read_back_gate(sheet, what, (&found, &wanted.to_string()), danger, answer.seq)
}

fn read_back_gate(
    sheet: &mut Worksheet<'_>,
    what: &str,
    (found, wanted): (&str, &str),
    danger: &str,
    seq: u64,
) -> Option<()> {
    sheet.gate(GateCheck {
        id: "run.read-back",
        about: what.to_owned(),
        kind: GateKind::Stop,
        pass: found == wanted,
        measured: None,
        limit: None,
        says: (
            format!("The {what} is {}.", wanted.to_uppercase()),
            format!(
                "The {what} is {}, this job needs {}. {danger} Put it right, cross this out, read it back again.",
                found.to_uppercase(),
                wanted.to_uppercase()
            ),
        ),
        rests_on: vec![seq],
    })
}

/// A stored length may differ from the card by this much before it counts as another tool, millimetres.
const LENGTH_WINDOW_MM: f64 = 0.5;

/// Reads the stored tool length back and compares it with the card's.
pub(super) fn tool_length(sheet: &mut Worksheet<'_>) -> Option<f64> {
    let number = first_feature(sheet)?.tool;
    let tool = sheet.card().tools.iter().find(|tool| tool.number == number)?;
    let on_card = tool.length.mm();
    let say = format!("Stored length of tool {number} ({}), off the screen.", tool.name);
    let answer = sheet.answer(Question::of(&TOOL_LENGTH).say(say).expect(Window::around(on_card, LENGTH_WINDOW_MM)))?;
    let off = (answer.number() - on_card).abs();
    sheet.gate(GateCheck {
        id: "run.tool-length",
        about: String::new(),
        kind: GateKind::Stop,
        pass: off <= LENGTH_WINDOW_MM,
        measured: Some(sheet.at_least_increment(answer.number())),
        limit: Some(sheet.at_least_increment(on_card)),
        says: (
            "The stored length is the card's.".to_owned(),
            "The stored length is not the card's: a stale length, or another tool. Measure the tool again on its setter.".to_owned(),
        ),
        rests_on: vec![answer.seq],
    })?;
    Some(answer.number())
}

fn register_z(sheet: &Worksheet<'_>) -> Option<f64> {
    sheet.at().handed.number_of(Some(1), "capture.z")
}

/// The air pass: lifted in the claimed register only, watched, and the lift proven to be out again.
pub(super) fn air_pass(sheet: &mut Worksheet<'_>) -> Option<()> {
    let card = sheet.card();
    let (z, lift) = (register_z(sheet)?, card.first_run.air_lift.mm());
    let outputs = sheet.reckon("air-lift", "lifted-register", json!({"register_z": z, "lift": lift}))?;
    let lifted = outputs.value("lifted_z")?;
    let (name, target) = (&card.register.name, sheet.at_least_increment(lifted));
    sheet.set(
        "Z register",
        target.clone(),
        None,
        format!("air pass: lift {name} by {}", sheet.at_least_increment(lift)),
    );
    let say =
        format!("Air pass: raise Z of {name} to {target} (never the common shift). Z of {name} now, off the screen.");
    let answer = sheet.answer(Question::of(&AIR_LIFT).say(say))?;
    sheet.moved();
    z_gate(sheet, "run.lifted", answer, lifted, "The air pass would not be lifted by what was meant.")?;
    sheet.tick(Question::of(&AIR_DOTS), "Stop. The order or the side is wrong: sense, facing or a drawing angle is mirrored. Find it before a chip flies.")?;
    let target = sheet.at_least_increment(z);
    sheet.set("Z register", target.clone(), None, format!("take the lift out of {name} again"));
    let say = format!("Take the lift out: Z of {name} back to {target}. Z of {name} now, off the screen.");
    let answer = sheet.answer(Question::of(&LOWERED_Z).say(say))?;
    sheet.moved();
    z_gate(
        sheet,
        "run.lowered",
        answer,
        z,
        "The lift is not out again, or too much was taken out: an air cut or a plunge.",
    )
}

fn z_gate(sheet: &mut Worksheet<'_>, id: &'static str, answer: &Entry, wanted: f64, danger: &str) -> Option<()> {
    let least = sheet.card().machine.least_length.mm();
    let (found, wanted_shown) = (sheet.at_least_increment(answer.number()), sheet.at_least_increment(wanted));
    sheet.gate(GateCheck {
        id,
        about: String::new(),
        kind: GateKind::Stop,
        pass: (answer.number() - wanted).abs() <= least * 1.000_001,
        measured: Some(found.clone()),
        limit: Some(wanted_shown.clone()),
        says: (
            format!("Z of the register is {wanted_shown}."),
            format!("Z of the register is {found} and should be {wanted_shown}. {danger}"),
        ),
        rests_on: vec![answer.seq],
    })
}

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

/// Both dials before the first cut, against the floor of the first tool.
pub(super) fn dials(sheet: &mut Worksheet<'_>, floors: &[Floor]) -> Option<()> {
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
    sheet.caution("Coolant can spray. Stop at squeal, blue chips or smoke. Do not reach in to clear a chip.");
    sheet.tick(Question::of(&CUT_LOOKED), "Do not go on: find out why, change the tool, look at the hole.")?;
    sheet.tick(Question::of(&DIALS_UP), "Bring the overrides up one stage at a time, never below the floor.")
}
