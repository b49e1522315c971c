//! Opening slots that are still tight, pass by pass: every pass is chosen from all that was measured and felt so far.

use serde_json::{Value, json};

use super::pictures;
use crate::checklist::{
    AskSpec, GateCheck, GateKind, Outputs, Quantified, Question, Reading, Verdict, Window, Worksheet, shown,
};
use crate::scene::{Axis, Plot, Standing};

/// A slot with the jaw that goes into it.
pub(super) struct Pair {
    /// Name of the slot.
    pub(super) name: &'static str,
    /// The ask for its width.
    pub(super) slot: &'static AskSpec,
    /// The ask for the wall allowance of a pass.
    pub(super) wall: &'static AskSpec,
    /// The jaw's width.
    pub(super) jaw: Reading,
}

/// The asks that both slots share.
pub(super) struct Shared {
    /// How the fixture goes on.
    pub(super) feel: &'static AskSpec,
    /// The allowance that the slots were cut with before.
    pub(super) before: &'static AskSpec,
    /// The fixture is back in the vise, on its datum edges.
    pub(super) in_the_vise: &'static AskSpec,
}

/// How far a slot's width may lie from its jaw's before it is questioned, millimetres.
const SLOT_WINDOW_MM: f64 = 0.5;
/// Looks after which the creep-up is given up.
const MOST_LOOKS: u32 = 30;

/// What comes next for a slot.
enum Next {
    /// It is open, or gone on with.
    Done,
    /// It is cut with this allowance on each wall.
    Cut(Quantified),
    /// It is measured and felt again without a cut.
    ReadAgain,
}

/// Goes on when both slots have the play wanted; otherwise says which allowance to command on each wall next.
pub(super) fn open_slots(sheet: &mut Worksheet<'_>, pairs: &[Pair; 2], shared: &Shared) -> Option<()> {
    for look in 0..MOST_LOOKS {
        feel(sheet, shared, look)?;
        for pair in pairs {
            if looked_at(sheet, pair, look) {
                width(sheet, pair, look)?;
            }
        }
        let mut all_done = true;
        let mut to_cut = Vec::new();
        for (pair, other) in [(0, 1), (1, 0)].into_iter().filter_map(|(one, two)| pairs.get(one).zip(pairs.get(two))) {
            match next(sheet, pair, other, shared, look)? {
                Next::Done => {}
                Next::Cut(allowance) => to_cut.push((pair, allowance)),
                Next::ReadAgain => all_done = false,
            }
        }
        if to_cut.is_empty() && all_done {
            return Some(());
        }
        cut(sheet, shared, &to_cut, look)?;
    }
    given_up(sheet)
}

/// Returns the newest look at which a slot was measured.
pub(super) fn newest_look(sheet: &Worksheet<'_>, pair: &Pair) -> u32 {
    (0..MOST_LOOKS).rev().find(|look| !sheet.standing(pair.slot.id, *look).is_empty()).unwrap_or(0)
}

/// Returns the word of the newest feel.
pub(super) fn newest_feel<'a>(sheet: &Worksheet<'a>, shared: &Shared) -> (u64, &'a str) {
    let newest = (0..MOST_LOOKS).rev().find_map(|look| sheet.standing(shared.feel.id, look).last().copied());
    newest.map_or((0, ""), |entry| (entry.seq, entry.word()))
}

fn feel(sheet: &mut Worksheet<'_>, shared: &Shared, look: u32) -> Option<()> {
    let mut question = Question::of(shared.feel).round(look);
    if look > 0 {
        question =
            question.say("Deburred, wiped, cool: offer the fixture up to the jaws again by hand. How does it go now?");
    }
    sheet.answer(question).map(|_| ())
}

/// A slot is looked at in the first round, and again after a round in which it was not finished.
fn looked_at(sheet: &Worksheet<'_>, pair: &Pair, look: u32) -> bool {
    look == 0 || !sheet.standing(pair.slot.id, look).is_empty() || !finished(sheet, pair, look - 1)
}

/// Whether a slot needs nothing after a look: it was neither cut in it nor sent round again.
fn finished(sheet: &Worksheet<'_>, pair: &Pair, look: u32) -> bool {
    let last = newest_look(sheet, pair);
    last < look || (last == look && sheet.standing(pair.wall.id, look).is_empty() && !wants_more(sheet, pair))
}

/// Whether the newest advice for a slot, already reckoned in this walk, was to look again.
fn wants_more(sheet: &Worksheet<'_>, pair: &Pair) -> bool {
    sheet.reckoned(&role(pair)).is_some_and(|outputs| outputs.word("advice") == Some("read-again"))
}

fn role(pair: &Pair) -> String {
    format!("creep-up/{}", pair.name)
}

/// Measures a slot's width at a look.
pub(super) fn width(sheet: &mut Worksheet<'_>, pair: &Pair, look: u32) -> Option<Reading> {
    let was_cut = look > 0 && !sheet.standing(pair.wall.id, look - 1).is_empty();
    let say = match (look, was_cut) {
        (0, _) => pair.slot.says.to_owned(),
        (_, true) => format!("{} After the pass, deburred and wiped.", pair.slot.says),
        (_, false) => format!("{} Once more, zero the gauge afresh.", pair.slot.says),
    };
    let fixture = &sheet.card().fixture;
    let (play, corners) = (fixture.play_wanted.mm(), [fixture.fillet_radius.mm(), fixture.jaw_chamfer.mm()]);
    sheet.picture(pictures::slot_on_jaw(pair.name, pair.jaw.mean, play, corners));
    sheet.measure(Question::of(pair.slot).round(look).say(say).expect(Window::around(pair.jaw.mean, SLOT_WINDOW_MM)))
}

fn next(sheet: &mut Worksheet<'_>, pair: &Pair, other: &Pair, shared: &Shared, look: u32) -> Option<Next> {
    let last = newest_look(sheet, pair);
    if last < look {
        return Some(Next::Done);
    }
    if last > look {
        let was_cut = !sheet.standing(pair.wall.id, look).is_empty();
        return Some(if was_cut { Next::Cut(sheet.length(0.0, 0.001)) } else { Next::ReadAgain });
    }
    if !sheet.standing(pair.wall.id, look).is_empty() {
        // The pass is made: the next look tells.
        return Some(Next::Cut(sheet.length(0.0, 0.001)));
    }
    let outputs = estimate(sheet, pair, other, shared)?;
    plot(sheet, pair);
    findings(sheet, pair, &outputs);
    match outputs.word("advice")? {
        "cut" => {
            next_findings(sheet, pair, &outputs);
            let allowance = sheet.at_least_increment(outputs.value("wall_allowance")?);
            Some(Next::Cut(allowance))
        }
        "read-again" => Some(Next::ReadAgain),
        advice => judged(sheet, pair, &outputs, advice).map(|()| Next::Done),
    }
}

/// Estimates a slot from all its looks and passes.
fn estimate(sheet: &mut Worksheet<'_>, pair: &Pair, other: &Pair, shared: &Shared) -> Option<Outputs> {
    let mut looks = Vec::new();
    let mut allowance = sheet.standing(shared.before.id, 0).last().map_or(0.0, |entry| entry.number());
    for look in 0..=newest_look(sheet, pair) {
        let cut =
            look.checked_sub(1).and_then(|pass| sheet.standing(pair.wall.id, pass).last().map(|one| one.number()));
        allowance = cut.unwrap_or(allowance);
        let width = width(sheet, pair, look)?;
        looks.push(json!({
            "before": if cut.is_some() { "cut" } else { "not-cut" },
            "wall_allowance": allowance,
            "play_measured": width.mean - pair.jaw.mean,
            "play_uncertainty": scatter(sheet, &width).hypot(pair.jaw.uncertainty).max(LEAST_UNCERTAINTY_MM),
            "feel": felt(sheet, pair, other, shared, look),
        }));
    }
    let fixture = &sheet.card().fixture;
    let inputs = json!({
        "looks": Value::Array(looks),
        "window_smallest": fixture.play_window.0.mm(), "window_largest": fixture.play_window.1.mm(),
        "gauge_disagreement": fixture.gauge_disagreement.mm(), "relocation": fixture.relocation.mm(),
        "command_step": sheet.card().machine.least_length.mm(),
    });
    sheet.reckon(&role(pair), "creep-up-estimate", inputs)
}

/// Plots the play as measured against the look, with the window wanted.
fn plot(sheet: &mut Worksheet<'_>, pair: &Pair) {
    let newest = newest_look(sheet, pair);
    let length = sheet.fine(0.0);
    let show = |mm: f64| length.unit.from_base(mm);
    let (low, high) = sheet.card().fixture.play_window;
    let across = Axis { label: "look", unit: "", resolution: 1.0 };
    let up = Axis { label: "play", unit: length.unit.name, resolution: length.resolution };
    let mut plot = Plot::of("play, look by look", across, up).window(show(low.mm()), show(high.mm()));
    for look in 0..=newest {
        let Some(play) = rough_play(sheet, pair, look) else { continue };
        let standing = if look == newest { Standing::Newest } else { Standing::Taken };
        plot = plot.point((f64::from(look + 1), show(play)), 0.0, standing, "");
    }
    sheet.plot(plot);
}

/// Returns what a mean is worth: a handful of repeats alone tells little, so what the card states counts as much as they do.
fn scatter(sheet: &Worksheet<'_>, width: &Reading) -> f64 {
    let gauge = &sheet.card().instruments.bore_gauge;
    let count = f64::from(u32::try_from(width.values.len()).unwrap_or(1));
    let stated = gauge.repeatability.mm().powi(2) / count + gauge.resolution.mm().powi(2) / 12.0;
    f64::midpoint(stated, width.uncertainty.powi(2)).sqrt()
}

/// No gauge is better than this, millimetres.
const LEAST_UNCERTAINTY_MM: f64 = 0.0002;
/// Slots whose play differs by less are felt as one, millimetres.
const FELT_AS_ONE_MM: f64 = 0.003;

/// Returns what the hand said about this slot: the whole word for the tighter one, for the other only that it goes on.
fn felt(sheet: &Worksheet<'_>, pair: &Pair, other: &Pair, shared: &Shared, look: u32) -> &'static str {
    let word = sheet.standing(shared.feel.id, look).last().map_or("", |entry| entry.word());
    let is_tighter = match (rough_play(sheet, pair, look), rough_play(sheet, other, look)) {
        (Some(own), Some(others)) => own <= others + FELT_AS_ONE_MM,
        _ => true,
    };
    match (word, is_tighter) {
        ("will-not-start", true) => "will-not-start",
        ("binds", true) => "binds",
        ("slides", true) => "slides",
        ("rocks", true) => "rocks",
        ("slides" | "rocks", false) => "slides-at-least",
        _ => "not-felt",
    }
}

/// Returns the play by the newest readings up to a look.
fn rough_play(sheet: &Worksheet<'_>, pair: &Pair, look: u32) -> Option<f64> {
    let readings = (0..=look).rev().map(|look| sheet.standing(pair.slot.id, look)).find(|list| !list.is_empty())?;
    let sum: f64 = readings.iter().map(|entry| entry.number()).sum();
    Some(sum / f64::from(u32::try_from(readings.len()).ok()?) - pair.jaw.mean)
}

fn findings(sheet: &mut Worksheet<'_>, pair: &Pair, outputs: &Outputs) {
    let about = pair.name;
    if let (Some(play), Some(half)) = (outputs.value("play"), outputs.value("play_half_width")) {
        let play_shown = sheet.fine(play);
        sheet.finding_about("fit.play-estimate", about, "play, all readings and the hand", play_shown, outputs);
        // The half width holds 95 %; a face shows twice the standard uncertainty.
        sheet.with_uncertainty(half / 2.0);
    }
    chance(sheet, "fit.chance-inside", about, "chance that it is inside its window", "chance_inside", outputs);
    if let Some(inside) = outputs.value("chance_inside") {
        sheet.with_verdict(Verdict::from_probability(inside));
    }
}

fn next_findings(sheet: &mut Worksheet<'_>, pair: &Pair, outputs: &Outputs) {
    let about = pair.name;
    if let (Some(share), Some(deviation)) = (outputs.value("share"), outputs.value("share_deviation")) {
        sheet.finding_about(
            "fit.share",
            about,
            "share of a commanded cut that comes off",
            shown(share, "1", 0.01),
            outputs,
        );
        sheet.with_uncertainty(deviation);
    }
    for (id, label, key) in [
        ("fit.leftover", "left on each wall of what was commanded", "leftover"),
        ("fit.next-allowance", "wall allowance to command", "wall_allowance"),
        ("fit.next-opening", "that is expected to open the slot by", "expected_opening"),
    ] {
        if let Some(value) = outputs.value(key) {
            let length = sheet.fine(value);
            sheet.finding_about(id, about, label, length, outputs);
        }
    }
    chance(sheet, "fit.chance-landing", about, "chance that it lands in its window", "chance_landing", outputs);
    chance(sheet, "fit.chance-overshoot", about, "chance that it overshoots", "chance_overshoot", outputs);
    chance(sheet, "fit.chance-rub", about, "chance that the pass only rubs", "chance_rub", outputs);
}

fn chance(sheet: &mut Worksheet<'_>, id: &'static str, about: &str, label: &'static str, key: &str, outputs: &Outputs) {
    if let Some(value) = outputs.value(key) {
        sheet.finding_about(id, about, label, shown(100.0 * value, "%", 0.1), outputs);
    }
}

fn judged(sheet: &mut Worksheet<'_>, pair: &Pair, outputs: &Outputs, advice: &str) -> Option<()> {
    let (low, high) = sheet.card().fixture.play_window;
    let (low, high) = (sheet.fine(low.mm()), sheet.fine(high.mm()));
    let (play, half) = (sheet.fine(outputs.value("play")?), sheet.fine(outputs.value("play_half_width")?));
    let inside = percent(outputs.value("chance_inside")?);
    let name = pair.name;
    let fails = if advice == "too-wide" {
        format!(
            "{name} is too wide: {play} of play against {low} to {high}. A slot cannot be made narrower; this fixture is not fit for these jaws."
        )
    } else {
        format!(
            "The readings cannot decide whether {name} is inside {low} to {high}: {play} ± {half}, chance inside {inside}. \
             Measure again, take a gauge that scatters and disagrees less, or go on with a reason."
        )
    };
    let last = newest_look(sheet, pair);
    let rests_on = sheet.standing(pair.slot.id, last).iter().map(|entry| entry.seq).collect();
    sheet.gate(GateCheck {
        id: "fit.play-window",
        about: name.to_owned(),
        kind: if advice == "too-wide" { GateKind::Stop } else { GateKind::Ask },
        pass: advice == "fits",
        measured: Some(play),
        limit: Some(high),
        says: (format!("The play of {name} is inside its window (chance {inside})."), fails),
        rests_on,
    })
}

fn percent(chance: f64) -> String {
    shown(100.0 * chance, "%", 1.0).to_string()
}

/// Has the slots cut: back in the vise on the same two edges, then one allowance for both walls of a slot.
fn cut(sheet: &mut Worksheet<'_>, shared: &Shared, to_cut: &[(&Pair, Quantified)], look: u32) -> Option<()> {
    if to_cut.is_empty() {
        return Some(());
    }
    sheet.number(Question::of(shared.before))?;
    sheet.tick(
        Question::of(shared.in_the_vise).round(look),
        "Nothing is cut before the fixture is back on the same two edges: another edge moves both walls the same way.",
    )?;
    for (pair, allowance) in to_cut {
        if sheet.standing(pair.wall.id, look).is_empty() {
            let says =
                format!("on EACH wall of {}; plus leaves metal, minus opens the slot by twice as much", pair.name);
            sheet.set("wall", allowance.clone(), None, says);
        }
        let say = format!(
            "{}: command a wall allowance of {allowance} on EACH wall, both alike (plus leaves metal, minus opens the slot by twice as much). What did you command?",
            pair.name
        );
        sheet.number(Question::of(pair.wall).round(look).say(say))?;
        sheet.moved();
    }
    Some(())
}

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
            format!("After {MOST_LOOKS} looks a slot is still not open: look at cutter, stick-out and gauge before cutting again."),
        ),
        rests_on: Vec::new(),
    })
}
