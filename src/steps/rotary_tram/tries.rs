//! Tries: read both pads, turn, read again, until the part is shown to be level (D10, D11, decisions 5 and 8).

use serde_json::json;

use crate::checklist::{Approach, GateCheck, GateKind, Outputs, Question, Reading, Verdict, Window, Worksheet, shown};
use crate::job::WorkTurns;
use crate::scene::Scene;
use crate::steps::rotary_tram::{ACCEPT, APPROACH, FRONT, MACHINE_A, REAR};

/// Tries after which it is not a matter of turning any more.
const MOST_TRIES: u32 = 15;

/// What one try read and what came of it.
#[derive(Debug, Clone)]
pub(in crate::steps) struct Try {
    /// Machine A, degrees.
    pub(in crate::steps) machine_a: f64,
    /// Rear minus front, known step taken off, millimetres.
    pub(in crate::steps) difference: f64,
    /// Standard uncertainty of the difference, millimetres.
    pub(in crate::steps) uncertainty: f64,
    /// Roll of the part, degrees.
    pub(in crate::steps) roll: f64,
    /// The turn of A that would take the roll away, degrees, not rounded.
    correction: f64,
    /// The entries it rests on.
    pub(in crate::steps) entries: Vec<u64>,
}

/// Where the part is level, and how it was found.
#[derive(Debug, Clone)]
pub(in crate::steps) struct Level {
    /// The first try.
    pub(in crate::steps) first: Try,
    /// The try that is level.
    pub(in crate::steps) last: Try,
}

/// Goes through the tries until the part is shown to be level.
pub(super) fn level(sheet: &mut Worksheet<'_>, turns: WorkTurns) -> Option<Level> {
    can_prove(sheet)?;
    let mut tries: Vec<Try> = Vec::new();
    let mut wanted = None;
    for round in 0..MOST_TRIES {
        let now = one_try(sheet, turns, round, wanted)?;
        if let Some(before) = tries.last() {
            gain(sheet, turns, round, (before, &now))?;
        }
        let correction = correction(sheet, round, &now)?;
        let verdict = verdict(sheet, round, &now)?;
        tries.push(now.clone());
        if verdict == Verdict::Within && is_accepted(sheet, round, correction)? {
            sheet.moved();
            let first = tries.into_iter().next()?;
            return Some(Level { first, last: now });
        }
        let next = next_index(sheet, round, now.machine_a, correction)?;
        wanted = Some(next);
    }
    not_possible(sheet)
}

/// Refuses before the first try when even perfect pads could not be shown to be level.
fn can_prove(sheet: &mut Worksheet<'_>) -> Option<()> {
    let card = sheet.card();
    let lever = &card.instruments.lever;
    let limit = sheet.at().handed.number("brief.tram-limit")?;
    let one = lever.repeatability.mm().hypot(lever.resolution.mm() / 12_f64.sqrt());
    let count = f64::from(lever.repeats.max(1)).sqrt();
    let outputs = sheet.reckon(
        "capability",
        "conformity",
        json!({
            "lower_limit": -limit, "upper_limit": limit, "estimate": 0.0,
            "standard_uncertainty": one * 2_f64.sqrt() / count,
        }),
    )?;
    sheet.gate(GateCheck {
        id: "tram.can-prove",
        about: String::new(),
        kind: GateKind::Stop,
        pass: Verdict::from_probability(outputs.value("probability_inside")?) == Verdict::Within,
        measured: Some(sheet.fine(one)),
        limit: Some(sheet.fine(limit)),
        says: (
            "This indicator can prove the limit.".to_owned(),
            "This indicator cannot prove the limit even on perfect pads: more repeats, a finer indicator or a larger pad span would."
                .to_owned(),
        ),
        rests_on: Vec::new(),
    })
}

fn one_try(sheet: &mut Worksheet<'_>, turns: WorkTurns, round: u32, wanted: Option<f64>) -> Option<Try> {
    let card = sheet.card();
    let machine_a = sheet.answer(a_question(sheet, round, wanted))?;
    let approach = sheet.answer(Question::of(&APPROACH).round(round))?;
    one_way(sheet, round, approach.word(), approach.seq)?;
    sheet.picture(pads_scene(sheet, true));
    let window = Window::around(0.0, card.instruments.lever_travel.mm());
    let rear = sheet.measure(Question::of(&REAR).round(round).expect(window))?;
    sheet.picture(pads_scene(sheet, false));
    let front = sheet.measure(Question::of(&FRONT).round(round).expect(window))?;
    sheet.moved();
    let outputs = pads(sheet, turns, round, (&rear, &front))?;
    let uncertainty = difference_uncertainty(sheet, round, &rear, &front)?;
    let entries = rear.entries.iter().chain(&front.entries).copied().chain([machine_a.seq]).collect();
    Some(Try {
        machine_a: machine_a.number(),
        difference: outputs.value("pad_difference")?,
        uncertainty,
        roll: outputs.value("roll_angle")?,
        correction: outputs.value("index_correction")?,
        entries,
    })
}

fn a_question(sheet: &Worksheet<'_>, round: u32, wanted: Option<f64>) -> Question {
    let question = Question::of(&MACHINE_A).round(round);
    match wanted {
        None => question.expect(Window { low: -360.0, high: 720.0 }),
        // Anything the rotary did not do, or a number copied from elsewhere, is far outside ten increments.
        Some(to) => question.expect(Window::around(to, 10.0 * sheet.card().machine.least_angle_deg)),
    }
}

fn one_way(sheet: &mut Worksheet<'_>, round: u32, approach: &str, seq: u64) -> Option<()> {
    let first = sheet.standing(APPROACH.id, 0).last().map_or("", |entry| entry.word());
    sheet.gate(GateCheck {
        id: "tram.one-way",
        about: round.to_string(),
        kind: GateKind::Ask,
        pass: approach == first,
        measured: None,
        limit: None,
        says: (
            "A was brought up from the same side as before.".to_owned(),
            format!("A came {approach} now and {first} before: the play of the rotary is in this try. Go past, come back from the same side, and read again."),
        ),
        rests_on: vec![seq],
    })
}

fn pads_scene(sheet: &Worksheet<'_>, rear: bool) -> Scene {
    let fixture = &sheet.card().fixture;
    let (radius, half_span) = (fixture.ring_bore.mm() / 2.0, fixture.pad_span.mm() / 2.0);
    Scene::seen("along X, rear on the right")
        .circle((0.0, 0.0), radius)
        .line((-half_span, radius), (half_span, radius))
        .mark((0.0, 0.0), "axis", false)
        .mark((half_span, radius), "rear", rear)
        .mark((-half_span, radius), "front", !rear)
}

fn pads(
    sheet: &mut Worksheet<'_>,
    turns: WorkTurns,
    round: u32,
    (rear, front): (&Reading, &Reading),
) -> Option<Outputs> {
    let fixture = &sheet.card().fixture;
    sheet.reckon(
        &format!("pads/{round}"),
        "tram-correction",
        json!({
            "rear_reading": rear.mean, "front_reading": front.mean, "pad_span": fixture.pad_span.mm(),
            "pad_step": fixture.pad_step.mm(), "work_turns": turns.word(),
        }),
    )
}

fn difference_uncertainty(sheet: &mut Worksheet<'_>, round: u32, rear: &Reading, front: &Reading) -> Option<f64> {
    let outputs = sheet.reckon(
        &format!("difference-uncertainty/{round}"),
        "pad-difference-uncertainty",
        json!({
            "rear_uncertainty": rear.uncertainty, "front_uncertainty": front.uncertainty,
            "pad_span": sheet.card().fixture.pad_span.mm(),
        }),
    )?;
    outputs.value("difference_uncertainty")
}

/// Moves smaller than this many uncertainties of the difference tell nothing about the gain.
const LEAST_MOVE_FOR_GAIN: f64 = 10.0;

fn gain(sheet: &mut Worksheet<'_>, turns: WorkTurns, round: u32, (before, now): (&Try, &Try)) -> Option<()> {
    let span = sheet.card().fixture.pad_span.mm();
    let sent = turned(sheet, round, before.machine_a, now.machine_a)?;
    let asked = span * sent.to_radians().tan();
    if asked.abs() < LEAST_MOVE_FOR_GAIN * before.uncertainty.hypot(now.uncertainty) {
        return Some(());
    }
    let outputs = sheet.reckon(
        &format!("gain/{round}"),
        "tram-gain",
        json!({
            "difference_before": before.difference, "difference_after": now.difference, "correction_sent": sent,
            "pad_span": span, "work_turns": turns.word(),
        }),
    )?;
    let (gain, diagnosis) = (outputs.value("gain")?, outputs.word("diagnosis")?);
    let measured = shown(gain, "1", 0.001);
    sheet.finding_about("tram.gain", &round.to_string(), "gain", measured.clone(), &outputs);
    let kind = if (0.5..=1.5).contains(&gain) { GateKind::Ask } else { GateKind::Stop };
    let holds = if gain >= 1.02 {
        "The gain is good; a tilted lever reads a little high, the level itself is not affected."
    } else {
        "The gain is good."
    };
    sheet.gate(GateCheck {
        id: "tram.gain",
        about: round.to_string(),
        kind,
        pass: (0.9..=1.1).contains(&gain),
        measured: Some(measured),
        limit: Some(shown(1.0, "1", 0.1)),
        says: (
            holds.to_owned(),
            format!("The needle moved {gain:.2} times as far as the turn asks. {}", gain_words(diagnosis)),
        ),
        rests_on: before.entries.iter().chain(&now.entries).copied().collect(),
    })
}

/// Returns by how much the rotary was turned between two tries, the short way round.
fn turned(sheet: &mut Worksheet<'_>, round: u32, from: f64, to: f64) -> Option<f64> {
    let inputs = json!({"machine_angle": to, "displayed_angle": from, "register_angle": 0.0});
    sheet.reckon(&format!("turned/{round}"), "angle-identity", inputs)?.value("residual_angle")
}

fn gain_words(diagnosis: &str) -> &'static str {
    match diagnosis {
        "wrong-way" => {
            "It moved the wrong way: turning sense wrong, pads swapped, or the indicator's sign. Test the sense again."
        }
        "not-moving" => "It did not move: brake on, wrong axis, or the needle out of travel?",
        "times-10" => {
            "Ten times too far: is a division of the indicator 0.001 and was 0.01 typed? Read the dial again."
        }
        "divided-by-10" => {
            "A tenth of it: is a division of the indicator 0.01 and was 0.001 typed? Read the dial again."
        }
        "times-25.4" | "divided-by-25.4" => "Inch and millimetre are mixed between indicator and card.",
        "times-2" | "divided-by-2" => {
            "Twice or half: half a reading typed for a whole one, or a wrong pad span on the card."
        }
        "reads-high" => "The lever stands at an angle to the pad and reads high: lay it flatter.",
        "reads-low" => "It moved too little: play, a sticking slide, or a clamp that slips.",
        _ => "Something is loose or mistyped: read both pads again.",
    }
}

/// Works out the correction of a try, rounded to what the rotary can do, and shows the roll.
fn correction(sheet: &mut Worksheet<'_>, round: u32, now: &Try) -> Option<f64> {
    let card = sheet.card();
    let span = card.fixture.pad_span.mm();
    let pads = Outputs { role: format!("pads/{round}"), map: serde_json::Map::new() };
    sheet.finding_about("tram.roll", &round.to_string(), "roll of the part", sheet.angle(now.roll), &pads);
    sheet.with_uncertainty((now.uncertainty / span).to_degrees());
    let radius = card.features.iter().map(|feature| feature.radius.mm()).fold(0.0, f64::max);
    let outputs = sheet.reckon(
        &format!("rounding/{round}"),
        "least-increment-rounding",
        json!({
            "index_correction": now.correction, "least_increment": card.machine.least_angle_deg, "pad_span": span, "feature_radius": radius,
        }),
    )?;
    outputs.value("correction_to_send")
}

fn verdict(sheet: &mut Worksheet<'_>, round: u32, now: &Try) -> Option<Verdict> {
    let limit = sheet.at().handed.number("brief.tram-limit")?;
    let outputs = sheet.reckon(
        &format!("level/{round}"),
        "conformity",
        json!({"lower_limit": -limit, "upper_limit": limit, "estimate": now.difference, "standard_uncertainty": now.uncertainty}),
    )?;
    let verdict = Verdict::from_probability(outputs.value("probability_inside")?);
    let difference = sheet.fine(now.difference);
    sheet.finding_about("tram.difference", &round.to_string(), "rear minus front", difference, &outputs);
    sheet.with_uncertainty(now.uncertainty);
    sheet.with_verdict(verdict);
    sheet.judge(verdict);
    Some(verdict)
}

/// Returns whether a level that is within its limit is accepted; asks only when a worthwhile move is left.
fn is_accepted(sheet: &mut Worksheet<'_>, round: u32, correction: f64) -> Option<bool> {
    let card = sheet.card();
    let outputs = sheet.reckon(
        "resolution",
        "tram-resolution",
        json!({
            "display_step": card.instruments.lever.resolution.mm(), "pad_span": card.fixture.pad_span.mm(),
            "rotary_repeat": card.machine.rotary_repeat_deg,
        }),
    )?;
    let repeat_limit = outputs.value("repeat_limit")?;
    if correction.abs() <= repeat_limit {
        return Some(true);
    }
    let move_left = sheet.angle(correction);
    let say = format!(
        "Level within the limit already; a turn of {move_left} is left, more than the rotary's own repeat of {}. Accept, or move once more?",
        sheet.angle(repeat_limit)
    );
    let answer = sheet.answer(Question::of(&ACCEPT).round(round).say(say))?;
    Some(answer.word() == "accept")
}

fn next_index(sheet: &mut Worksheet<'_>, round: u32, machine_a: f64, correction: f64) -> Option<f64> {
    let outputs = sheet.reckon(
        &format!("next/{round}"),
        "next-index",
        json!({"machine_angle": machine_a, "correction_to_send": correction}),
    )?;
    let to = outputs.value("index_to_set")?;
    let shown = sheet.angle(to);
    sheet.finding_about("tram.next-a", &round.to_string(), "A to set next", shown.clone(), &outputs);
    let (approach, side) = if sheet.standing(APPROACH.id, 0).last().is_some_and(|entry| entry.word() == "from-above") {
        (Approach::FromAbove, "down from half a degree above")
    } else {
        (Approach::FromBelow, "up from half a degree below")
    };
    sheet.set("A", shown, Some(approach), format!("coming {side}; then bring the needle to the rear pad"));
    Some(to)
}

fn not_possible(sheet: &mut Worksheet<'_>) -> Option<Level> {
    sheet.gate(GateCheck {
        id: "tram.level",
        about: String::new(),
        kind: GateKind::Stop,
        pass: false,
        measured: None,
        limit: None,
        says: (
            String::new(),
            format!("Not level after {MOST_TRIES} tries: something slips or lifts. Look at clamp, brake and indicator, then cross out the tries."),
        ),
        rests_on: Vec::new(),
    })?;
    None
}
