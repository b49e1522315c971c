//! Fixture fit: slots on jaws, corner relief, seat, the right way round, swing, and the first piece in the ring.

mod creep_up;

use serde_json::json;

use crate::checklist::{
    AskKind, AskSpec, Consultation, GateCheck, GateKind, Happening, Question, Reader, Scope, Situation, Step, Window,
    Worksheet,
};
use crate::job::Depth;
use crate::scene::Scene;
use crate::steps::load_piece::{self, LoadingAsks};
use crate::steps::voids::{LOADED, NOTHING, SEAT, SWING};

static CLEAN: AskSpec = AskSpec::new(
    "fit.clean",
    AskKind::YesNo,
    "Spindle off, rotary held. Jaws, slots and faceplate stoned, wiped, and looked at once more with a light?",
    SEAT,
);
static FEEL: AskSpec = AskSpec::choice(
    "fit.feel",
    &["will-not-start", "binds", "slides", "rocks"],
    "Offer the fixture up to the jaws by hand. How does it go?",
    SEAT,
);
static JAW_1: AskSpec =
    AskSpec::new("fit.jaw-1", AskKind::Length, "Width of jaw 1, by micrometer.", NOTHING).read_by(Reader::Micrometer);
static JAW_2: AskSpec =
    AskSpec::new("fit.jaw-2", AskKind::Length, "Width of jaw 2, by micrometer.", NOTHING).read_by(Reader::Micrometer);
static SLOT_1: AskSpec =
    AskSpec::new("fit.slot-1", AskKind::Length, "Width of slot 1, by bore gauge or blocks.", NOTHING)
        .read_by(Reader::BoreGauge);
static SLOT_2: AskSpec =
    AskSpec::new("fit.slot-2", AskKind::Length, "Width of slot 2, by bore gauge or blocks.", NOTHING)
        .read_by(Reader::BoreGauge);
static WALL_1: AskSpec =
    AskSpec::new("fit.slot-1-wall", AskKind::Length, "Slot 1: what did you take off EACH wall in this pass?", NOTHING);
static WALL_2: AskSpec =
    AskSpec::new("fit.slot-2-wall", AskKind::Length, "Slot 2: what did you take off EACH wall in this pass?", NOTHING);
static FEELER: AskSpec = AskSpec::new(
    "fit.seat-feeler",
    AskKind::YesNo,
    "Jaws closed evenly, fixture tapped down. Does a 0.02 mm (0.001 in) feeler stay out at all four corners?",
    SEAT,
);
static CORNERS: AskSpec =
    AskSpec::new("fit.seat-corner", AskKind::Length, "Indicator along X on the next seat corner, going round.", SEAT)
        .read_once_by(Reader::SeatIndicator);
static MARK_FLAT: AskSpec = AskSpec::new(
    "fit.mark-flat",
    AskKind::Length,
    "Where does the off-centre flat stand in Y, from the rotary centreline?",
    SEAT,
);
static STICKS_OUT: AskSpec = AskSpec::choice(
    "fit.sticks-out",
    &["as-on-card", "further-out"],
    "Key out of the jaw and the screws. Screw heads, jaw-screw end, handles: as on the card, or does anything reach further?",
    SWING,
);
static POINT_Y: AskSpec =
    AskSpec::new("fit.point-y", AskKind::Length, "The point that reaches furthest: its Y from the centreline.", SWING);
static POINT_Z: AskSpec = AskSpec::new("fit.point-z", AskKind::Length, "And its Z from the centreline.", SWING);
static SEEN_DOWN: AskSpec = AskSpec::new(
    "fit.seen-down",
    AskKind::YesNo,
    "First piece cleaned, in the ring, seen down all round before and after tightening?",
    LOADED,
);
static RING_GAP: AskSpec =
    AskSpec::new("fit.ring-gap", AskKind::Length, "Gap at the split of the ring, by feeler.", LOADED)
        .read_by(Reader::Feeler);

static LOADING: LoadingAsks = LoadingAsks {
    seen_down: &SEEN_DOWN,
    ring_gap: &RING_GAP,
    expected_gap: "fit.expected-gap",
    gap_gate: "fit.ring-gap",
};

/// Fixture fit.
pub(super) struct FixtureFit;

impl Step for FixtureFit {
    fn id(&self) -> &'static str {
        "fixture-fit"
    }

    fn title(&self) -> &'static str {
        "fixture fit"
    }

    fn scope(&self) -> Scope {
        Scope::Setup
    }

    fn needs(&self) -> &'static [&'static str] {
        &["brief"]
    }

    fn shaken_by(&self) -> &'static [Happening] {
        SWING
    }

    fn asks(&self) -> &'static [&'static AskSpec] {
        static ASKS: &[&AskSpec] = &[
            &CLEAN,
            &FEEL,
            &JAW_1,
            &JAW_2,
            &SLOT_1,
            &SLOT_2,
            &WALL_1,
            &WALL_2,
            &FEELER,
            &CORNERS,
            &MARK_FLAT,
            &STICKS_OUT,
            &POINT_Y,
            &POINT_Z,
            &SEEN_DOWN,
            &RING_GAP,
        ];
        ASKS
    }

    fn names(&self) -> &'static [(&'static str, &'static str)] {
        &[
            ("fit.tight", "finding: how much too narrow a slot is for its jaw; minus is play"),
            ("fit.response", "finding: share of a commanded wall cut that the slot really opens by"),
            ("fit.next-wall", "finding and move: what to take off each wall next"),
            ("fit.play", "finding and fact: play of a jaw in its slot"),
            ("fit.play-angle", "finding and fact: how far the play lets the fixture turn"),
            ("fit.play-window", "gate: play inside the window on the card"),
            ("fit.play-turn", "gate: the play turns the fixture less than the tram allows"),
            ("fit.feel-agrees", "gate: the feel agrees with the measured play"),
            ("fit.standoff", "finding and gate: the jaw stands off the slot's floor"),
            ("fit.seat-tilt", "finding and gate: tilt of the seat (wedge)"),
            ("fit.seat-rock", "finding and gate: twist of the seat (rock)"),
            ("fit.seat-height", "finding: height of the seat plane at its middle"),
            ("fit.seat-slope-u", "finding: slope of the seat along u"),
            ("fit.seat-slope-v", "finding: slope of the seat along v"),
            ("fit.seat-residual", "finding: largest corner off the plane"),
            ("fit.right-way-round", "gate: the fixture is not turned half round"),
            ("fit.swing", "finding and fact: largest radius that swings"),
            ("fit.table-clearance", "finding and gate: gap from the swing to the table"),
            ("fit.expected-gap", "finding: ring gap that the part's diameter asks for"),
            ("fit.ring-gap", "gate: ring gap as expected"),
        ]
    }

    fn consult(&self, at: &Situation<'_>) -> Consultation {
        Worksheet::walk(at, procedure)
    }
}

fn procedure(sheet: &mut Worksheet<'_>) -> Option<()> {
    sheet.caution("Spindle off, rotary power held or brake on, before hands go between jaws and fixture.");
    sheet.caution("Take the key out of the jaw and the screws before turning anything.");
    sheet.trap("A fixture that stands on a corner fillet or a chip looks seated and is not.");
    sheet.tick(Question::of(&CLEAN), "Stone off every burr and wipe: a chip of 0.1 mm tilts the fixture.")?;
    let feel = sheet.answer(Question::of(&FEEL))?;
    let slid_on_before = feel.word() == "slides" && sheet.card().depth == Depth::Quick;
    if !slid_on_before {
        slots(sheet)?;
    }
    corner_relief(sheet)?;
    seat(sheet)?;
    right_way_round(sheet)?;
    swing(sheet)?;
    load_piece::load(sheet, &LOADING)
}

fn slots(sheet: &mut Worksheet<'_>) -> Option<()> {
    let jaw_1 = sheet.measure(Question::of(&JAW_1))?;
    let jaw_2 = sheet.measure(Question::of(&JAW_2))?;
    let pairs = [
        creep_up::Pair { name: "slot-1", slot: &SLOT_1, wall: &WALL_1, jaw: jaw_1.mean, jaw_entries: jaw_1.entries },
        creep_up::Pair { name: "slot-2", slot: &SLOT_2, wall: &WALL_2, jaw: jaw_2.mean, jaw_entries: jaw_2.entries },
    ];
    creep_up::open_slots(sheet, &pairs)?;
    for pair in &pairs {
        let width = creep_up::newest_width(sheet, pair)?;
        play(sheet, pair, &width)?;
    }
    feel_agrees(sheet)
}

/// After the slots were opened the fixture is offered up again: the hand must agree with the gauge.
fn feel_agrees(sheet: &mut Worksheet<'_>) -> Option<()> {
    let first = sheet.answer(Question::of(&FEEL))?;
    let feel = if first.word() == "slides" {
        first
    } else {
        let say = "Slots open and clean: offer the fixture up to the jaws again. How does it go now?";
        sheet.answer(Question::of(&FEEL).round(1).say(say))?
    };
    sheet.gate(GateCheck {
        id: "fit.feel-agrees",
        about: String::new(),
        kind: GateKind::Ask,
        pass: feel.word() == "slides",
        measured: None,
        limit: None,
        says: (
            "The fixture slides on, as the measured play says.".to_owned(),
            format!(
                "The gauge says there is play, the hand says it {}: a burr, a taper along the slot, or a wrong reading. Stone and measure again.",
                if feel.word() == "rocks" { "rocks" } else { "does not go on freely" }
            ),
        ),
        rests_on: vec![feel.seq],
    })
}

fn play(sheet: &mut Worksheet<'_>, pair: &creep_up::Pair, width: &crate::checklist::Reading) -> Option<()> {
    let card = sheet.card();
    let outputs = sheet.reckon(
        &format!("play/{}", pair.name),
        "slot-rotation-play",
        json!({"slot_width": width.mean, "jaw_width": pair.jaw, "jaw_length": card.fixture.jaw_length.mm()}),
    )?;
    let (side, angle) = (outputs.value("side_play")?, outputs.value("play_angle")?);
    let shown_play = sheet.fine(side);
    sheet.finding_about("fit.play", pair.name, "play", shown_play, &outputs);
    let shown_angle = sheet.angle(angle);
    sheet.finding_about("fit.play-angle", pair.name, "turns by", shown_angle.clone(), &outputs);
    sheet.hand_about("fit.play", pair.name, side, None);
    sheet.hand_about("fit.play-angle", pair.name, angle, None);
    let (low, high) = card.fixture.play_window;
    let rests_on: Vec<u64> = width.entries.iter().chain(&pair.jaw_entries).copied().collect();
    sheet.gate(GateCheck {
        id: "fit.play-window",
        about: pair.name.to_owned(),
        kind: GateKind::Stop,
        pass: low.mm() <= side && side <= high.mm(),
        measured: Some(sheet.fine(side)),
        limit: Some(sheet.fine(high.mm())),
        says: (
            format!("The play of {} is inside its window.", pair.name),
            format!(
                "The play of {} is {}, outside {} to {}: measure again; if it is so, this fixture is not fit for these jaws.",
                pair.name,
                sheet.fine(side),
                sheet.fine(low.mm()),
                sheet.fine(high.mm())
            ),
        ),
        rests_on: rests_on.clone(),
    })?;
    let half_width = sheet.at().handed.number("brief.tram-half-width")?;
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
    })
}

fn corner_relief(sheet: &mut Worksheet<'_>) -> Option<()> {
    let fixture = &sheet.card().fixture;
    let gap = fixture.play_wanted.mm() / 2.0;
    for name in ["slot-1", "slot-2"] {
        let outputs = sheet.reckon(
            &format!("standoff/{name}"),
            "corner-standoff",
            json!({"fillet_radius": fixture.fillet_radius.mm(), "side_gap": gap, "jaw_chamfer": fixture.jaw_chamfer.mm()}),
        )?;
        let standoff = outputs.value("standoff")?;
        let shown = sheet.fine(standoff);
        sheet.finding_about("fit.standoff", name, "stands off the floor by", shown, &outputs);
        let needed = sheet.length(outputs.value("chamfer_for_flush")?, 0.01);
        sheet.gate(GateCheck {
            id: "fit.standoff",
            about: name.to_owned(),
            kind: GateKind::Stop,
            pass: standoff <= 0.0,
            measured: Some(sheet.fine(standoff)),
            limit: Some(sheet.fine(0.0)),
            says: (
                "The jaw's chamfer clears the fillet: the fixture can seat.".to_owned(),
                format!("The jaw's edge rides on the fillet and cannot seat: it needs a chamfer of {needed}, or a relief hole in the corner."),
            ),
            rests_on: Vec::new(),
        })?;
    }
    Some(())
}

fn seat(sheet: &mut Worksheet<'_>) -> Option<()> {
    sheet.tick(
        Question::of(&FEELER),
        "Something is under that corner: release, clean, tap down while tightening, and try the feeler again.",
    )?;
    let card = sheet.card();
    let mut points = Vec::new();
    let mut rests_on = Vec::new();
    for (round, (u, v)) in (0_u32..).zip(card.fixture.seat_corners) {
        sheet.picture(seat_scene(&card.fixture.seat_corners, round));
        let say = format!("Indicator along X on seat corner {} of 4 (going round).", round + 1);
        let corner = sheet.measure(Question::of(&CORNERS).round(round).say(say))?;
        points.push([u.mm(), v.mm(), corner.mean]);
        rests_on.extend(corner.entries);
    }
    let outputs = sheet.reckon("seat", "plane-fit", json!({"points": points}))?;
    seat_findings(sheet, &outputs)?;
    seat_gates(sheet, &outputs, &rests_on)
}

fn seat_findings(sheet: &mut Worksheet<'_>, outputs: &crate::checklist::Outputs) -> Option<()> {
    let height = sheet.fine(outputs.value("height_at_origin")?);
    sheet.finding("fit.seat-height", "seat height", height, outputs);
    for (id, key, label) in
        [("fit.seat-slope-u", "slope_x", "slope along u"), ("fit.seat-slope-v", "slope_y", "slope along v")]
    {
        let slope = crate::checklist::shown(outputs.value(key)?, "mm/m", 0.0001);
        sheet.finding(id, label, slope, outputs);
    }
    let tilt = crate::checklist::shown(outputs.value("tilt_angle")?, "deg", 0.0001);
    sheet.finding("fit.seat-tilt", "seat tilt", tilt, outputs);
    let residual = sheet.fine(outputs.value("largest_residual")?);
    sheet.finding("fit.seat-residual", "corner off plane", residual, outputs);
    let twist = sheet.fine(outputs.value("twist")?);
    sheet.finding("fit.seat-rock", "rock", twist, outputs);
    Some(())
}

fn seat_gates(sheet: &mut Worksheet<'_>, outputs: &crate::checklist::Outputs, rests_on: &[u64]) -> Option<()> {
    let card = sheet.card();
    let (tilt, limit) = (outputs.value("tilt_angle")?, card.fixture.seat_tilt_limit_deg);
    sheet.gate(GateCheck {
        id: "fit.seat-tilt",
        about: String::new(),
        kind: GateKind::Stop,
        pass: tilt <= limit,
        measured: Some(sheet.angle(tilt)),
        limit: Some(sheet.angle(limit)),
        says: (
            "The seat is square.".to_owned(),
            "The seat is tilted like a wedge: a chip under one edge. Take off, clean, seat, indicate again.".to_owned(),
        ),
        rests_on: rests_on.to_vec(),
    })?;
    let (twist, step) = (outputs.value("twist")?.abs(), card.instruments.seat_indicator.resolution.mm());
    let allowed = 3.0 * card.instruments.seat_indicator.repeatability.mm() + 2.0 * step;
    sheet.gate(GateCheck {
        id: "fit.seat-rock",
        about: String::new(),
        kind: GateKind::Ask,
        pass: twist <= allowed,
        measured: Some(sheet.fine(twist)),
        limit: Some(sheet.fine(allowed)),
        says: (
            "The seat does not rock.".to_owned(),
            "The seat rocks: a burr or a bent plate, not a chip under one edge. Stone it.".to_owned(),
        ),
        rests_on: rests_on.to_vec(),
    })
}

fn seat_scene(corners: &[(crate::quantity::Length, crate::quantity::Length); 4], now: u32) -> Scene {
    let outline: Vec<(f64, f64)> = corners.iter().map(|(u, v)| (u.mm() * 1.2, v.mm() * 1.2)).collect();
    let mut scene = Scene::seen("looking at the seat").outline(&outline);
    for (number, (u, v)) in (0_u32..).zip(corners) {
        scene = scene.mark((u.mm(), v.mm()), format!("{}", number + 1), number == now);
    }
    scene
}

/// A flat counts as found within this share of its distance from the centreline: far enough to tell the two ways apart.
const FLAT_SHARE: f64 = 0.25;

fn right_way_round(sheet: &mut Worksheet<'_>) -> Option<()> {
    let expected = sheet.card().fixture.mark_flat_y.mm();
    if expected.abs() < 1e-9 {
        return Some(());
    }
    let reach = Window::around(0.0, sheet.card().fixture.width.mm());
    let found = sheet.answer(Question::of(&MARK_FLAT).expect(reach))?;
    let outputs = sheet.reckon(
        "mark-flat",
        "reversed-fixture-check",
        json!({"expected_flat_y": expected, "found_flat_y": found.number(), "match_within": expected.abs() * FLAT_SHARE}),
    )?;
    let reversed = outputs.flag("reversed")?;
    let words = if reversed {
        "The flat is on the opposite side: the fixture is turned half round. Take it off and put it on the right way."
    } else {
        "The flat is not where the card has it: the wrong fixture, or the wrong number. Look and measure again."
    };
    sheet.gate(GateCheck {
        id: "fit.right-way-round",
        about: String::new(),
        kind: GateKind::Stop,
        pass: outputs.flag("as_expected")?,
        measured: Some(sheet.fine(found.number())),
        limit: Some(sheet.fine(expected)),
        says: ("The fixture is the right way round.".to_owned(), words.to_owned()),
        rests_on: vec![found.seq],
    })
}

fn swing(sheet: &mut Worksheet<'_>) -> Option<()> {
    let card = sheet.card();
    let fixture = &card.fixture;
    let mut points: Vec<[f64; 2]> = fixture.protruding.iter().map(|point| [point.y.mm(), point.z.mm()]).collect();
    let answer = sheet.answer(Question::of(&STICKS_OUT))?;
    let mut rests_on = vec![answer.seq];
    if answer.word() == "further-out" {
        let y = sheet.answer(Question::of(&POINT_Y))?;
        let z = sheet.answer(Question::of(&POINT_Z))?;
        points.push([y.number(), z.number()]);
        rests_on.extend([y.seq, z.seq]);
    }
    let outputs = sheet.reckon(
        "swing",
        "swing-radius",
        json!({
            "fixture_width": fixture.width.mm(), "fixture_height": fixture.height.mm(),
            "off_centre_y": fixture.off_centre_expected.0.mm(), "off_centre_z": fixture.off_centre_expected.1.mm(),
            "protruding_points": points, "centre_height": card.machine.centre_height.mm(),
        }),
    )?;
    let (radius, clearance) = (outputs.value("largest_swing")?, outputs.value("table_clearance")?);
    let shown = sheet.fine(radius);
    sheet.finding("fit.swing", "swings out to", shown, &outputs);
    let shown_clearance = sheet.fine(clearance);
    sheet.finding("fit.table-clearance", "gap to the table", shown_clearance.clone(), &outputs);
    sheet.hand("fit.swing", radius, None);
    let margin = card.machine.swing_margin.mm();
    sheet.gate(GateCheck {
        id: "fit.table-clearance",
        about: String::new(),
        kind: GateKind::Stop,
        pass: clearance >= margin,
        measured: Some(shown_clearance),
        limit: Some(sheet.fine(margin)),
        says: (
            "Nothing swings into the table.".to_owned(),
            "It would hit or nearly hit the table. Turn the fixture half round, take the obstacle off, or shorten the screw away \
             from the machine (eye protection; keep thread and key depth). Then measure the swing again."
                .to_owned(),
        ),
        rests_on,
    })
}
