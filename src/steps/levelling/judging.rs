//! The tries judged together: how level it stands, how sure that is, and what to do next.

use serde_json::json;

use crate::checklist::{Approach, GateCheck, GateKind, Outputs, Question, Reading, Verdict, Worksheet, shown};
use crate::job::WorkTurns;
use crate::steps::levelling::asking::{self, Expected};
use crate::steps::levelling::gain;
use crate::steps::levelling::tries::Tries;
use crate::steps::levelling::{Level, Setting, Try, Way, picture};

/// What is best done next.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Action {
    Accept,
    ReadAgain,
    Move,
    NotPossible,
}

/// Room for the heights of the next try, over the difference of this one.
const ROOM_FOR_HEIGHTS: f64 = 2.0;
/// Room for the heights of the next try when the difference is small, millimetres.
const LEAST_ROOM: f64 = 0.05;

/// A try and what all tries together say of it.
pub(super) struct Judged {
    now: Try,
    heights: (f64, f64),
    next: Outputs,
    turns: WorkTurns,
    settled: bool,
    way: Way,
}

impl Judged {
    pub(super) fn action(&self) -> Action {
        match self.next.word("action") {
            Some("accept") => Action::Accept,
            Some("read-again") => Action::ReadAgain,
            Some("move") => Action::Move,
            _ => Action::NotPossible,
        }
    }

    /// Returns what the next try is expected to show.
    pub(super) fn into_next(self) -> Expected {
        let Some(index) = self.next.value("index_to_set") else { return Expected::nothing() };
        // A place moves no further than the whole difference, and turned the wrong way it moves as far again.
        let moves = ROOM_FOR_HEIGHTS * self.now.difference.abs() + LEAST_ROOM;
        Expected::at(index, (self.way == Way::ZNull).then_some((self.heights.0, self.heights.1, moves)))
    }

    /// Returns the level that was reached from a first try.
    pub(super) fn into_level(self, first: Try) -> Level {
        Level { first, last: self.now, turns: self.settled.then_some(self.turns) }
    }

    /// Returns the turning sense that the tries were judged by.
    pub(super) const fn turns(&self) -> WorkTurns {
        self.turns
    }
}

/// Works out the first try once more, by itself.
pub(super) fn first_try(
    sheet: &mut Worksheet<'_>,
    setting: &Setting,
    tries: &Tries<'_>,
    turns: WorkTurns,
) -> Option<Try> {
    let round = tries.first_usable()?;
    let entries = tries.of(round);
    let pads = asking::both(sheet, setting, round, 1, &Expected::nothing())?;
    let by_itself = one_try(sheet, setting, turns, round, (&pads.0, &pads.1))?;
    Some(Try { machine_a: entries.machine_a?.number(), entries: entries.all(), ..by_itself })
}

/// Judges the tries up to a round, which must be read: works out difference and roll, checks the gain, fits, decides.
pub(super) fn judge(sheet: &mut Worksheet<'_>, setting: &Setting, tries: &Tries<'_>, round: u32) -> Option<Judged> {
    let entries = tries.of(round);
    let count = u32::try_from(entries.rear.len().min(entries.front.len())).unwrap_or(1);
    let (rear, front) = asking::both(sheet, setting, round, count, &Expected::nothing())?;
    let fit = fit(sheet, setting, tries, round)?;
    let turns = if fit.word("sense")? == "right-hand" { WorkTurns::RightHand } else { WorkTurns::LeftHand };
    let settled = setting.sense.is_some() || fit.flag("sense_settled")?;
    let now = one_try(sheet, setting, turns, round, (&rear, &front))?;
    let now = Try { machine_a: entries.machine_a?.number(), entries: entries.all(), ..now };
    gain::gain(sheet, setting, tries, (round, turns), &fit)?;
    scatter(sheet, setting, round, &fit)?;
    let next = next(sheet, setting, round, (&now, &fit, turns), count)?;
    shows(sheet, setting, round, (&now, &fit));
    Some(Judged { now, heights: (rear.mean, front.mean), next, turns, settled, way: setting.way })
}

fn fit(sheet: &mut Worksheet<'_>, setting: &Setting, tries: &Tries<'_>, round: u32) -> Option<Outputs> {
    sheet.reckon(
        &format!("fit/{round}"),
        "tram-fit",
        json!({
            "tries": tries.for_fit(), "pad_span": setting.span, "pad_step": setting.step,
            "pad_contact": setting.contact, "sense": setting.sense_word(), "likely_sense": setting.likely.word(),
            "reading_deviation": setting.scatter.deviation, "display_step": setting.scatter.step,
            "rotary_repeat": setting.rotary_repeat, "tolerance": setting.limit,
        }),
    )
}

/// Works out difference and roll of one try by itself.
fn one_try(
    sheet: &mut Worksheet<'_>,
    setting: &Setting,
    turns: WorkTurns,
    round: u32,
    (rear, front): (&Reading, &Reading),
) -> Option<Try> {
    let outputs = sheet.reckon(
        &format!("pads/{round}"),
        "tram-correction",
        json!({
            "rear_reading": rear.mean, "front_reading": front.mean, "pad_span": setting.span, "pad_step": setting.step,
            "work_turns": turns.word(), "pad_contact": setting.contact,
        }),
    )?;
    let spread = sheet.reckon(
        &format!("difference-uncertainty/{round}"),
        "pad-difference-uncertainty",
        json!({
            "rear_uncertainty": rear.uncertainty, "front_uncertainty": front.uncertainty, "pad_span": setting.span,
        }),
    )?;
    let roll = outputs.value("roll_angle")?;
    let shown = sheet.angle(roll);
    sheet.finding_about(setting.names.roll, &round.to_string(), "roll of the part", shown, &outputs);
    sheet.with_uncertainty(spread.value("roll_uncertainty")?);
    Some(Try {
        machine_a: 0.0,
        difference: outputs.value("pad_difference")?,
        uncertainty: spread.value("difference_uncertainty")?,
        roll,
        entries: Vec::new(),
    })
}

/// Tells when the repeats scatter more than was assumed, and stops when that scatter can prove nothing.
fn scatter(sheet: &mut Worksheet<'_>, setting: &Setting, round: u32, fit: &Outputs) -> Option<()> {
    if !fit.flag("noise_exceeds")? {
        return Some(());
    }
    let found = fit.value("deviation_found")?;
    let outputs = sheet.reckon(
        &format!("capability-found/{round}"),
        "tram-capability",
        json!({
            "pad_span": setting.span, "tolerance": setting.limit, "way": "needle", "repeatability": found,
            "division": setting.scatter.step, "z_step": setting.scatter.step, "rotary_repeat": setting.rotary_repeat,
        }),
    )?;
    let measured = sheet.fine(found);
    sheet.finding_about(
        setting.names.scatter,
        &round.to_string(),
        "scatter of one reading",
        measured.clone(),
        &outputs,
    );
    let assumed = sheet.fine(setting.scatter.deviation);
    let least = sheet.fine(outputs.value("least_tolerance")?);
    sheet.gate(GateCheck {
        id: setting.names.scatter,
        about: round.to_string(),
        kind: GateKind::Ask,
        pass: outputs.flag("can_prove")?,
        measured: Some(measured.clone()),
        limit: Some(assumed.clone()),
        says: (
            format!("The repeats scatter by {measured}, more than the {assumed} assumed: it is reckoned with {measured} from now on."),
            format!(
                "The repeats scatter by {measured}, not by {assumed}: with that no level finer than {least} can be proven. Tighten stand and indicator, wipe the places, and read again."
            ),
        ),
        rests_on: sheet.at().entries.iter().filter(|entry| entry.round == round).map(|entry| entry.seq).collect(),
    })
}

fn next(
    sheet: &mut Worksheet<'_>,
    setting: &Setting,
    round: u32,
    (now, fit, turns): (&Try, &Outputs, WorkTurns),
    pairs: u32,
) -> Option<Outputs> {
    sheet.reckon(
        &format!("next/{round}"),
        "tram-next-move",
        json!({
            "machine_angle": now.machine_a, "correction": fit.value("correction")?,
            "level_uncertainty": fit.value("level_uncertainty")?, "pad_span": fit.value("span_fitted")?,
            "difference_now": fit.value("difference_now")?, "uncertainty_now": fit.value("uncertainty_now")?,
            "degrees_of_freedom": fit.value("degrees_of_freedom")?, "pairs": pairs,
            "reading_deviation": fit.value("deviation_used")?, "rotary_repeat": setting.rotary_repeat,
            "least_increment": setting.least_angle, "tolerance": setting.limit, "work_turns": turns.word(),
        }),
    )
}

/// Shows difference, verdict and plot.
fn shows(sheet: &mut Worksheet<'_>, setting: &Setting, round: u32, (now, fit): (&Try, &Outputs)) {
    let (Some(inside), Some(joined), Some(uncertainty)) =
        (fit.value("probability_within"), fit.value("difference_now"), fit.value("uncertainty_now"))
    else {
        return;
    };
    let verdict = Verdict::from_probability(inside);
    let about = round.to_string();
    let pads = Outputs { role: format!("pads/{round}"), map: serde_json::Map::new() };
    let difference = sheet.fine(now.difference);
    sheet.finding_about(setting.names.difference, &about, "rear minus front", difference, &pads);
    sheet.with_uncertainty(now.uncertainty);
    sheet.with_verdict(verdict);
    if round > 0 {
        let joined = sheet.fine(joined);
        sheet.finding_about(setting.names.now, &about, "by all tries", joined, fit);
        sheet.with_uncertainty(uncertainty);
        sheet.with_verdict(verdict);
    }
    sheet.judge(verdict);
    picture::plot(sheet, setting, fit);
}

/// Shows where to turn.
pub(super) fn turn(sheet: &mut Worksheet<'_>, setting: &Setting, round: u32, judged: &Judged) {
    let (Some(to), Some(after), Some(uncertainty)) = (
        judged.next.value("index_to_set"),
        judged.next.value("difference_after"),
        judged.next.value("uncertainty_after"),
    ) else {
        return;
    };
    let shown = sheet.angle(to);
    let from_above =
        sheet.standing(setting.asks.approach.id, 0).last().is_some_and(|entry| entry.word() == "from-above");
    sheet.finding_about(setting.names.next_a, &round.to_string(), "A to set next", shown.clone(), &judged.next);
    let (approach, side) = if from_above {
        (Approach::FromAbove, "down from half a degree above")
    } else {
        (Approach::FromBelow, "up from half a degree below")
    };
    let expected = if judged.settled {
        format!(
            "rear minus front should then be {} within {}",
            sheet.fine(after + setting.step),
            sheet.fine(2.0 * uncertainty)
        )
    } else {
        "if the difference doubles, the work turns the other way, and the next try knows it".to_owned()
    };
    let then = match setting.way {
        Way::Needle => "bring the needle to the rear place",
        Way::ZNull => "find the needle's zero on the rear place",
    };
    sheet.set("A", shown, Some(approach), format!("coming {side}; then {then}; {expected}"));
}

/// Returns whether a level within its limit is accepted; asks only when a worthwhile move is left.
pub(super) fn is_accepted(sheet: &mut Worksheet<'_>, setting: &Setting, round: u32, judged: &Judged) -> Option<bool> {
    let Some(accept) = setting.asks.accept else { return Some(true) };
    let outputs = sheet.reckon(
        "resolution",
        "tram-resolution",
        json!({
            "display_step": setting.scatter.step, "pad_span": setting.span, "rotary_repeat": setting.rotary_repeat,
        }),
    )?;
    let repeat_limit = outputs.value("repeat_limit")?;
    let correction = judged.next.value("correction_to_send")?;
    if correction.abs() <= repeat_limit {
        return Some(true);
    }
    let move_left = sheet.angle(correction);
    let say = format!(
        "Level within the limit already; a turn of {move_left} is left, more than the rotary's own repeat of {}. Accept, or move once more?",
        sheet.angle(repeat_limit)
    );
    let answer = sheet.answer(Question::of(accept).round(round).say(say))?;
    Some(answer.word() == "accept")
}

/// Says that neither reading nor turning shows it any more.
pub(super) fn not_possible(sheet: &mut Worksheet<'_>, setting: &Setting, round: u32, judged: &Judged) -> Option<()> {
    let left = sheet.fine(judged.now.difference);
    let turn_left = shown(judged.next.value("correction_to_send")?, "deg", setting.least_angle);
    let why = if round + 1 >= super::MOST_TRIES {
        format!("Not level after {} tries: something slips or lifts.", round + 1)
    } else {
        format!("{left} is left and the rotary cannot turn finer (what is left to turn rounds to {turn_left}).")
    };
    sheet.gate(GateCheck {
        id: setting.names.level,
        about: String::new(),
        kind: GateKind::Stop,
        pass: false,
        measured: Some(left),
        limit: Some(sheet.fine(setting.limit)),
        says: (String::new(), format!("{why} Look at clamp, brake and indicator, then cross out the tries.")),
        rests_on: judged.now.entries.clone(),
    })
}
