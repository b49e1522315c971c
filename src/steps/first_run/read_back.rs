//! Reading back, each from the screen and never from paper: modes, register, tool, lengths, and the words of the
//! program that a crash would come from (R1, mistakes 6, 10, 18, 37, 51).

use serde_json::json;

use crate::checklist::{Entry, GateCheck, GateKind, Question, Window, Worksheet};
use crate::job::{CardUnit, Depth, Tool};
use crate::steps::first_run::{
    BRAKE_ON, DISTANCE_MODE, DOOR, FIRST_A, LENGTH_CALL, MODES_OFF, PLANE, REGISTER_CALL, TOOL_CALL, TOOL_DIAMETER,
    TOOL_LENGTH, UNIT_MODE, Z_BEFORE_TURN, first_feature,
};

/// Reads modes, register, tool and the words of the program back.
pub(super) fn read_back(sheet: &mut Worksheet<'_>) -> Option<()> {
    sheet.cautions_here(&[
        "Door shut. Do not defeat the door switch to see better.",
        "Drills and cutters cut when standing still. Carry in the holder. Let the spindle stop before reaching in.",
    ]);
    modes(sheet)?;
    calls(sheet)?;
    first_a(sheet)?;
    z_before_turn(sheet)?;
    sheet.tick(Question::of(&BRAKE_ON), "Put the brake on and single block on first.")?;
    sheet.tick(Question::of(&DOOR), "Shut the door, clear the room, coolant ready.")
}

fn modes(sheet: &mut Worksheet<'_>) -> Option<()> {
    let unit = if sheet.card().unit == CardUnit::Inch { "g20" } else { "g21" };
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
    let answer = sheet.answer(Question::of(&PLANE))?;
    word_gate(
        sheet,
        "plane",
        answer,
        "g17",
        "In another plane a drilling cycle runs along X or Y, and a circle stands upright.",
    )?;
    sheet.tick(
        Question::of(&MODES_OFF),
        "Switch mirror, scaling and rotation off: each would draw the whole pattern wrong.",
    )
}

fn calls(sheet: &mut Worksheet<'_>) -> Option<()> {
    let tool = first_feature(sheet)?.tool;
    let register = sheet.card().register.name.to_lowercase();
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
    )
}

/// The first A word against the index table.
fn first_a(sheet: &mut Worksheet<'_>) -> Option<()> {
    let feature = first_feature(sheet)?;
    let wanted = sheet.at().handed.number_about(Some(1), "index.a-program", &feature.id)?;
    let answer = sheet.answer(Question::of(&FIRST_A))?;
    let outputs = sheet.reckon(
        "first-a",
        "angle-identity",
        json!({"machine_angle": answer.number(), "displayed_angle": wanted, "register_angle": 0.0}),
    )?;
    let off = outputs.value("residual_angle")?.abs();
    let least = sheet.card().machine.least_angle_deg;
    let (found, wanted_shown) = (sheet.angle(answer.number()), sheet.angle(wanted));
    sheet.gate(GateCheck {
        id: "run.first-a",
        about: String::new(),
        kind: GateKind::Stop,
        pass: off <= least * 1.000_001,
        measured: Some(found.clone()),
        limit: Some(wanted_shown.clone()),
        says: (
            format!("The first A word is {wanted_shown}, as in the index table."),
            format!(
                "The first A word is {found}; {} stands at A {wanted_shown} in the index table. Mirrored sense, another order of work, or an old program: find out which before anything turns.",
                feature.name
            ),
        ),
        rests_on: vec![answer.seq],
    })
}

/// The tool must be above everything that swings whenever the rotary turns (D15).
fn z_before_turn(sheet: &mut Worksheet<'_>) -> Option<()> {
    let swing = sheet.at().handed.number("fit.swing")?;
    let margin = sheet.card().machine.swing_margin.mm();
    let inputs = json!({"swing_radius": swing, "margin": margin});
    let outputs = sheet.reckon("height-for-turn", "tip-height-for-turn", inputs)?;
    let least = outputs.value("least_height")?;
    let shown = sheet.at_least_increment(least);
    sheet.finding("run.z-before-turn", "tip at least this high before a turn", shown.clone(), &outputs);
    let answer = sheet.answer(Question::of(&Z_BEFORE_TURN))?;
    let found = sheet.at_least_increment(answer.number());
    sheet.gate(GateCheck {
        id: "run.z-before-turn",
        about: String::new(),
        kind: GateKind::Stop,
        pass: answer.number() >= least,
        measured: Some(found.clone()),
        limit: Some(shown.clone()),
        says: (
            format!("The tip is above everything that swings: {found} against {shown}."),
            format!(
                "The rotary would turn with the tip at Z {found}, inside the swing: at least {shown} is wanted (swing radius and margin, from the centreline). Put a retract before every A word, then read it back again."
            ),
        ),
        rests_on: vec![answer.seq],
    })
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

/// Reads length and diameter of every tool of the job back; returns the stored length of the first one.
pub(super) fn tools(sheet: &mut Worksheet<'_>) -> Option<f64> {
    let used = tools_used(sheet);
    for (round, tool) in (0_u32..).zip(&used) {
        tool_length(sheet, round, tool)?;
        if sheet.card().depth > Depth::Quick {
            tool_diameter(sheet, round, tool)?;
        }
    }
    sheet.standing(TOOL_LENGTH.id, 0).last().map(|entry| entry.number())
}

/// Lists the tools of the job in the order in which the features first need them.
fn tools_used<'a>(sheet: &Worksheet<'a>) -> Vec<&'a Tool> {
    let card = sheet.card();
    let mut used: Vec<&Tool> = Vec::new();
    for feature in &card.features {
        if let Some(tool) = card.tools.iter().find(|tool| tool.number == feature.tool)
            && used.iter().all(|other| other.number != tool.number)
        {
            used.push(tool);
        }
    }
    used
}

/// A stored length may differ from the card by this much before it counts as another tool, millimetres.
const LENGTH_WINDOW_MM: f64 = 0.5;

fn tool_length(sheet: &mut Worksheet<'_>, round: u32, tool: &Tool) -> Option<()> {
    let on_card = tool.length.mm();
    let say = format!("Stored length of tool {} ({}), off the screen.", tool.number, tool.name);
    let window = Window::around(on_card, LENGTH_WINDOW_MM);
    let answer = sheet.answer(Question::of(&TOOL_LENGTH).round(round).say(say).expect(window))?;
    let off = (answer.number() - on_card).abs();
    sheet.gate(GateCheck {
        id: "run.tool-length",
        about: if round == 0 { String::new() } else { format!("t{}", tool.number) },
        kind: GateKind::Stop,
        pass: off <= LENGTH_WINDOW_MM,
        measured: Some(sheet.at_least_increment(answer.number())),
        limit: Some(sheet.at_least_increment(on_card)),
        says: (
            "The stored length is the card's.".to_owned(),
            "The stored length is not the card's: a stale length, or another tool. Measure the tool again on its setter.".to_owned(),
        ),
        rests_on: vec![answer.seq],
    })
}

/// A diameter may differ from the card by this much before it counts as another tool, millimetres: half a step of the
/// tenths in which drills are sold.
const DIAMETER_WINDOW_MM: f64 = 0.05;

fn tool_diameter(sheet: &mut Worksheet<'_>, round: u32, tool: &Tool) -> Option<()> {
    let on_card = tool.diameter.mm();
    let say = format!(
        "Tool {} ({}) at the bench, out of the spindle: diameter over the lips by calliper or micrometer.",
        tool.number, tool.name
    );
    let window = Window::around(on_card, DIAMETER_WINDOW_MM);
    let answer = sheet.answer(Question::of(&TOOL_DIAMETER).round(round).say(say).expect(window))?;
    sheet.gate(GateCheck {
        id: "run.tool-diameter",
        about: format!("t{}", tool.number),
        kind: GateKind::Stop,
        pass: (answer.number() - on_card).abs() <= DIAMETER_WINDOW_MM,
        measured: Some(sheet.at_least_increment(answer.number())),
        limit: Some(sheet.at_least_increment(on_card)),
        says: (
            format!("Tool {} has the diameter on the card.", tool.number),
            format!(
                "That is not tool {}: another tool stands in its pocket. Find it, and look what else was changed.",
                tool.number
            ),
        ),
        rests_on: vec![answer.seq],
    })
}
