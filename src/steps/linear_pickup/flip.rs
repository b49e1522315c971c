//! Y of the rotary centreline by the flip at two or more angles (D6), with the fixture's own roll times the height of the
//! touch put right (D7).

use serde_json::json;

use crate::checklist::{GateCheck, GateKind, Outputs, Question, Reading, Window, Worksheet, shown};
use crate::job::MiddleMethod;
use crate::scene::{Axis, Plot, Scene, Standing};
use crate::steps::linear_pickup::asks::{EDGE_FRONT, EDGE_REAR, TIP_CLEAR, Y_BACK, Y_FRONT};
use crate::steps::linear_pickup::budget::{self, Term};
use crate::steps::linear_pickup::check_touch::Touched;
use crate::steps::linear_pickup::round;
use crate::steps::linear_pickup::travel;

/// A coordinate with the part of its uncertainty that comes from touching.
pub(super) struct Found {
    /// Where, millimetres.
    pub(super) value: f64,
    /// How well.
    pub(super) term: Term,
}

/// The middle of the fixture at one angle.
pub(super) struct Middle {
    /// Front and back, where two faces were touched.
    sides: Option<(Reading, Reading)>,
    /// Machine Y of the middle.
    pub(super) y: Found,
    /// Machine X of a round's centre.
    pub(super) x: Option<Found>,
    /// What it rests on.
    pub(super) entries: Vec<u64>,
}

impl Middle {
    /// Holds the centre of a round.
    pub(super) fn of_round(x: Found, y: Found, entries: Vec<u64>) -> Self {
        Self { sides: None, y, x: Some(x), entries }
    }
}

/// The rotary centreline.
pub(super) struct Centreline {
    /// Y, as later check touches want it.
    pub(super) touched: Touched,
    /// X of the round, where one was touched.
    pub(super) round_x: Option<Found>,
    /// What it rests on.
    pub(super) entries: Vec<u64>,
}

/// How the fixture leans at the height of the touch.
struct Lean {
    height: f64,
    roll: Option<f64>,
    roll_uncertainty: f64,
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

/// Picks up the rotary centreline in Y: the fixture's middle at each angle, then the best fit.
pub(super) fn centreline(sheet: &mut Worksheet<'_>, radius: f64, height: f64, machine_a: f64) -> Option<Centreline> {
    let count = sheet.card().datums.y.angles;
    let mut middles = Vec::new();
    for round in 0..count {
        let turned = 360.0 * f64::from(round) / f64::from(count);
        if round > 0 {
            turn(sheet, machine_a + turned, (round, count))?;
        }
        middles.push(middle(sheet, round, turned, (machine_a, radius))?);
        sheet.moved();
    }
    let lean = lean(sheet, height)?;
    solved(sheet, middles, &lean)
}

fn turn(sheet: &mut Worksheet<'_>, to: f64, (round, count): (u32, u32)) -> Option<()> {
    let turned = sheet.angle(to.rem_euclid(360.0));
    let says = if count == 2 {
        "half a turn, finishing from the same side; then touch both faces again".to_owned()
    } else {
        format!("angle {} of {count}, finishing from the same side; then find the middle again", round + 1)
    };
    sheet.set("A", turned, None, says);
    sheet.tick(Question::of(&TIP_CLEAR).round(round - 1), "Raise the tip above the swing, stand clear, then turn.")
}

fn middle(sheet: &mut Worksheet<'_>, round: u32, turned: f64, (machine_a, radius): (f64, f64)) -> Option<Middle> {
    let method = sheet.card().datums.y.middle;
    if method == MiddleMethod::Sweep {
        return round::swept(sheet, round);
    }
    if method != MiddleMethod::TwoFaces {
        return round::touched(sheet, round, radius, method);
    }
    let (front, back) = both_sides(sheet, round, machine_a)?;
    width(sheet, (&front, &back), (round, turned), radius)?;
    let entries = front.entries.iter().chain(&back.entries).copied().collect();
    let y = Found {
        value: f64::midpoint(front.mean, back.mean),
        term: Term::known("touches", front.uncertainty.hypot(back.uncertainty) / 2.0),
    };
    Some(Middle { sides: Some((front, back)), y, x: None, entries })
}

fn both_sides(sheet: &mut Worksheet<'_>, round: u32, machine_a: f64) -> Option<(Reading, Reading)> {
    let place = match (round, sheet.card().datums.y.angles) {
        (0, _) => format!("A {machine_a}"),
        (_, 2) => "half a turn later".to_owned(),
        (_, count) => format!("angle {} of {count}", round + 1),
    };
    let window = travel(sheet, 1);
    sheet.picture(faces_scene(sheet, false));
    let front = Question::of(&Y_FRONT).round(round).expect(window).say(format!("{} ({place})", Y_FRONT.says));
    let front = sheet.measure(front)?;
    sheet.picture(faces_scene(sheet, true));
    let back = Question::of(&Y_BACK).round(round).expect(window).say(format!("{} ({place})", Y_BACK.says));
    let back = sheet.measure(back)?;
    Some((front, back))
}

fn faces_scene(sheet: &Worksheet<'_>, back: bool) -> Scene {
    let fixture = &sheet.card().fixture;
    let (half_width, half_height) = (fixture.width.mm() / 2.0, fixture.height.mm() / 2.0);
    let height = fixture.touch_height.mm();
    Scene::seen("along X, rear on the right")
        .rectangle(half_width, half_height)
        .circle((0.0, 0.0), fixture.ring_bore.mm() / 2.0)
        .mark((0.0, 0.0), "axis", false)
        .mark((-half_width, height), "front", !back)
        .mark((half_width, height), "rear", back)
}

/// A fixture that is not level yet looks wider by 1/cos of its roll; up to here that is no mistake.
const LARGEST_ROLL_DEG: f64 = 0.5;

/// The fixture's own top edge with its two places; the part in the ring is not touched.
fn edge_scene(sheet: &Worksheet<'_>, rear: bool) -> Scene {
    let fixture = &sheet.card().fixture;
    let (half_width, half_height) = (fixture.width.mm() / 2.0, fixture.height.mm() / 2.0);
    let half_span = fixture.edge_span.mm() / 2.0;
    Scene::seen("along X, rear on the right")
        .rectangle(half_width, half_height)
        .circle((0.0, 0.0), fixture.ring_bore.mm() / 2.0)
        .label((0.0, 0.0), "not here")
        .mark((half_span, half_height), "rear", rear)
        .mark((-half_span, half_height), "front", !rear)
}

/// Returns the distance of the faces that look to the front and the rear at an angle: a quarter turn shows the height.
fn known_width(sheet: &Worksheet<'_>, turned: f64) -> f64 {
    let fixture = &sheet.card().fixture;
    let quarter = (turned.rem_euclid(180.0) - 90.0).abs() < 1e-6;
    if quarter { fixture.height.mm() } else { fixture.width.mm() }
}

fn width(
    sheet: &mut Worksheet<'_>,
    (front, back): (&Reading, &Reading),
    (round, turned): (u32, f64),
    radius: f64,
) -> Option<()> {
    let card = sheet.card();
    let known = known_width(sheet, turned);
    let tip = card.instruments.tip_radius_uncertainty.mm();
    let parts = [
        card.fixture.width_tolerance.mm(),
        3.0 * front.uncertainty,
        3.0 * back.uncertainty,
        6.0 * tip,
        3.0 * 2_f64.sqrt() * card.datums.machine_uncertainty.mm(),
    ];
    let widened = known * (1.0 / LARGEST_ROLL_DEG.to_radians().cos() - 1.0);
    let allowed = combined(sheet, &format!("width-limit/{round}"), &parts)? + widened;
    let outputs = sheet.reckon(
        &format!("width/{round}"),
        "measured-width",
        json!({
            "front_reading": front.mean, "back_reading": back.mean, "tip_radius": radius,
            "known_width": known, "match_within": allowed,
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
        limit: Some(sheet.fine(known)),
        says: (
            "The known width comes out: radius and signs are right.".to_owned(),
            format!("The width comes out as {measured}, known is {}. {}", sheet.fine(known), width_words(mistake)),
        ),
        rests_on: front.entries.iter().chain(&back.entries).copied().collect(),
    })
}

/// Says what would explain a wrong width.
pub(super) fn width_words(mistake: &str) -> &'static str {
    match mistake {
        "diameter-for-radius" => {
            "Off by one tip radius: was the DIAMETER typed for the radius? Cross out the tip radius and type half the diameter."
        }
        "radius-sign" => {
            "Off by a tip diameter: was the radius taken off already, or with the wrong sign? Type the machine position as it stands at the touch."
        }
        "half-radius" => "Off the other way by a tip diameter: half the radius typed, or the wrong side touched.",
        _ => "A chip, a wrong side, inch for millimetre? Wipe and touch again.",
    }
}

/// Reads the roll of the touched faces: on the fixture's own edge, never on the part. Not needed at centre height.
fn lean(sheet: &mut Worksheet<'_>, height: f64) -> Option<Lean> {
    if height.abs() < 1e-9 {
        return Some(Lean { height: 0.0, roll: None, roll_uncertainty: 0.0 });
    }
    let card = sheet.card();
    let sense = card.machine.work_turns.unwrap_or(crate::job::WorkTurns::RightHand);
    let reach = Window::around(0.0, card.instruments.lever_travel.mm());
    sheet.picture(edge_scene(sheet, true));
    let rear = sheet.measure(Question::of(&EDGE_REAR).expect(reach))?;
    sheet.picture(edge_scene(sheet, false));
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
    Some(Lean { height, roll: Some(roll), roll_uncertainty })
}

/// Puts every middle right by the roll and solves for the centreline and the off-centre.
fn solved(sheet: &mut Worksheet<'_>, middles: Vec<Middle>, lean: &Lean) -> Option<Centreline> {
    let (mut read, mut put_right) = (Vec::new(), Vec::new());
    for (round, middle) in middles.iter().enumerate() {
        let (front, back) =
            middle.sides.as_ref().map_or((middle.y.value, middle.y.value), |(front, back)| (front.mean, back.mean));
        let outputs = sheet.reckon(
            &format!("middle/{round}"),
            "midpoint-roll-correction",
            json!({
                "front_reading": front, "back_reading": back, "touch_height": lean.height,
                "roll_angle": lean.roll.unwrap_or(0.0),
            }),
        )?;
        let shown = sheet.fine(outputs.value("midpoint")?);
        sheet.finding_about("pickup.middle", &round.to_string(), "middle as read", shown, &outputs);
        read.push(outputs.value("midpoint")?);
        put_right.push(outputs.value("midpoint_corrected")?);
    }
    let raw = fitted(sheet, "flip-uncorrected", &read)?;
    let before = sheet.fine(raw.value("centreline_y")?);
    sheet.finding("pickup.flip-uncorrected", "flip before roll correction", before, &raw);
    let outputs = fitted(sheet, "flip", &put_right)?;
    let weights = weights(sheet, put_right.len())?;
    let entries: Vec<u64> = middles.iter().flat_map(|middle| middle.entries.iter().copied()).collect();
    let spread = uncertainty(sheet, &middles, &weights, lean, &entries)?;
    closes(sheet, &outputs, &middles, &entries)?;
    let centreline = outputs.value("centreline_y")?;
    let shown = sheet.fine(centreline);
    sheet.finding("pickup.y", "Y of the centreline", shown, &outputs);
    sheet.with_uncertainty(spread);
    sheet.hand("pickup.y", centreline, Some(spread));
    off_centre(sheet, &outputs, (&weights, &middles), &entries)?;
    plot(sheet, &put_right, &outputs);
    let touched = Touched { reading: centreline, uncertainty: spread, value: centreline };
    let round_x = middles.into_iter().next().and_then(|middle| middle.x);
    Some(Centreline { touched, round_x, entries })
}

/// Plots the middles against the angle, with what the fit says of them all round.
fn plot(sheet: &mut Worksheet<'_>, middles: &[f64], outputs: &Outputs) {
    let length = sheet.fine(0.0);
    let show = |mm: f64| length.unit.from_base(mm);
    let across = Axis { label: "A from the first middle", unit: "deg", resolution: 1.0 };
    let up = Axis { label: "middle in Y", unit: length.unit.name, resolution: length.resolution };
    let mut plot = Plot::of("middles round the turn", across, up);
    for (angle, middle) in angles(middles.len()).into_iter().zip(middles) {
        plot = plot.point((angle, show(*middle)), 0.0, Standing::Taken, "");
    }
    if let (Some(y), Some(of_y)) = (outputs.value("centreline_y"), outputs.value("off_centre_y")) {
        // Two middles half a turn apart tell nothing of the off-centre in Z: the line then shows that in Y alone.
        let of_z = outputs.value("off_centre_z").unwrap_or(0.0);
        let sign = if sense_word(sheet) == crate::job::WorkTurns::RightHand.word() { -1.0 } else { 1.0 };
        let curve = (0..=24_u32).map(|part| {
            let degrees = f64::from(part) * 15.0;
            let (sine, cosine) = degrees.to_radians().sin_cos();
            (degrees, show(y + of_y * cosine + sign * of_z * sine))
        });
        plot = plot.line(curve.collect(), "fit");
    }
    sheet.plot(plot);
}

fn angles(count: usize) -> Vec<f64> {
    #[expect(clippy::cast_precision_loss, reason = "at most twelve angles")]
    let share = 360.0 / count as f64;
    (0_u32..).map(|place| f64::from(place) * share).take(count).collect()
}

fn sense_word(sheet: &Worksheet<'_>) -> &'static str {
    sheet.card().machine.work_turns.unwrap_or(crate::job::WorkTurns::RightHand).word()
}

/// Fits the centreline to the middles; angles count from the pickup's own.
fn fitted(sheet: &mut Worksheet<'_>, role: &str, middles: &[f64]) -> Option<Outputs> {
    if let [first, second] = middles {
        return sheet.reckon(role, "flip-centreline", json!({"midpoint_at_0": first, "midpoint_at_180": second}));
    }
    let inputs = json!({"index_angles": angles(middles.len()), "midpoints": middles, "work_turns": sense_word(sheet)});
    sheet.reckon(role, "centreline-fit", inputs)
}

fn weights(sheet: &mut Worksheet<'_>, count: usize) -> Option<Outputs> {
    let inputs = json!({"index_angles": angles(count), "work_turns": sense_word(sheet)});
    sheet.reckon("flip-weights", "flip-weights", inputs)
}

/// States the uncertainty of Y term by term.
fn uncertainty(
    sheet: &mut Worksheet<'_>,
    middles: &[Middle],
    weights: &Outputs,
    lean: &Lean,
    entries: &[u64],
) -> Option<f64> {
    let card = sheet.card();
    let weights = weights.values("weights");
    let faces: Vec<(&Reading, f64)> = middles
        .iter()
        .zip(&weights)
        .filter_map(|(middle, weight)| middle.sides.as_ref().map(|sides| (sides, weight / 2.0)))
        .flat_map(|((front, back), weight)| [(front, weight), (back, weight)])
        .collect();
    let mut terms = if faces.is_empty() {
        let rounds = middles.iter().zip(&weights).map(|(middle, weight)| middle.y.term.size * weight);
        vec![Term::known("touches", rounds.fold(0.0, f64::hypot))]
    } else {
        budget::pooled(sheet, "y", &card.instruments.edge_finder, &faces)?
    };
    terms.push(Term::known("roll x height", (lean.height * lean.roll_uncertainty.to_radians()).abs()));
    // The roll is indicated at one stand of the rotary and the middles at others: each stand has its own error.
    let squares: f64 = weights.iter().map(|weight| weight.powi(2)).sum();
    let stands = card.machine.rotary_repeat_deg.to_radians() * (1.0 + squares).sqrt();
    terms.push(Term::known("rotary x height", (lean.height * stands).abs()));
    let limit = Some(card.budget.y_pickup.mm()).filter(|share| *share > 0.0);
    budget::state(sheet, "y", (&card.instruments.edge_finder, limit), &terms, entries.to_vec())
}

/// With more angles than unknowns the middles must close within three of their uncertainties.
fn closes(sheet: &mut Worksheet<'_>, fit: &Outputs, middles: &[Middle], entries: &[u64]) -> Option<()> {
    let Some(residual) = fit.value("largest_residual").filter(|_| middles.len() > 3) else { return Some(()) };
    let worst = middles.iter().map(|middle| middle.y.term.size).fold(0.0, f64::max);
    let allowed = combined(sheet, "closure-limit", &[3.0 * worst])?;
    let measured = sheet.fine(residual);
    sheet.finding("pickup.closure", "middle off the fit", measured.clone(), fit);
    sheet.gate(GateCheck {
        id: "pickup.closure",
        about: String::new(),
        kind: GateKind::Ask,
        pass: residual <= allowed,
        measured: Some(measured),
        limit: Some(sheet.fine(allowed)),
        says: (
            "The middles close: the fixture did not move between the angles.".to_owned(),
            "The middles do not close: faces not parallel, a chip, the fixture moved, or A not where it was sent."
                .to_owned(),
        ),
        rests_on: entries.to_vec(),
    })
}

fn off_centre(
    sheet: &mut Worksheet<'_>,
    flip: &Outputs,
    (weights, middles): (&Outputs, &[Middle]),
    entries: &[u64],
) -> Option<()> {
    let one = middles.iter().map(|middle| middle.y.term.size).fold(0.0, f64::max);
    if let (Some(found), Some(factor)) = (flip.value("off_centre_z"), weights.value("off_centre_z_factor")) {
        let shown = sheet.fine(found);
        sheet.finding("pickup.off-centre-z", "off-centre in Z", shown, flip);
        sheet.with_uncertainty(one * factor);
        sheet.hand("pickup.off-centre-z", found, Some(one * factor));
    }
    let card = sheet.card();
    let found = flip.value("off_centre_y")?;
    let spread = one * weights.value("off_centre_y_factor")?;
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
        rests_on: entries.to_vec(),
    })
}
