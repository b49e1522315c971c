//! X from the fixture's back face (D5): by itself, by the middle of two faces, along its edge, by a corner, or from the
//! centre of the round.

use serde_json::{Value, json};

use crate::checklist::{AskSpec, GateCheck, GateKind, Outputs, Question, Reading, Window, Worksheet, shown};
use crate::job::{TipSide, TopFaces, XMethod};
use crate::scene::Scene;
use crate::steps::linear_pickup::asks::{EDGE_X, EDGE_Y, SIDE_X, SIDE_Y, X, X_OPPOSITE, X_SIDE};
use crate::steps::linear_pickup::budget::{self, Term};
use crate::steps::linear_pickup::check_touch::Touched;
use crate::steps::linear_pickup::flip::{Centreline, combined, width_words};
use crate::steps::linear_pickup::{STEEPEST_MM_M, travel};

/// The methods that need nothing but X itself; the others wait for the centreline.
pub(super) const BEFORE_Y: [XMethod; 2] = [XMethod::SingleFace, XMethod::TwoFaces];

/// Picks up X by touches on the back face, and on the opposite one where the card has their distance.
pub(super) fn by_faces(sheet: &mut Worksheet<'_>, radius: f64) -> Option<Touched> {
    let card = sheet.card();
    let side = stands_on(sheet)?;
    sheet.picture(along_scene(sheet, false));
    let reading = sheet.measure(Question::of(&X).expect(travel(sheet, 0)))?;
    let opposite = match card.datums.x.opposite {
        Some(_) => Some(opposite(sheet, &reading, radius)?),
        None => None,
    };
    let inputs = json!({"reading": reading.mean, "tip_radius": radius, "tip_stands_on": side});
    let single = sheet.reckon("x", "touched-face", inputs)?;
    let instrument = &card.instruments.edge_finder;
    let (outputs, terms, mut rests_on) = if let (XMethod::TwoFaces, Some(other)) = (card.datums.x.by, &opposite) {
        let mut terms = budget::pooled(sheet, "x", instrument, &[(&reading, 0.5), (other, 0.5)])?;
        terms.push(Term::known("length between the faces", card.datums.x.opposite_tolerance.mm() / 6.0));
        terms.push(budget::temperature(sheet, card.datums.x.opposite.map_or(0.0, |length| length.mm() / 2.0)));
        (from_middle(sheet, &reading, other)?, terms, other.entries.clone())
    } else {
        let mut terms = budget::pooled(sheet, "x", instrument, &[(&reading, 1.0)])?;
        terms.push(Term::known("tip radius", card.instruments.tip_radius_uncertainty.mm()));
        (single, terms, Vec::new())
    };
    let face = outputs.value("face_position")?;
    rests_on.extend(reading.entries.iter().copied());
    show_x(sheet, face, &outputs, &terms, rests_on)?;
    // A check touch feels the same face with the same tip: the tip's radius cancels in it.
    let again = reading.uncertainty.hypot(card.datums.machine_uncertainty.mm());
    Some(Touched { reading: reading.mean, uncertainty: again, value: face })
}

/// Shows X with its uncertainty and hands it on.
fn show_x(sheet: &mut Worksheet<'_>, face: f64, from: &Outputs, terms: &[Term], rests_on: Vec<u64>) -> Option<f64> {
    let card = sheet.card();
    let limit = zone_share(sheet)?;
    let spread = budget::state(sheet, "x", (&card.instruments.edge_finder, Some(limit)), terms, rests_on)?;
    let value = sheet.fine(face);
    sheet.finding("pickup.x", "X of the back face", value, from);
    sheet.with_uncertainty(spread);
    sheet.hand("pickup.x", face, Some(spread));
    Some(spread)
}

/// Returns what the zone of the critical feature allows as a standard uncertainty on one axis (D13).
fn zone_share(sheet: &Worksheet<'_>) -> Option<f64> {
    /// √(−2 ln 0.05): the radius that holds 95 % of two equal normal parts.
    const RADIUS_95: f64 = 2.447_746_830_680_816;
    let card = sheet.card();
    let critical = card.features.iter().find(|feature| feature.id == card.budget.critical_feature)?;
    Some(critical.position_zone.mm() / 2.0 / RADIUS_95)
}

fn side_word(side: TipSide) -> &'static str {
    match side {
        TipSide::Plus => "plus-side",
        TipSide::Minus => "minus-side",
    }
}

/// Asks on which side the tip stands and holds it against the card.
fn stands_on(sheet: &mut Worksheet<'_>) -> Option<&'static str> {
    let side = sheet.answer(Question::of(&X_SIDE))?;
    let on_card = side_word(sheet.card().fixture.back_face_side);
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
    Some(on_card)
}

/// Touches the opposite face, whose known distance proves radius, signs and units.
fn opposite(sheet: &mut Worksheet<'_>, back: &Reading, radius: f64) -> Option<Reading> {
    let card = sheet.card();
    sheet.picture(along_scene(sheet, true));
    let other = sheet.measure(Question::of(&X_OPPOSITE).expect(travel(sheet, 0)))?;
    let known = card.datums.x.opposite?.mm();
    let (low, high) = if back_is_low(sheet) { (back, &other) } else { (&other, back) };
    let tip = card.instruments.tip_radius_uncertainty.mm();
    let parts = [
        card.datums.x.opposite_tolerance.mm(),
        3.0 * back.uncertainty,
        3.0 * other.uncertainty,
        6.0 * tip,
        3.0 * 2_f64.sqrt() * card.datums.machine_uncertainty.mm(),
    ];
    let allowed = combined(sheet, "x-length-limit", &parts)?;
    let outputs = sheet.reckon(
        "x-length",
        "measured-width",
        json!({
            "front_reading": low.mean, "back_reading": high.mean, "tip_radius": radius, "known_width": known,
            "match_within": allowed,
        }),
    )?;
    let measured = sheet.fine(outputs.value("width")?);
    sheet.finding("pickup.length", "length along X", measured.clone(), &outputs);
    let mistake = outputs.word("likely_mistake")?;
    sheet.gate(GateCheck {
        id: "pickup.length",
        about: String::new(),
        kind: GateKind::Stop,
        pass: mistake == "as-known",
        measured: Some(measured.clone()),
        limit: Some(sheet.fine(known)),
        says: (
            "The known length comes out: radius and signs are right.".to_owned(),
            format!(
                "The length along X comes out as {measured}, known is {}. {}",
                sheet.fine(known),
                width_words(mistake)
            ),
        ),
        rests_on: back.entries.iter().chain(&other.entries).copied().collect(),
    })?;
    Some(other)
}

/// Tells whether the back face is the lower of the two faces along X.
fn back_is_low(sheet: &Worksheet<'_>) -> bool {
    sheet.card().machine.top_faces == TopFaces::PlusX
}

fn from_middle(sheet: &mut Worksheet<'_>, back: &Reading, other: &Reading) -> Option<Outputs> {
    let low_is_back = back_is_low(sheet);
    let (low, high, face) = if low_is_back { (back, other, "low") } else { (other, back, "high") };
    let known = sheet.card().datums.x.opposite?.mm();
    sheet.reckon(
        "x-middle",
        "face-from-middle",
        json!({"low_reading": low.mean, "high_reading": high.mean, "known_distance": known, "face": face}),
    )
}

/// Picks up X along the back face, at the centreline, with the skew of the edge; for a corner the front face as well.
pub(super) fn by_edge(sheet: &mut Worksheet<'_>, radius: f64, centreline: &Centreline) -> Option<Touched> {
    let card = sheet.card();
    let side = stands_on(sheet)?;
    sheet.picture(along_scene(sheet, false));
    let (touches, rests_on) = places(sheet, [&EDGE_X, &EDGE_Y], [0, 1])?;
    let at = centreline.touched.value;
    let inputs = json!({"touches": touches, "tip_radius": radius, "tip_stands_on": side, "at": at});
    let outputs = sheet.reckon("x", "edge-from-touches", inputs)?;
    skew(sheet, &outputs, &rests_on)?;
    if card.datums.x.by == XMethod::Corner {
        corner(sheet, radius, side, &touches)?;
    }
    let edge_finder = &card.instruments.edge_finder;
    let one = edge_finder.repeatability.mm().hypot(edge_finder.resolution.mm() / 12_f64.sqrt());
    let one = one.hypot(card.datums.machine_uncertainty.mm());
    let one = one.max(outputs.value("residual_deviation").unwrap_or(0.0));
    let terms = [
        Term::known("touches", one * outputs.value("position_factor")?),
        Term::known("tip radius", card.instruments.tip_radius_uncertainty.mm()),
    ];
    let face = outputs.value("edge_position")?;
    let spread = show_x(sheet, face, &outputs, &terms, rests_on)?;
    let sign = if side == "minus-side" { -1.0 } else { 1.0 };
    Some(Touched { reading: face + sign * radius, uncertainty: spread, value: face })
}

/// Touches at several places along an edge: position felt and place along it, each time.
fn places(
    sheet: &mut Worksheet<'_>,
    [felt, along]: [&'static AskSpec; 2],
    [felt_axis, along_axis]: [usize; 2],
) -> Option<(Vec<[f64; 2]>, Vec<u64>)> {
    let (mut touches, mut entries) = (Vec::new(), Vec::new());
    for round in 0..sheet.card().datums.x.edge_touches {
        let say = format!("{} (place {} of {})", felt.says, round + 1, sheet.card().datums.x.edge_touches);
        let position = sheet.answer(Question::of(felt).round(round).expect(travel(sheet, felt_axis)).say(say))?;
        let place = sheet.answer(Question::of(along).round(round).expect(travel(sheet, along_axis)))?;
        touches.push([position.number(), place.number()]);
        entries.extend([position.seq, place.seq]);
    }
    Some((touches, entries))
}

fn skew(sheet: &mut Worksheet<'_>, outputs: &Outputs, rests_on: &[u64]) -> Option<()> {
    let slope = outputs.value("skew_over_metre")?;
    let measured = shown(slope, "mm/m", 0.001);
    sheet.finding("pickup.skew", "back face askew", measured.clone(), outputs);
    sheet.gate(GateCheck {
        id: "pickup.skew",
        about: String::new(),
        kind: GateKind::Ask,
        pass: slope.abs() <= STEEPEST_MM_M,
        measured: Some(measured),
        limit: Some(shown(STEEPEST_MM_M, "mm/m", 0.001)),
        says: (
            "The back face stands square to the axis.".to_owned(),
            "The back face stands askew: a chip on the seat, the jaws not closed evenly, or a touch that missed. Look before you go on."
                .to_owned(),
        ),
        rests_on: rests_on.to_vec(),
    })
}

/// Shows the corner of the back and the front face; the tip stands in front of the front face.
fn corner(sheet: &mut Worksheet<'_>, radius: f64, side: &str, edge: &[[f64; 2]]) -> Option<()> {
    let (touches, _) = places(sheet, [&SIDE_Y, &SIDE_X], [1, 0])?;
    let as_points: Vec<Value> = touches.iter().map(|[y, x]| json!([x, y])).collect();
    let outputs = sheet.reckon(
        "corner",
        "corner-from-edges",
        json!({
            "x_edge_touches": edge, "y_edge_touches": as_points, "tip_radius": radius, "tip_stands_on_x": side,
            "tip_stands_on_y": "minus-side",
        }),
    )?;
    for (about, key) in [("x", "corner_x"), ("y", "corner_y")] {
        let value = sheet.fine(outputs.value(key)?);
        sheet.finding_about("pickup.corner", about, "corner at", value, &outputs);
    }
    for (about, key) in [("x-edge", "x_edge_skew"), ("y-edge", "y_edge_skew"), ("square", "out_of_square")] {
        let value = shown(outputs.value(key)?, "deg", 0.0001);
        sheet.finding_about("pickup.corner-skew", about, "askew", value, &outputs);
    }
    Some(())
}

/// Takes X from the centre of the round that was touched for Y.
pub(super) fn by_round(sheet: &mut Worksheet<'_>, radius: f64, centreline: &Centreline) -> Option<Touched> {
    let card = sheet.card();
    let (round, found) = (card.datums.round.as_ref()?, centreline.round_x.as_ref()?);
    // Twice its distance from the back face is the distance to an imagined face behind it.
    let face = if back_is_low(sheet) { "low" } else { "high" };
    let outputs = sheet.reckon(
        "x",
        "face-from-middle",
        json!({
            "low_reading": found.value, "high_reading": found.value, "known_distance": 2.0 * round.along.mm(),
            "face": face,
        }),
    )?;
    let terms = [Term { name: "touches", ..found.term }, Term::known("place of the round", round.tolerance.mm() / 3.0)];
    let value = outputs.value("face_position")?;
    let spread = show_x(sheet, value, &outputs, &terms, centreline.entries.clone())?;
    let sign = if card.fixture.back_face_side == TipSide::Minus { -1.0 } else { 1.0 };
    Some(Touched { reading: value + sign * radius, uncertainty: spread, value })
}

/// The fixture seen from the front, faceplate at the back face.
fn along_scene(sheet: &Worksheet<'_>, opposite: bool) -> Scene {
    let card = sheet.card();
    let half = card.fixture.height.mm() / 2.0;
    let length = card.datums.x.opposite.map_or(card.fixture.width.mm() * 0.6, crate::quantity::Length::mm);
    let far = card.machine.top_faces.sign() * length;
    let scene = Scene::seen("from the front, +X on the right")
        .outline(&[(0.0, -half), (far, -half), (far, half), (0.0, half)])
        .line((-0.3 * far, 0.0), (1.2 * far, 0.0))
        .label((-0.25 * far, half), "faceplate")
        .mark((0.0, half / 2.0), "back face", !opposite);
    if card.datums.x.opposite.is_some() { scene.mark((far, half / 2.0), "opposite", opposite) } else { scene }
}

/// Holds the register values against those of the last setup of this fixture, where the card has them.
pub(super) fn as_expected(sheet: &mut Worksheet<'_>, axis: usize, value: f64, rests_on: Vec<u64>) -> Option<()> {
    let Some(expected) = &sheet.card().datums.expected else { return Some(()) };
    let Some(then) = expected.axes.get(axis).copied().flatten() else { return Some(()) };
    let name = ["x", "y", "z"].get(axis).copied().unwrap_or_default();
    let window = Window::around(then.mm(), expected.within.mm());
    let (found, was) = (sheet.fine(value), sheet.fine(then.mm()));
    sheet.gate(GateCheck {
        id: "pickup.expected",
        about: name.to_owned(),
        kind: GateKind::Ask,
        pass: window.holds(value),
        measured: Some(found.clone()),
        limit: Some(was.clone()),
        says: (
            format!("{} lies where the last setup had it.", name.to_uppercase()),
            format!(
                "{} comes out as {found}; the last setup of this fixture had {was}. A slip of sign, radius or unit, another seat, or the rotary moved? Find out which.",
                name.to_uppercase()
            ),
        ),
        rests_on,
    })
}
