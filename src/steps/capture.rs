//! Capture of the zero: the register before and after, machine against display, and the coordinate identity on every
//! axis (T5, T6, D12). What the control shows is typed from the screen, never copied from here.

mod return_touch;

use serde_json::{Value, json};

use crate::checklist::{AskKind, AskSpec, GateCheck, GateKind, Question, RegisterLine, Window, Worksheet};
use crate::job::{CardUnit, WorkTurns, register_number};
use crate::steps::rotary_tram::tries::Level;
use crate::steps::voids::{REGISTERS, ZERO};

pub(super) use return_touch::RETURN_X;

pub(super) static REGISTERS_BEFORE: AskSpec = AskSpec::new(
    "capture.registers-before",
    AskKind::Registers,
    "Read every register in use off the screen BEFORE writing, the claimed one too.",
    REGISTERS,
);
pub(super) static MACHINE_A: AskSpec = AskSpec::new(
    "capture.machine-a",
    AskKind::Angle,
    "MACHINE A at the level position, read off the machine page.",
    ZERO,
);
pub(super) static DISPLAYED_A: AskSpec = AskSpec::new(
    "capture.displayed-a",
    AskKind::Angle,
    "DISPLAYED (work) A at the same place, before anything is written.",
    ZERO,
);
pub(super) static LIVE_A: AskSpec =
    AskSpec::new("capture.live-a", AskKind::Angle, "A value of the register that is live while you read this.", ZERO);
pub(super) static REGISTERS_AFTER: AskSpec = AskSpec::new(
    "capture.registers-after",
    AskKind::Registers,
    "Written? Make the claimed register live and read its X Y Z A back off the screen.",
    REGISTERS,
);
pub(super) static OTHERS_UNCHANGED: AskSpec = AskSpec::new(
    "capture.others-unchanged",
    AskKind::YesNo,
    "Looked at every other register: are they all unchanged?",
    REGISTERS,
);
pub(super) static TOOL_LENGTH: AskSpec = AskSpec::new(
    "capture.tool-length",
    AskKind::Length,
    "Length of the tool that is in, with length compensation on (0 when it is off), off the screen.",
    REGISTERS,
);
pub(super) static COMMON_SHIFT: AskSpec = AskSpec::new(
    "capture.common-shift",
    AskKind::Length,
    "The shift common to all registers, in Z. It should be 0: what does the screen show?",
    REGISTERS,
);
pub(super) static MACHINE_X: AskSpec = AskSpec::new("capture.machine-x", AskKind::Length, "Machine X now.", REGISTERS);
pub(super) static WORK_X: AskSpec = AskSpec::new("capture.work-x", AskKind::Length, "Work X now.", REGISTERS);
pub(super) static MACHINE_Y: AskSpec = AskSpec::new("capture.machine-y", AskKind::Length, "Machine Y now.", REGISTERS);
pub(super) static WORK_Y: AskSpec = AskSpec::new("capture.work-y", AskKind::Length, "Work Y now.", REGISTERS);
pub(super) static MACHINE_Z: AskSpec = AskSpec::new("capture.machine-z", AskKind::Length, "Machine Z now.", REGISTERS);
pub(super) static WORK_Z: AskSpec = AskSpec::new("capture.work-z", AskKind::Length, "Work Z now.", REGISTERS);
pub(super) static WORK_A: AskSpec = AskSpec::new(
    "capture.work-a",
    AskKind::Angle,
    "Displayed (work) A now, after writing, at the level position.",
    REGISTERS,
);

/// The zero as it was written.
pub(super) struct Captured {
    /// X, Y, Z of the register, millimetres.
    pub(super) register: [f64; 3],
    /// A of the register, degrees.
    pub(super) register_a: f64,
}

/// Captures the zero: everything on the first piece, A alone on later ones.
pub(super) fn capture(sheet: &mut Worksheet<'_>, _turns: WorkTurns, level: &Level) -> Option<Captured> {
    let first_piece = sheet.at().piece.is_none_or(|piece| piece == 1);
    let before = if first_piece { registers_before(sheet)?.to_vec() } else { Vec::new() };
    let to_write = zero_angle(sheet, level, first_piece)?;
    let register = register_values(sheet, first_piece)?;
    show_what_to_write(sheet, &register, to_write, first_piece);
    if first_piece {
        read_back(sheet, &register, to_write, &before)?;
    }
    sheet.tick(
        Question::of(&OTHERS_UNCHANGED),
        "Put back what changed, from the list read before, and tell whose register it is.",
    )?;
    shows_zero(sheet, to_write)?;
    if first_piece {
        identity(sheet, &register, &before)?;
        return_touch::return_touch(sheet)?;
    }
    sheet.moved();
    sheet.hand("tram.a", to_write, Some(sheet.card().machine.rotary_repeat_deg));
    mean_of_pieces(sheet, to_write)?;
    Some(Captured { register, register_a: to_write })
}

fn registers_before<'a>(sheet: &mut Worksheet<'a>) -> Option<&'a [RegisterLine]> {
    let claim = &sheet.card().register;
    let say = format!(
        "Read every register in use off the screen BEFORE writing, {} too. Type them as: {} X0 Y0 Z0 A0; G54 X.. Y.. Z.. A..",
        claim.name, claim.name
    );
    let entry = sheet.answer(Question::of(&REGISTERS_BEFORE).say(say))?;
    let lines = entry.registers();
    let claimed = lines.iter().find(|line| line.name == claim.name);
    let is_empty =
        claimed.is_some_and(|line| line.axes.iter().all(|(_, quantity)| quantity.base_value().abs() < 1e-12));
    let fails = match claimed {
        None => format!("{} itself was not read: cross out and read it as well.", claim.name),
        Some(_) => format!(
            "{} is not empty: it may belong to somebody else's job. Find out whose it is; go on only if it is yours.",
            claim.name
        ),
    };
    sheet.gate(GateCheck {
        id: "capture.register-free",
        about: String::new(),
        kind: if claimed.is_some() { GateKind::Ask } else { GateKind::Stop },
        pass: is_empty,
        measured: None,
        limit: None,
        says: (format!("{} is empty: it may be written.", claim.name), fails),
        rests_on: vec![entry.seq],
    })?;
    Some(lines)
}

/// Works out the A to write, and catches the displayed angle typed for the machine angle.
fn zero_angle(sheet: &mut Worksheet<'_>, level: &Level, first_piece: bool) -> Option<f64> {
    let least = sheet.card().machine.least_angle_deg;
    let question = Question::of(&MACHINE_A).expect(Window::around(level.last.machine_a, 2.0 * least));
    let machine = sheet.answer(question)?;
    if first_piece {
        machine_not_displayed(sheet, machine.number(), machine.seq)?;
    }
    let live = sheet.standing(LIVE_A.id, 0).last().map_or(0.0, |entry| entry.number());
    let outputs =
        sheet.reckon("zero", "a-zero-register", json!({"machine_angle": machine.number(), "active_register": live}))?;
    let to_write = outputs.value("register_to_write")?;
    let shown = sheet.angle(to_write);
    sheet.finding("tram.a", "A for the register", shown, &outputs);
    clocking_window(sheet, to_write, machine.seq)?;
    Some(to_write)
}

fn machine_not_displayed(sheet: &mut Worksheet<'_>, machine: f64, seq: u64) -> Option<()> {
    let displayed = sheet.answer(Question::of(&DISPLAYED_A))?;
    let live = sheet.answer(Question::of(&LIVE_A))?;
    let outputs = sheet.reckon(
        "machine-against-display",
        "angle-identity",
        json!({"machine_angle": machine, "displayed_angle": displayed.number(), "register_angle": live.number()}),
    )?;
    let residual = outputs.value("residual_angle")?;
    let least = sheet.card().machine.least_angle_deg;
    let is_old_register = (residual.abs() - live.number().abs()).abs() <= least && live.number().abs() > least;
    let hint = if is_old_register {
        "The difference is the live register itself: the DISPLAYED angle was typed for the machine angle. Every hole would be wrong by it. Read the machine page."
    } else {
        "Machine, display and register do not belong together: another register is live, or one of the three was misread."
    };
    sheet.gate(GateCheck {
        id: "capture.machine-not-displayed",
        about: String::new(),
        kind: GateKind::Stop,
        pass: residual.abs() <= least * 1.000_001,
        measured: Some(sheet.angle(residual)),
        limit: Some(sheet.angle(least)),
        says: ("Machine A, displayed A and the live register agree.".to_owned(), hint.to_owned()),
        rests_on: vec![seq, displayed.seq, live.seq],
    })
}

/// Checks that a later piece's A lies near the first one's, counted round the circle.
fn clocking_window(sheet: &mut Worksheet<'_>, to_write: f64, seq: u64) -> Option<()> {
    let Some(first) =
        sheet.at().piece.filter(|piece| *piece > 1).and_then(|_| sheet.at().handed.number_of(Some(1), "tram.a"))
    else {
        return Some(());
    };
    let outputs = sheet.reckon(
        "against-first-piece",
        "angle-identity",
        json!({"machine_angle": to_write, "displayed_angle": 0.0, "register_angle": first}),
    )?;
    let off = outputs.value("residual_angle")?.abs();
    let window = sheet.card().fixture.clocking_window_deg;
    sheet.gate(GateCheck {
        id: "tram.level",
        about: "against-first-piece".to_owned(),
        kind: GateKind::Ask,
        pass: off <= window,
        measured: Some(sheet.angle(off)),
        limit: Some(sheet.angle(window)),
        says: (
            "A lies near the first piece's, as hand clocking lets it.".to_owned(),
            "A is far from the first piece's: the wrong hole up, or the wrong pads?".to_owned(),
        ),
        rests_on: vec![seq],
    })
}

/// Returns X, Y, Z for the register, rounded to the machine's least increment.
fn register_values(sheet: &mut Worksheet<'_>, first_piece: bool) -> Option<[f64; 3]> {
    let handed = sheet.at().handed;
    if !first_piece {
        return Some([
            handed.number_of(Some(1), "capture.x")?,
            handed.number_of(Some(1), "capture.y")?,
            handed.number_of(Some(1), "capture.z")?,
        ]);
    }
    let exact = [handed.number("pickup.x")?, handed.number("pickup.y")?, handed.number("pickup.z")?];
    let mut written = [0.0; 3];
    for ((slot, value), (axis, id)) in
        written.iter_mut().zip(exact).zip([("x", "capture.x"), ("y", "capture.y"), ("z", "capture.z")])
    {
        *slot = rounded(sheet, axis, value)?;
        sheet.hand(id, *slot, None);
    }
    Some(written)
}

fn rounded(sheet: &mut Worksheet<'_>, axis: &str, value: f64) -> Option<f64> {
    let least = sheet.card().machine.least_length.mm();
    let inputs = json!({"value": value, "least_increment": least});
    sheet.reckon(&format!("rounded/{axis}"), "nearest-increment", inputs)?.value("rounded")
}

fn show_what_to_write(sheet: &mut Worksheet<'_>, register: &[f64; 3], a: f64, first_piece: bool) {
    let name = &sheet.card().register.name;
    let says = if first_piece {
        let [x, y, z] = register.map(|value| sheet.at_least_increment(value).to_string());
        let line = program_line(sheet, register, a);
        format!("write into {name}: X {x}, Y {y}, Z {z}, A {}.{line}", sheet.angle(a))
    } else {
        format!("write into {name}: A {} only; X, Y, Z stay", sheet.angle(a))
    };
    let shown = sheet.angle(a);
    sheet.put_picture_away();
    sheet.set("A register", shown, None, says);
}

/// Writes the same as a line of RS-274, for those who would rather run it than type four numbers.
fn program_line(sheet: &Worksheet<'_>, register: &[f64; 3], a: f64) -> String {
    let card = sheet.card();
    let Some(number) = register_number(&card.register.name) else { return String::new() };
    let bare = |shown: String| shown.split_whitespace().next().unwrap_or_default().to_owned();
    let [x, y, z] = register.map(|value| bare(sheet.at_least_increment(value).to_string()));
    let unit = if card.unit == CardUnit::Inch { "G20" } else { "G21" };
    format!(
        " As a program line: {unit} G90 G10 L2 P{number} X{x} Y{y} Z{z} A{}. A line that ran proves nothing: read the register back.",
        bare(sheet.angle(a).to_string())
    )
}

fn read_back(sheet: &mut Worksheet<'_>, register: &[f64; 3], a: f64, before: &[RegisterLine]) -> Option<()> {
    let card = sheet.card();
    let name = card.register.name.clone();
    let say = format!(
        "Written? Make {name} live and read its X Y Z A back off the screen. Type it as: {name} X.. Y.. Z.. A.."
    );
    let entry = sheet.answer(Question::of(&REGISTERS_AFTER).say(say))?;
    let line = entry.registers().iter().find(|line| line.name == name);
    let least = card.machine.least_length.mm() * 1.000_001;
    let mut wrong = Vec::new();
    for (letter, wanted) in ['X', 'Y', 'Z'].into_iter().zip(register) {
        match line.and_then(|line| line.axis(letter)) {
            Some(found) if (found - wanted).abs() <= least => {}
            Some(found) => wrong.push(format!("{letter} holds {}", sheet.at_least_increment(found))),
            None => wrong.push(format!("{letter} was not read")),
        }
    }
    match line.and_then(|line| line.axis('A')) {
        Some(found) if round_the_circle(found - a).abs() <= card.machine.least_angle_deg * 1.000_001 => {}
        Some(found) => wrong.push(format!("A holds {}", sheet.angle(found))),
        None => wrong.push("A was not read".to_owned()),
    }
    sheet.gate(GateCheck {
        id: "capture.written",
        about: String::new(),
        kind: GateKind::Stop,
        pass: wrong.is_empty(),
        measured: None,
        limit: None,
        says: (
            format!("{name} holds what was to be written."),
            format!(
                "{name} does not hold what was to be written: {}. Write it again, read it back again.",
                wrong.join(", ")
            ),
        ),
        rests_on: vec![entry.seq],
    })?;
    others_unchanged(sheet, before, entry.registers(), entry.seq)
}

/// Holds every other register that was read back against the list read before.
fn others_unchanged(
    sheet: &mut Worksheet<'_>,
    before: &[RegisterLine],
    after: &[RegisterLine],
    seq: u64,
) -> Option<()> {
    let claim = &sheet.card().register;
    let mut changed = Vec::new();
    for line in after.iter().filter(|line| line.name != claim.name) {
        let Some(then) = before.iter().find(|then| then.name == line.name) else { continue };
        for (letter, now) in &line.axes {
            let differs = then.axis(*letter).is_some_and(|was| (was - now.base_value()).abs() > 1e-9);
            if differs {
                let whose = if claim.protected.contains(&line.name) { " (it belongs to another job)" } else { "" };
                changed.push(format!("{letter} of {}{whose} was {}", line.name, was_text(then, *letter)));
            }
        }
    }
    sheet.gate(GateCheck {
        id: "capture.others-unchanged",
        about: String::new(),
        kind: GateKind::Stop,
        pass: changed.is_empty(),
        measured: None,
        limit: None,
        says: (
            "No other register that was read back has changed.".to_owned(),
            format!("Another register has changed: {}. Put it back as it was, then read again.", changed.join(", ")),
        ),
        rests_on: vec![seq],
    })
}

fn was_text(line: &RegisterLine, letter: char) -> String {
    line.axes.iter().find(|(axis, _)| *axis == letter).map_or_else(String::new, |(_, quantity)| quantity.echo())
}

fn round_the_circle(degrees: f64) -> f64 {
    (degrees + 180.0).rem_euclid(360.0) - 180.0
}

fn shows_zero(sheet: &mut Worksheet<'_>, written: f64) -> Option<()> {
    let machine = sheet.standing(MACHINE_A.id, 0).last().map(|entry| entry.number())?;
    let displayed = sheet.answer(Question::of(&WORK_A))?;
    let outputs = sheet.reckon(
        "shows-zero",
        "angle-identity",
        json!({"machine_angle": machine, "displayed_angle": displayed.number(), "register_angle": written}),
    )?;
    let residual = outputs.value("residual_angle")?;
    let shown = sheet.angle(residual);
    sheet.finding_about("capture.identity", "a", "identity on A", shown.clone(), &outputs);
    let least = sheet.card().machine.least_angle_deg;
    sheet.gate(GateCheck {
        id: "capture.shows-zero",
        about: String::new(),
        kind: GateKind::Stop,
        pass: residual.abs() <= least * 1.000_001,
        measured: Some(shown),
        limit: Some(sheet.angle(least)),
        says: (
            "The display shows the nominal angle at the level position.".to_owned(),
            format!(
                "The display shows {} and should show 0: another value was written, or another register is live. Every hole would be wrong by it.",
                sheet.angle(displayed.number())
            ),
        ),
        rests_on: vec![displayed.seq],
    })
}

/// Checks machine = display + register + shift + length on X, Y and Z (D12).
fn identity(sheet: &mut Worksheet<'_>, register: &[f64; 3], before: &[RegisterLine]) -> Option<()> {
    let length = sheet.answer(Question::of(&TOOL_LENGTH))?;
    let shift = sheet.answer(Question::of(&COMMON_SHIFT))?;
    let axes = [('X', &MACHINE_X, &WORK_X), ('Y', &MACHINE_Y, &WORK_Y), ('Z', &MACHINE_Z, &WORK_Z)];
    for (axis, ((letter, machine_ask, work_ask), value)) in axes.into_iter().zip(register).enumerate() {
        let reach = sheet.card().machine.travel.get(axis).map_or(f64::INFINITY, |travel| travel.mm());
        let machine = sheet.answer(Question::of(machine_ask).expect(Window::around(0.0, reach)))?;
        let work = sheet.answer(Question::of(work_ask))?;
        let on_z = letter == 'Z';
        let tool = if on_z && sheet.card().machine.display_includes_length { length.number() } else { 0.0 };
        let common = if on_z { shift.number() } else { 0.0 };
        let outputs = sheet.reckon(
            &format!("identity/{letter}"),
            "coordinate-identity",
            json!({
                "machine_position": machine.number(), "displayed_position": work.number(), "register_value": value,
                "common_shift": common, "tool_length": tool, "stored_registers": stored(before, letter),
                "match_within": sheet.card().machine.least_length.mm() * 1.000_001,
            }),
        )?;
        let rests_on = vec![machine.seq, work.seq, length.seq, shift.seq];
        identity_gate(sheet, letter, &outputs, rests_on)?;
    }
    common_shift(sheet, shift.number(), shift.seq)
}

fn stored(before: &[RegisterLine], letter: char) -> Vec<Value> {
    before
        .iter()
        .filter_map(|line| line.axis(letter).map(|value| json!({"register": line.name, "value": value})))
        .collect()
}

fn identity_gate(
    sheet: &mut Worksheet<'_>,
    letter: char,
    outputs: &crate::checklist::Outputs,
    rests_on: Vec<u64>,
) -> Option<()> {
    let residual = outputs.value("residual")?;
    let shown = sheet.fine(residual);
    let about = letter.to_lowercase().to_string();
    sheet.finding_about("capture.identity", &about, "identity residual", shown.clone(), outputs);
    let least = sheet.card().machine.least_length.mm();
    let hint = identity_words(sheet, letter, residual, &outputs.texts("matching_registers"));
    sheet.gate(GateCheck {
        id: "capture.identity",
        about,
        kind: GateKind::Stop,
        pass: residual.abs() <= least * 1.000_001,
        measured: Some(shown),
        limit: Some(sheet.fine(least)),
        says: (format!("Machine and display agree on {letter}."), hint),
        rests_on,
    })
}

fn identity_words(sheet: &Worksheet<'_>, letter: char, residual: f64, matching: &[String]) -> String {
    let tool = sheet.standing(TOOL_LENGTH.id, 0).last().map_or(0.0, |entry| entry.number());
    let least = sheet.card().machine.least_length.mm() * 2.0;
    if letter == 'Z' && tool > least && (residual.abs() - tool).abs() <= least {
        return "Z is off by exactly the tool's length: length compensation is OFF. The tool would plunge. Switch it on, read again.".to_owned();
    }
    let stored_length =
        sheet.card().tools.iter().find(|stored| (residual.abs() - (stored.length.mm() - tool).abs()).abs() <= least);
    if let (Some(other), true) = (stored_length, letter == 'Z') {
        return format!(
            "Z is off by the difference to the length of tool {}: a wrong length number is called.",
            other.number
        );
    }
    let claimed = &sheet.card().register.name;
    match matching.iter().find(|name| *name != claimed) {
        Some(other) => {
            format!("On {letter} the sum fits {other}: {other} is live, not {claimed}. Call {claimed}, read again.")
        }
        None => format!(
            "On {letter} machine, display, register, shift and length do not add up ({} left): a number misread, a shift left in, or another register live.",
            sheet.fine(residual)
        ),
    }
}

fn common_shift(sheet: &mut Worksheet<'_>, shift: f64, seq: u64) -> Option<()> {
    sheet.gate(GateCheck {
        id: "capture.identity",
        about: "common-shift".to_owned(),
        kind: GateKind::Ask,
        pass: shift.abs() < 1e-12,
        measured: Some(sheet.fine(shift)),
        limit: Some(sheet.fine(0.0)),
        says: (
            "The common shift is zero.".to_owned(),
            "The shift common to all registers is not zero: everything is displaced by it, other jobs too. Find out why.".to_owned(),
        ),
        rests_on: vec![seq],
    })
}

fn mean_of_pieces(sheet: &mut Worksheet<'_>, newest: f64) -> Option<()> {
    let mut angles: Vec<f64> = Vec::new();
    let piece = sheet.at().piece.unwrap_or(1);
    angles.extend(sheet.at().handed.by_piece("tram.a").into_iter().filter(|(other, _)| *other < piece).map(|(_, a)| a));
    angles.push(newest);
    if angles.len() < 2 {
        return Some(());
    }
    let outputs = sheet.reckon("mean-a", "circular-mean", json!({"angles": angles}))?;
    let mean = sheet.angle(outputs.value("mean_angle")?);
    sheet.finding("tram.mean-a", "mean A so far", mean, &outputs);
    Some(())
}
