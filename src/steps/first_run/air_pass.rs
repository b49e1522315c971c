//! The dry turn and the air pass: every index by hand dial, then the program lifted by a known height over numbered
//! marker dots, and the lift proven to be out again (R2 to R5, shop-sense 2, 3, 5; mistakes 3, 8, 9, 30).

use serde_json::json;

use crate::checklist::{Entry, GateCheck, GateKind, Outputs, Question, Worksheet};
use crate::job::{Depth, DrawnDirection};
use crate::steps::first_run::{
    AIR_DOTS, AIR_LIFT, COMMON_SHIFT, DOTS_SEEN, DRY_TURN, LOWERED_MACHINE_Z, LOWERED_WORK_Z, LOWERED_Z, TURN_WAY,
    register_z,
};

/// Every index turned by hand dial with the tool up, the hoses watched.
pub(super) fn dry_turn(sheet: &mut Worksheet<'_>) -> Option<()> {
    sheet.cautions_here(&[
        "Hands clear when the rotary turns; it can start faster than you expect. Tell anyone near.",
        "Door shut. Do not defeat the door switch to see better.",
    ]);
    let handed = sheet.at().handed;
    let features = &sheet.card().features;
    let angles: Option<Vec<f64>> =
        features.iter().map(|feature| handed.number_about(Some(1), "index.a-program", &feature.id)).collect();
    let angles = angles?;
    let way = if sheet.card().depth > Depth::Quick {
        sheet.answer(Question::of(&TURN_WAY))?.word().to_owned()
    } else {
        "shortest".to_owned()
    };
    let outputs = sheet.reckon("index-turns", "index-turns", json!({"angles": angles, "way": way}))?;
    let wound = sheet.angle(outputs.value("wound_up")?);
    sheet.finding("run.wound-up", "hoses wound up by at most", wound.clone(), &outputs);
    let either = outputs.value("half_turns").unwrap_or(0.0);
    let mut said = String::new();
    for (angle, turn) in angles.iter().zip(outputs.values("turns")) {
        let sign = if turn < 0.0 { "" } else { "+" };
        said.push_str(&format!(" A{} ({sign}{}),", trimmed(*angle), trimmed(turn)));
    }
    let half = if either > 0.0 { " Half a turn may go either way: look which." } else { "" };
    let say = format!(
        "Tool up, nobody near: turn to every index by hand dial:{said} hoses wound up by {wound} at most.{half} Does each turn go that way, hoses and door free all the way?"
    );
    sheet.tick(
        Question::of(&DRY_TURN).say(say),
        "Do not run it: lay the hoses anew, or add an A word in between so that the turn goes the way it should.",
    )
}

fn trimmed(degrees: f64) -> String {
    let text = format!("{degrees:.3}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// The air pass: lifted in the claimed register only, watched, and the lift proven to be out again.
pub(super) fn air_pass(sheet: &mut Worksheet<'_>, length: f64) -> Option<()> {
    sheet.cautions_here(&[
        "One hand on feed-hold, the other off the work. Stand aside of the plane of the tool.",
        "A person cannot stop a rapid move in a few millimetres. Feed hold and stop are never gated by this workbook.",
    ]);
    let (z, lift) = (register_z(sheet)?, sheet.card().first_run.air_lift.mm());
    lifted(sheet, z, lift)?;
    sheet.tick(
        Question::of(&AIR_DOTS),
        "Stop. The tool must be up before every turn and nothing may come near: find it before a chip flies.",
    )?;
    dots(sheet)?;
    lowered(sheet, z)?;
    if sheet.card().depth > Depth::Quick { identity(sheet, z, length) } else { Some(()) }
}

fn lifted(sheet: &mut Worksheet<'_>, z: f64, lift: f64) -> Option<()> {
    let outputs = sheet.reckon("air-lift", "lifted-register", json!({"register_z": z, "lift": lift}))?;
    let lifted = outputs.value("lifted_z")?;
    let (name, target) = (&sheet.card().register.name, sheet.at_least_increment(lifted));
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
    z_gate(sheet, "run.lifted", answer, lifted, "The air pass would not be lifted by what was meant.")
}

/// The numbered dots as they were seen, against the order that the drawing predicts.
fn dots(sheet: &mut Worksheet<'_>) -> Option<()> {
    let angles: Vec<f64> = sheet
        .card()
        .features
        .iter()
        .map(|feature| {
            let sense = if feature.drawn_direction == DrawnDirection::CounterClockwise { 1.0 } else { -1.0 };
            sense * feature.drawing_angle_deg
        })
        .collect();
    let outputs = sheet.reckon("marker-dots", "marker-dots", json!({"drawing_angles": angles}))?;
    let answer = sheet.answer(Question::of(&DOTS_SEEN))?;
    let seen = numbers_in(answer.word());
    let pass = seen == outputs.values("order");
    let expected = in_words(&outputs, "order");
    sheet.gate(GateCheck {
        id: "run.dots",
        about: String::new(),
        kind: GateKind::Stop,
        pass,
        measured: None,
        limit: None,
        says: (
            format!("The dots came up as the drawing has them: {expected}."),
            format!(
                "The dots came up as {}, the drawing wants {expected}. {} Do not cut.",
                answer.word(),
                why_another_order(&outputs, &seen)
            ),
        ),
        rests_on: vec![answer.seq],
    })
}

/// Reads the numbers typed, whatever stands between them.
fn numbers_in(text: &str) -> Vec<f64> {
    text.split(|letter: char| !letter.is_ascii_digit()).filter_map(|word| word.parse::<f64>().ok()).collect()
}

fn in_words(outputs: &Outputs, key: &str) -> String {
    outputs.values(key).iter().map(f64::to_string).collect::<Vec<_>>().join(" ")
}

fn why_another_order(outputs: &Outputs, seen: &[f64]) -> &'static str {
    if seen == outputs.values("mirrored") {
        "The pattern is MIRRORED: angles read from the wrong side of the drawing, or turning sense and facing not both changed."
    } else if seen == outputs.values("turned") {
        "The part sits turned HALF ROUND, or the zero is half a turn off."
    } else {
        "Another order of work, a wrong drawing angle, the wrong pads levelled, or dots set by the program in place of the drawing."
    }
}

fn lowered(sheet: &mut Worksheet<'_>, z: f64) -> Option<()> {
    let (name, target) = (&sheet.card().register.name, sheet.at_least_increment(z));
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

/// What is live is proven by what the screen shows, not by the register page alone (D12).
fn identity(sheet: &mut Worksheet<'_>, z: f64, length: f64) -> Option<()> {
    let shift = sheet.answer(Question::of(&COMMON_SHIFT))?;
    let machine = sheet.answer(Question::of(&LOWERED_MACHINE_Z))?;
    let work = sheet.answer(Question::of(&LOWERED_WORK_Z))?;
    let card = sheet.card();
    let tool = if card.machine.display_includes_length { length } else { 0.0 };
    let outputs = sheet.reckon(
        "lift-out",
        "coordinate-identity",
        json!({
            "machine_position": machine.number(), "displayed_position": work.number(), "register_value": z,
            "common_shift": 0.0, "tool_length": tool,
        }),
    )?;
    let residual = outputs.value("residual")?;
    let shown = sheet.fine(residual);
    sheet.finding("run.lift-out", "identity on Z after the air pass", shown.clone(), &outputs);
    let least = card.machine.least_length.mm() * 1.000_001;
    let why = why_not_out(sheet, residual, shift.number());
    sheet.gate(GateCheck {
        id: "run.lift-out",
        about: String::new(),
        kind: GateKind::Stop,
        pass: residual.abs() <= least && shift.number().abs() <= least,
        measured: Some(shown),
        limit: Some(sheet.fine(card.machine.least_length.mm())),
        says: ("Machine and display prove that the lift is out and the common shift is zero.".to_owned(), why),
        rests_on: vec![shift.seq, machine.seq, work.seq],
    })
}

fn why_not_out(sheet: &Worksheet<'_>, residual: f64, shift: f64) -> String {
    let card = sheet.card();
    let (least, lift) = (card.machine.least_length.mm() * 2.0, card.first_run.air_lift.mm());
    let left = sheet.fine(residual);
    if shift.abs() > least {
        let shift = sheet.fine(shift);
        return format!(
            "The common shift holds {shift}: everything is displaced by it, other jobs too. Find out whose it is, set it to zero, read again."
        );
    }
    if (residual - lift).abs() <= least {
        return "Z is still up by the lift: the register page was changed, but the old value is still live. Call the register again, read again.".to_owned();
    }
    if (residual + lift).abs() <= least {
        return "Z is too LOW by the lift: it was taken out twice. The tool would plunge. Put the register back, read again.".to_owned();
    }
    format!(
        "Machine, display, register and length do not add up on Z ({left} left): do not go on down before it is found."
    )
}
