//! Slots on jaws: the creep-up, what the play lets turn, taper, spacing and depth, and what the hand says in the end.

use serde_json::json;

use super::asks::{
    ALLOWANCE_BEFORE, DEPTH, FAR_1, FAR_2, FEEL, IN_THE_VISE, JAW_1, JAW_2, NEAR_1, NEAR_2, SLOT_1, SLOT_2, SPACING,
    WALL_1, WALL_2, WALLS,
};
use super::creep_up::{self, Pair, Shared};
use crate::checklist::{AskSpec, GateCheck, GateKind, Question, Window, Worksheet};
use crate::job::Depth;

static SHARED: Shared = Shared { feel: &FEEL, before: &ALLOWANCE_BEFORE, in_the_vise: &IN_THE_VISE };
/// Near and far end of each slot.
static ENDS: [(&AskSpec, &AskSpec); 2] = [(&NEAR_1, &FAR_1), (&NEAR_2, &FAR_2)];
/// How far spacing and depth may lie from the card before they are questioned, millimetres.
const CARD_WINDOW_MM: f64 = 0.2;

/// Opens the slots and judges how the fixture sits between its jaws.
pub(super) fn slots(sheet: &mut Worksheet<'_>) -> Option<()> {
    let jaw_1 = sheet.measure(Question::of(&JAW_1))?;
    let jaw_2 = sheet.measure(Question::of(&JAW_2))?;
    let pairs = [
        Pair { name: "slot-1", slot: &SLOT_1, wall: &WALL_1, jaw: jaw_1 },
        Pair { name: "slot-2", slot: &SLOT_2, wall: &WALL_2, jaw: jaw_2 },
    ];
    creep_up::open_slots(sheet, &pairs, &SHARED)?;
    let mut plays = [0.0; 2];
    for (pair, play) in pairs.iter().zip(&mut plays) {
        *play = play_of(sheet, pair)?;
    }
    feel_agrees(sheet, &pairs)?;
    walls(sheet)?;
    spacing_and_depth(sheet, plays)
}

fn play_of(sheet: &mut Worksheet<'_>, pair: &Pair) -> Option<f64> {
    let look = creep_up::newest_look(sheet, pair);
    let width = creep_up::width(sheet, pair, look)?;
    let card = sheet.card();
    let outputs = sheet.reckon(
        &format!("play/{}", pair.name),
        "slot-rotation-play",
        json!({
            // Gauges that disagree may show an open slot as narrower than its jaw: that is no play.
            "slot_width": width.mean.max(pair.jaw.mean), "jaw_width": pair.jaw.mean,
            "jaw_length": card.fixture.jaw_length.mm(),
        }),
    )?;
    let (side, angle) = (outputs.value("side_play")?, outputs.value("play_angle")?);
    let shown_play = sheet.fine(side);
    sheet.finding_about("fit.play", pair.name, "play as gauged", shown_play, &outputs);
    let shown_angle = sheet.angle(angle);
    sheet.finding_about("fit.play-angle", pair.name, "turns by", shown_angle.clone(), &outputs);
    sheet.hand_about("fit.play", pair.name, side, None);
    sheet.hand_about("fit.play-angle", pair.name, angle, None);
    let half_width = sheet.at().handed.number("brief.tram-half-width")?;
    let rests_on = width.entries.iter().chain(&pair.jaw.entries).copied().collect();
    sheet.gate(GateCheck {
        id: "fit.play-turn",
        about: pair.name.to_owned(),
        kind: GateKind::Ask,
        pass: angle <= half_width,
        measured: Some(shown_angle),
        limit: Some(sheet.angle(half_width)),
        says: (
            "The play cannot turn the fixture further than the tram allows.".to_owned(),
            "The play lets the fixture turn further than the tram allows: the tram must be read again after clamping."
                .to_owned(),
        ),
        rests_on,
    })?;
    Some(side)
}

/// The hand must agree with the gauge in the end; where it does not, the ends of the slots are gauged too.
fn feel_agrees(sheet: &mut Worksheet<'_>, pairs: &[Pair; 2]) -> Option<()> {
    let (seq, word) = creep_up::newest_feel(sheet, &SHARED);
    let mut narrow = Vec::new();
    if word != "slides" || sheet.card().depth == Depth::Record {
        for (pair, ends) in pairs.iter().zip(ENDS) {
            if taper(sheet, pair, ends)? {
                narrow.push(pair.name);
            }
        }
    }
    let hand = if word == "rocks" { "rocks" } else { "does not go on freely" };
    let why = if narrow.is_empty() {
        "neither end is narrow: a burr, a wrong spacing, or a wrong reading. Stone it and measure again.".to_owned()
    } else {
        format!(
            "{} is narrow at an end: the cutter sprang. Take a spring pass at the same allowance there.",
            narrow.join(" and ")
        )
    };
    sheet.gate(GateCheck {
        id: "fit.feel-agrees",
        about: String::new(),
        kind: GateKind::Ask,
        pass: word == "slides",
        measured: None,
        limit: None,
        says: (
            "The fixture slides on, as the measured play says.".to_owned(),
            format!("The gauge says there is play, the hand says it {hand}; {why}"),
        ),
        rests_on: vec![seq],
    })
}

/// Gauges both ends of a slot; tells whether one is narrower than the window wants.
fn taper(sheet: &mut Worksheet<'_>, pair: &Pair, (near, far): (&'static AskSpec, &'static AskSpec)) -> Option<bool> {
    let look = creep_up::newest_look(sheet, pair);
    let middle = creep_up::width(sheet, pair, look)?;
    let expected = Window::around(middle.mean, CARD_WINDOW_MM);
    let near = sheet.measure(Question::of(near).round(look).expect(expected))?;
    let far = sheet.measure(Question::of(far).round(look).expect(expected))?;
    let outputs = sheet.reckon(
        &format!("taper/{}", pair.name),
        "slot-taper",
        json!({"near_width": near.mean, "middle_width": middle.mean, "far_width": far.mean, "jaw_width": pair.jaw.mean}),
    )?;
    let (taper, left) = (outputs.value("taper")?, outputs.value("play_at_narrowest")?);
    let shown = sheet.fine(taper);
    sheet.finding_about("fit.taper", pair.name, "far end less near end", shown.clone(), &outputs);
    let play = sheet.fine(left);
    sheet.finding_about("fit.narrowest", pair.name, "play at the narrowest place", play, &outputs);
    let (low, high) = sheet.card().fixture.play_window;
    let allowed = high.mm() - low.mm();
    sheet.gate(GateCheck {
        id: "fit.taper",
        about: pair.name.to_owned(),
        kind: GateKind::Ask,
        pass: taper.abs() <= allowed,
        measured: Some(shown),
        limit: Some(sheet.fine(allowed)),
        says: (
            "The slot is as wide at one end as at the other.".to_owned(),
            "The slot is tapered by more than its window is wide: a long cutter sprang, or the vise let go. Spring pass first."
                .to_owned(),
        ),
        rests_on: near.entries.iter().chain(&far.entries).copied().collect(),
    })?;
    Some(left < low.mm())
}

/// Which slots grip and which only guide.
fn walls(sheet: &mut Worksheet<'_>) -> Option<()> {
    if sheet.card().depth == Depth::Quick {
        return Some(());
    }
    let answer = sheet.answer(Question::of(&WALLS))?;
    sheet.hand_word("fit.walls", answer.word());
    Some(())
}

fn spacing_and_depth(sheet: &mut Worksheet<'_>, [play_1, play_2]: [f64; 2]) -> Option<()> {
    let card = sheet.card();
    let Some(slots) = card.fixture.slots.as_ref().filter(|_| card.depth != Depth::Quick) else { return Some(()) };
    let around = |middle: f64| Window::around(middle, CARD_WINDOW_MM);
    let spacing = sheet.answer(Question::of(&SPACING).expect(around(slots.spacing.mm())))?;
    let depth = sheet.answer(Question::of(&DEPTH).expect(around(slots.depth.mm())))?;
    let outputs = sheet.reckon(
        "seating",
        "slot-seating",
        json!({
            "slot_spacing": spacing.number(), "jaw_spacing": slots.jaw_spacing.mm(), "play_1": play_1, "play_2": play_2,
            "slot_depth": depth.number(), "jaw_height": slots.jaw_height.mm(),
        }),
    )?;
    let (error, room) = (sheet.fine(outputs.value("spacing_error")?), sheet.fine(outputs.value("spacing_room")?));
    sheet.finding("fit.spacing", "slots farther apart than jaws", error.clone(), &outputs);
    let one_guides = sheet.standing(WALLS.id, 0).last().is_some_and(|entry| entry.word() != "both-slots-grip");
    let advice =
        if one_guides { "open the slot that only guides" } else { "let one slot only guide, and open that one" };
    sheet.gate(GateCheck {
        id: "fit.spacing",
        about: String::new(),
        kind: GateKind::Ask,
        pass: outputs.flag("finds_both")?,
        measured: Some(error),
        limit: Some(room),
        says: (
            "Both slots find their jaws.".to_owned(),
            format!("The slots stand farther from the jaws' spacing than their play takes up: {advice}."),
        ),
        rests_on: vec![spacing.seq],
    })?;
    let floor = outputs.value("floor_gap")?;
    let gap = sheet.fine(floor);
    sheet.finding("fit.floor-gap", "slot floor over jaw", gap.clone(), &outputs);
    sheet.gate(GateCheck {
        id: "fit.floor-gap",
        about: String::new(),
        kind: GateKind::Stop,
        pass: if slots.floor_seats { floor < 0.0 } else { floor > 0.0 },
        measured: Some(gap),
        limit: Some(sheet.fine(0.0)),
        says: (
            "The fixture comes down on what it is meant to stand on.".to_owned(),
            "The fixture stands on the wrong face: slot floor and back face cannot both be down. Deepen the slots, or change \
             what it is meant to stand on; then measure again."
                .to_owned(),
        ),
        rests_on: vec![depth.seq],
    })
}
