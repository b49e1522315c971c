//! X from the back face (D5), Y by the flip at two angles (D6), with the fixture's own roll times the height of the
//! touch put right (D7).

use serde_json::json;

use crate::checklist::{GateCheck, GateKind, Outputs, Question, Reading, Window, Worksheet, shown};
use crate::job::TipSide;
use crate::scene::Scene;
use crate::steps::linear_pickup::check_touch::Touched;
use crate::steps::linear_pickup::{EDGE_FRONT, EDGE_REAR, TIP_CLEAR, X, X_SIDE, Y_BACK, Y_FRONT, travel};

/// Picks up X from the fixture's back face.
pub(super) fn back_face(sheet: &mut Worksheet<'_>, radius: f64) -> Option<Touched> {
    let card = sheet.card();
    let side = sheet.answer(Question::of(&X_SIDE))?;
    let on_card = match card.fixture.back_face_side {
        TipSide::Plus => "plus-side",
        TipSide::Minus => "minus-side",
    };
    sheet.gate(GateCheck {
        id: "pickup.x-side",
        about: String::new(),
        kind: GateKind::Stop,
        pass: side.word() == on_card,
        measured: None,
        limit: None,
        says: (
            "The tip stands on the side that the card says.".to_owned(),
            format!("The card says the tip stands on the {on_card}: with the wrong side, X is wrong by a whole tip diameter. Look again."),
        ),
        rests_on: vec![side.seq],
    })?;
    let question = Question::of(&X).expect(travel(sheet, 0));
    let reading = sheet.measure(question)?;
    let outputs = sheet.reckon(
        "x",
        "touched-face",
        json!({"reading": reading.mean, "tip_radius": radius, "tip_stands_on": on_card}),
    )?;
    let face = outputs.value("face_position")?;
    let spread =
        combined(sheet, "x-uncertainty", &[reading.uncertainty, card.instruments.tip_radius_uncertainty.mm()])?;
    let shown = sheet.fine(face);
    sheet.finding("pickup.x", "X of the back face", shown, &outputs);
    sheet.with_uncertainty(spread);
    sheet.hand("pickup.x", face, Some(spread));
    Some(Touched { reading: reading.mean, uncertainty: reading.uncertainty, value: face })
}

/// Combines independent standard uncertainties by the registered calculation.
pub(super) fn combined(sheet: &mut Worksheet<'_>, role: &str, parts: &[f64]) -> Option<f64> {
    let contributions: Vec<_> =
        parts.iter().filter(|u| **u > 0.0).map(|u| json!({"standard_uncertainty": u})).collect();
    if contributions.is_empty() {
        return Some(0.0);
    }
    sheet.reckon(role, "uncertainty-combine", json!({"contributions": contributions}))?.value("combined_uncertainty")
}

struct Sides {
    front: Reading,
    back: Reading,
}

/// Picks up the rotary centreline in Y: front and back at A, half a turn, front and back again.
pub(super) fn flip(sheet: &mut Worksheet<'_>, radius: f64, height: f64, machine_a: f64) -> Option<Touched> {
    let first = both_sides(sheet, 0, machine_a)?;
    width(sheet, &first, 0, radius)?;
    let turned = sheet.angle((machine_a + 180.0).rem_euclid(360.0));
    sheet.set("A", turned, None, "half a turn, finishing from the same side; then touch both faces again");
    sheet.tick(Question::of(&TIP_CLEAR), "Raise the tip above the swing, stand clear, then turn.")?;
    let second = both_sides(sheet, 1, machine_a)?;
    sheet.moved();
    width(sheet, &second, 1, radius)?;
    let (roll, roll_uncertainty) = fixture_roll(sheet, height)?;
    centreline(sheet, &[first, second], height, (roll, roll_uncertainty))
}

fn both_sides(sheet: &mut Worksheet<'_>, round: u32, machine_a: f64) -> Option<Sides> {
    let place = if round == 0 { format!("A {machine_a}") } else { "half a turn later".to_owned() };
    let window = travel(sheet, 1);
    sheet.picture(faces_scene(sheet, false));
    let front = Question::of(&Y_FRONT).round(round).expect(window).say(format!("{} ({place})", Y_FRONT.says));
    let front = sheet.measure(front)?;
    sheet.picture(faces_scene(sheet, true));
    let back = Question::of(&Y_BACK).round(round).expect(window).say(format!("{} ({place})", Y_BACK.says));
    let back = sheet.measure(back)?;
    Some(Sides { front, back })
}

fn faces_scene(sheet: &Worksheet<'_>, back: bool) -> Scene {
    let fixture = &sheet.card().fixture;
    let (half_width, half_height) = (fixture.width.mm() / 2.0, fixture.height.mm() / 2.0);
    let height = fixture.touch_height.mm();
    Scene::seen("along X, rear on the right")
        .outline(&[
            (-half_width, -half_height),
            (half_width, -half_height),
            (half_width, half_height),
            (-half_width, half_height),
        ])
        .circle((0.0, 0.0), fixture.ring_bore.mm() / 2.0)
        .mark((0.0, 0.0), "axis", false)
        .mark((-half_width, height), "front", !back)
        .mark((half_width, height), "rear", back)
}

fn width(sheet: &mut Worksheet<'_>, sides: &Sides, round: u32, radius: f64) -> Option<()> {
    let card = sheet.card();
    let outputs = sheet.reckon(
        &format!("width/{round}"),
        "measured-width",
        json!({
            "front_reading": sides.front.mean, "back_reading": sides.back.mean, "tip_radius": radius,
            "known_width": card.fixture.width.mm(), "match_within": card.fixture.width_tolerance.mm(),
        }),
    )?;
    let about = round.to_string();
    let measured = sheet.fine(outputs.value("width")?);
    sheet.finding_about("pickup.width", &about, "fixture width", measured.clone(), &outputs);
    let mistake = outputs.word("likely_mistake")?;
    sheet.gate(GateCheck {
        id: "pickup.width",
        about,
        kind: GateKind::Stop,
        pass: mistake == "as-known",
        measured: Some(measured.clone()),
        limit: Some(sheet.fine(card.fixture.width.mm())),
        says: (
            "The known width comes out: radius and signs are right.".to_owned(),
            format!(
                "The width comes out as {measured}, known is {}. {}",
                sheet.fine(card.fixture.width.mm()),
                width_words(mistake)
            ),
        ),
        rests_on: sides.front.entries.iter().chain(&sides.back.entries).copied().collect(),
    })
}

fn width_words(mistake: &str) -> &'static str {
    match mistake {
        "diameter-for-radius" => {
            "Off by one tip radius: was the DIAMETER typed for the radius? Cross out the tip radius and type half the diameter."
        }
        "radius-sign" => {
            "Off by a tip diameter: was the radius taken off already, or with the wrong sign? Type machine Y as it stands at the touch."
        }
        "half-radius" => "Off the other way by a tip diameter: half the radius typed, or the wrong side touched.",
        _ => "A chip, a wrong side, inch for millimetre? Wipe and touch again.",
    }
}

/// Reads the roll of the touched faces: on the fixture's own edge, never on the part. Not needed at centre height.
fn fixture_roll(sheet: &mut Worksheet<'_>, height: f64) -> Option<(Option<f64>, f64)> {
    if height.abs() < 1e-9 {
        return Some((None, 0.0));
    }
    let card = sheet.card();
    let sense = card.machine.work_turns.unwrap_or(crate::job::WorkTurns::RightHand);
    let reach = Window::around(0.0, card.instruments.lever_travel.mm());
    let rear = sheet.measure(Question::of(&EDGE_REAR).expect(reach))?;
    let front = sheet.measure(Question::of(&EDGE_FRONT).expect(reach))?;
    let span = card.fixture.edge_span.mm();
    let outputs = sheet.reckon(
        "fixture-roll",
        "tram-correction",
        json!({"rear_reading": rear.mean, "front_reading": front.mean, "pad_span": span, "work_turns": sense.word()}),
    )?;
    let roll = outputs.value("roll_angle")?;
    let spread = sheet.reckon(
        "fixture-roll-uncertainty",
        "pad-difference-uncertainty",
        json!({"rear_uncertainty": rear.uncertainty, "front_uncertainty": front.uncertainty, "pad_span": span}),
    )?;
    let roll_uncertainty = spread.value("roll_uncertainty")?;
    sheet.finding("pickup.fixture-roll", "fixture's own roll", shown(roll, "deg", 0.001), &outputs);
    sheet.with_uncertainty(roll_uncertainty);
    sheet.hand("pickup.fixture-roll", roll, Some(roll_uncertainty));
    Some((Some(roll), roll_uncertainty))
}

fn centreline(sheet: &mut Worksheet<'_>, sides: &[Sides; 2], height: f64, roll: (Option<f64>, f64)) -> Option<Touched> {
    let mut middles = Vec::new();
    for (round, pair) in sides.iter().enumerate() {
        let outputs = sheet.reckon(
            &format!("middle/{round}"),
            "midpoint-roll-correction",
            json!({
                "front_reading": pair.front.mean, "back_reading": pair.back.mean, "touch_height": height,
                "roll_angle": roll.0.unwrap_or(0.0),
            }),
        )?;
        let middle = sheet.fine(outputs.value("midpoint")?);
        sheet.finding_about("pickup.middle", &round.to_string(), "middle as read", middle, &outputs);
        middles.push((outputs.value("midpoint")?, outputs.value("midpoint_corrected")?));
    }
    let [(read_0, put_right_0), (read_180, put_right_180)] = middles.as_slice() else { return None };
    let raw = sheet.reckon(
        "flip-uncorrected",
        "flip-centreline",
        json!({"midpoint_at_0": read_0, "midpoint_at_180": read_180}),
    )?;
    let before = sheet.fine(raw.value("centreline_y")?);
    sheet.finding("pickup.flip-uncorrected", "flip before roll correction", before, &raw);
    let outputs = sheet.reckon(
        "flip",
        "flip-centreline",
        json!({"midpoint_at_0": put_right_0, "midpoint_at_180": put_right_180}),
    )?;
    let spread = centreline_uncertainty(sheet, sides, height, roll.1)?;
    let centreline = outputs.value("centreline_y")?;
    let shown = sheet.fine(centreline);
    sheet.finding("pickup.y", "Y of the centreline", shown, &outputs);
    sheet.with_uncertainty(spread);
    sheet.hand("pickup.y", centreline, Some(spread));
    off_centre(sheet, &outputs, spread, sides)?;
    Some(Touched { reading: centreline, uncertainty: spread, value: centreline })
}

fn centreline_uncertainty(
    sheet: &mut Worksheet<'_>,
    sides: &[Sides; 2],
    height: f64,
    roll_uncertainty: f64,
) -> Option<f64> {
    let readings: Vec<f64> = sides.iter().flat_map(|pair| [pair.front.uncertainty, pair.back.uncertainty]).collect();
    let outputs = sheet.reckon(
        "y-uncertainty",
        "centreline-uncertainty",
        json!({"reading_uncertainties": readings, "touch_height": height, "roll_uncertainty": roll_uncertainty}),
    )?;
    outputs.value("centreline_uncertainty")
}

fn off_centre(sheet: &mut Worksheet<'_>, flip: &Outputs, spread: f64, sides: &[Sides; 2]) -> Option<()> {
    let card = sheet.card();
    let found = flip.value("off_centre_y")?;
    let shown = sheet.fine(found);
    sheet.finding("pickup.off-centre-y", "off-centre in Y", shown.clone(), flip);
    sheet.with_uncertainty(spread);
    sheet.hand("pickup.off-centre-y", found, Some(spread));
    let expected = card.fixture.off_centre_expected.0.mm();
    let allowed = card.fixture.off_centre_tolerance.mm();
    sheet.gate(GateCheck {
        id: "pickup.off-centre",
        about: "y".to_owned(),
        kind: GateKind::Ask,
        pass: (found - expected).abs() <= allowed,
        measured: Some(shown),
        limit: Some(sheet.fine(expected)),
        says: (
            "The off-centre is as expected.".to_owned(),
            format!(
                "The off-centre is more than {} from what was expected, {}: another seat, a chip, or new jaws? Explain before cutting.",
                sheet.fine(allowed),
                sheet.fine(expected)
            ),
        ),
        rests_on: sides.iter().flat_map(|pair| pair.front.entries.iter().chain(&pair.back.entries)).copied().collect(),
    })
}
