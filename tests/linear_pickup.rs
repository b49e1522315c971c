//! Linear pickup, capture and index table through the wire face of the real program, on a setup of its own: top towards
//! -X, tip on the plus side, touched 6 mm over the axis, fixture rolled by 0.31 degrees. Every reading is worked out here
//! from where things truly stand (job geometry: touched faces, reversal, rotation), and every mistake is made on purpose.
//!
//! The list of mistakes is common practice of the trade, numbered as in the project's own table.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout,
    reason = "a test may stop at what it did not expect"
)]

#[path = "support/player.rs"]
mod player;
#[path = "support/rig.rs"]
mod rig;

use rig::{Rig, taken};
use serde_json::{Map, Value, json};
use tempfile::TempDir;

const TIP: f64 = 2.0;
const FACE_X: f64 = 212.345;
const AXIS_Y: f64 = -133.21;
const TABLE: f64 = -480.2;
const CENTRE_HEIGHT: f64 = 142.5;
const SETTER: f64 = 40.0;
const REFERENCE: f64 = 101.3;
const HALF: f64 = 38.1;
const HEIGHT: f64 = 6.0;
const ROLL_DEG: f64 = 0.31;
const OFF: (f64, f64) = (0.112, -0.043);
const TOOL: f64 = 107.588;
const AXIS_Z: f64 = TABLE + CENTRE_HEIGHT;

/// The first practice card with this setup's own sizes; a test may change more of it.
fn card(change: impl FnOnce(&mut Value)) -> Value {
    let text = std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/assets/job-cards/flow-sensor-body.json"));
    let mut card: Value = serde_json::from_str(&text.unwrap()).unwrap();
    card["id"] = json!("own-setup");
    card["depth"] = json!("normal");
    card["machine"]["top_faces"] = json!("-X");
    card["machine"]["centre_height"] = json!(CENTRE_HEIGHT);
    card["instruments"]["tip_radius"] = json!(TIP);
    card["instruments"]["setter_height"] = json!(SETTER);
    card["instruments"]["reference_tool_length"] = json!(REFERENCE);
    let fixture = &mut card["fixture"];
    fixture["width"] = json!(2.0 * HALF);
    fixture["height"] = json!(2.0 * HALF);
    fixture["half_height"] = json!(HALF);
    fixture["off_centre_expected"] = json!({"y": 0.11, "z": -0.04});
    fixture["edge_span"] = json!(60);
    fixture["back_face_side"] = json!("plus");
    fixture["touch_height"] = json!(HEIGHT);
    card["register"] = json!({"claimed": "G58", "protected": ["G54"]});
    change(&mut card);
    card
}

fn text(value: f64) -> String {
    format!("{value:.3}")
}

/// Machine Y of the fixture's middle after a turn, touched at this height.
fn middle(turned: f64, height: f64) -> f64 {
    let (sine, cosine) = (-turned).to_radians().sin_cos();
    AXIS_Y + OFF.0 * cosine - OFF.1 * sine - height * ROLL_DEG.to_radians().tan()
}

/// What an honest operator types, by ask and round.
fn answers() -> Map<String, Value> {
    let mut all = Map::new();
    let mut say = |id: &str, round: u32, list: &[String]| {
        let rounds = all.entry(id.to_owned()).or_insert_with(|| json!({}));
        rounds[round.to_string()] = json!(list);
    };
    let one = |value: f64| vec![text(value)];
    let three = |value: f64| vec![text(value); 3];
    say("brief.view", 0, &["at-the-top".to_owned()]);
    say("brief.top-faces", 0, &["minus-x".to_owned()]);
    say("pickup.machine-a", 0, &one(121.4));
    say("pickup.tip-radius", 0, &one(TIP));
    say("pickup.touch-height", 0, &one(HEIGHT));
    say("pickup.x-side", 0, &["plus-side".to_owned()]);
    say("pickup.x", 0, &three(FACE_X + TIP));
    for (round, turned) in [(0, 0.0), (1, 180.0)] {
        say("pickup.y-front", round, &three(middle(turned, HEIGHT) - HALF - TIP));
        say("pickup.y-back", round, &three(middle(turned, HEIGHT) + HALF + TIP));
    }
    let rise = 60.0 * ROLL_DEG.to_radians().tan();
    say("pickup.edge-rear", 0, &[text(0.1 + rise), text(0.1 + rise)]);
    say("pickup.edge-front", 0, &[text(0.1), text(0.1)]);
    say("pickup.setter-touch", 0, &three(TABLE + SETTER + REFERENCE));
    say("pickup.z-top", 0, &three(AXIS_Z + OFF.1 + HALF));
    say("pickup.y-turn-plus", 0, &three(AXIS_Y + OFF.1 + HALF + TIP));
    say("pickup.y-turn-minus", 0, &three(AXIS_Y - OFF.1 - HALF - TIP));
    say("tram.sense", 0, &["falls".to_owned()]);
    say("tram.way", 0, &["needle".to_owned()]);
    say("tram.machine-a", 0, &one(121.4));
    say("tram.approach", 0, &["from-below".to_owned()]);
    for id in ["tram.rear", "tram.front"] {
        say(id, 0, &vec![text(0.2); 8]);
    }
    say("tram.accept", 0, &["accept".to_owned()]);
    say("tram.known-jog", 0, &one(0.1));
    say("tram.brake-rear", 0, &one(0.2));
    say("tram.brake-front", 0, &one(0.2));
    say("capture.registers-before", 0, &["G58 X0 Y0 Z0 A0; G54 X101.5 Y-44 Z-260 A77.7".to_owned()]);
    say("capture.machine-a", 0, &one(121.4));
    say("capture.displayed-a", 0, &one(43.7));
    say("capture.live-a", 0, &one(77.7));
    say("capture.registers-after", 0, &[format!("G58 X{FACE_X} Y-133.21 Z-337.7 A121.4")]);
    say("capture.work-a", 0, &one(0.0));
    say("capture.tool-length", 0, &one(TOOL));
    say("capture.common-shift", 0, &one(0.0));
    say("capture.machine-x", 0, &one(150.0));
    say("capture.work-x", 0, &one(150.0 - FACE_X));
    say("capture.machine-y", 0, &one(-140.0));
    say("capture.work-y", 0, &one(-140.0 - AXIS_Y));
    say("capture.machine-z", 0, &one(-120.0));
    say("capture.work-z", 0, &one(-120.0 - AXIS_Z - TOOL));
    say("capture.return-x", 0, &one(TIP));
    all
}

/// Starts a session with a card and these answers; the fixture fit is answered as in the practice job.
fn start(card: &Value, own: Map<String, Value>) -> (TempDir, Rig) {
    let home = tempfile::tempdir().unwrap();
    let mut rig = Rig::on_card(home.path(), card, "flow-sensor-body");
    for (id, rounds) in own {
        rig.script["answers"][id] = rounds;
    }
    (home, rig)
}

fn honest() -> (TempDir, Rig) {
    start(&card(|_| ()), answers())
}

fn at(id: &str, round: u64, repeat: u64) -> (TempDir, Rig) {
    let (home, mut rig) = honest();
    rig.until(id, round, repeat);
    (home, rig)
}

#[track_caller]
fn near(found: f64, wanted: f64, within: f64) {
    assert!((found - wanted).abs() <= within, "found {found}, wanted {wanted}");
}

/// Answers on until a gate stands in the way.
fn until_stopped(rig: &mut Rig) {
    for _ in 0..400 {
        if rig.state["ask"].is_null() {
            return;
        }
        rig.step();
    }
    panic!("nothing stopped it");
}

/// A finding among those shown and those of steps closed on the way.
fn closed(rig: &Rig, id: &str, about: &str) -> f64 {
    let mut closed = rig.seen.iter().flat_map(|step| step["findings"].as_array().cloned().unwrap_or_default());
    let found = closed.rfind(|finding| finding["id"] == id && finding["about"] == about);
    found.unwrap_or_else(|| panic!("no finding {id} {about}"))["value"].as_f64().unwrap()
}

#[test]
fn the_datums_come_out_where_they_truly_stand() {
    let (_home, rig) = at("tram.tip-clear", 0, 1);
    near(closed(&rig, "pickup.x", ""), FACE_X, 0.0006);
    near(closed(&rig, "pickup.y", ""), AXIS_Y, 0.0012);
    near(closed(&rig, "pickup.z", ""), AXIS_Z, 0.0006);
    near(closed(&rig, "pickup.fixture-roll", ""), ROLL_DEG, 0.002);
    near(closed(&rig, "pickup.off-centre-y", ""), OFF.0, 0.0006);
    near(closed(&rig, "pickup.off-centre-z", ""), OFF.1, 0.0006);
}

#[test]
fn the_doubt_is_shown_term_by_term_with_the_way_to_halve_it() {
    let (_home, rig) = at("tram.tip-clear", 0, 1);
    let terms = ["x/touches", "x/display steps", "x/tip radius"].map(|about| closed(&rig, "pickup.term", about));
    let together = terms.iter().map(|term| term * term).sum::<f64>().sqrt();
    // 95 % of a normal distribution lie within 1.96 standard deviations.
    near(closed(&rig, "pickup.expanded", "x"), 1.959_964 * together, 1e-9);
    near(terms[0], 0.0008 / 3.0_f64.sqrt(), 1e-12);
    near(terms[2], 0.0005, 1e-12);
    near(closed(&rig, "pickup.halved", "x"), together / 2.0, 1e-12);
    let pickup = rig.seen.iter().find(|step| step["step"] == "linear-pickup").unwrap();
    let gates = pickup["gates"].as_array().unwrap();
    let said = gates.iter().find(|gate| gate["id"] == "pickup.uncertainty" && gate["about"] == "y").unwrap();
    // 0.002 degrees of the rotary, 6 mm over the axis, are more than all the touches.
    assert!(said["says"].as_str().unwrap().contains("Touch at centre height"), "{said}");
    let said = gates.iter().find(|gate| gate["id"] == "pickup.uncertainty" && gate["about"] == "z").unwrap();
    assert!(said["says"].as_str().unwrap().contains("centre height known to"), "{said}");
}

#[test]
fn mistake_10_length_compensation_is_off_or_of_another_tool() {
    let (_home, mut rig) = at("capture.work-z", 0, 1);
    taken(&rig.enter(&text(-120.0 - AXIS_Z)));
    rig.is_stopped_by("capture.identity", "stop", "length compensation is OFF");
    let (_home, mut rig) = at("capture.work-z", 0, 1);
    // Tool 2 of the card is 118.240 long.
    taken(&rig.enter(&text(-120.0 - AXIS_Z - 118.24)));
    rig.is_stopped_by("capture.identity", "stop", "length of tool 2");
}

#[test]
fn mistake_11_the_length_convention_is_mixed() {
    let mut own = answers();
    // Z of the tip typed for machine Z: the length is taken off twice.
    own["pickup.setter-touch"] = json!({"0": vec![text(TABLE + SETTER); 3]});
    let expected = json!({"expected": {"z": -337.6, "within": 1.5}, "z": {"again": "left-out"}});
    let (_home, mut rig) = start(&card(|card| card["datums"] = expected), own);
    until_stopped(&mut rig);
    rig.is_stopped_by("pickup.expected", "ask", "last setup");
}

#[test]
fn mistake_12_the_setter_is_forgotten() {
    let mut own = answers();
    own["pickup.setter-touch"] = json!({"0": vec![text(TABLE + REFERENCE); 3]});
    let (_home, mut rig) = start(&card(|_| ()), own);
    until_stopped(&mut rig);
    rig.is_stopped_by("pickup.z-two-ways", "ask", "height of the setter");
    near(rig.failed().unwrap()["measured"]["value"].as_f64().unwrap(), SETTER, 0.01);
}

#[test]
fn mistake_13_the_centre_height_is_another_risers() {
    let (_home, mut rig) = start(&card(|card| card["machine"]["centre_height"] = json!(152.7)), answers());
    until_stopped(&mut rig);
    rig.is_stopped_by("pickup.z-two-ways", "ask", "Another riser");
}

#[test]
fn mistake_14_no_centreline_from_one_middle() {
    let (_home, rig) = at("pickup.tip-clear", 0, 1);
    let known = rig.state["findings"].as_array().unwrap();
    assert!(known.iter().all(|finding| finding["id"] != "pickup.y"), "a centreline from one middle");
    assert_eq!(rig.state["move"]["to"], 301.4);
}

#[test]
fn mistake_15_roll_times_height_is_put_right_by_the_fixtures_own_roll() {
    let (_home, rig) = at("pickup.setter-touch", 0, 1);
    let moved = rig.finding("pickup.y", "") - rig.finding("pickup.flip-uncorrected", "");
    near(moved, HEIGHT * ROLL_DEG.to_radians().tan(), 0.0002);
    // At centre height the same fixture needs no roll at all.
    let mut own = answers();
    own["pickup.touch-height"] = json!({"0": ["0"]});
    for (round, turned) in [("0", 0.0), ("1", 180.0)] {
        own["pickup.y-front"][round] = json!(vec![text(middle(turned, 0.0) - HALF - TIP); 3]);
        own["pickup.y-back"][round] = json!(vec![text(middle(turned, 0.0) + HALF + TIP); 3]);
    }
    let (_home, mut rig) = start(&card(|_| ()), own);
    rig.until("pickup.setter-touch", 0, 1);
    near(rig.finding("pickup.y", ""), AXIS_Y, 0.0006);
}

#[test]
fn mistake_16_the_sign_of_the_radius_shows_at_the_return_touch() {
    let mut own = answers();
    // The radius was taken off already, so that X comes out two radii too far.
    own["pickup.x"] = json!({"0": vec![text(FACE_X - TIP); 3]});
    own["capture.registers-after"] = json!({"0": [format!("G58 X{} Y-133.21 Z-337.7 A121.4", FACE_X - 2.0 * TIP)]});
    own["capture.work-x"] = json!({"0": [text(150.0 - FACE_X + 2.0 * TIP)]});
    own["capture.return-x"] = json!({"0": [text(TIP + 2.0 * TIP)]});
    let (_home, mut rig) = start(&card(|_| ()), own);
    until_stopped(&mut rig);
    rig.is_stopped_by("capture.return-x", "stop", "whole tip diameter");
}

#[test]
fn mistake_16_again_the_opposite_face_names_it_at_once() {
    let mut own = answers();
    own["pickup.x"] = json!({"0": vec![text(FACE_X); 3]});
    own.insert("pickup.x-opposite".to_owned(), json!({"0": vec![text(FACE_X - 61.5); 3]}));
    let datums = json!({"x": {"opposite": 61.5}});
    let (_home, mut rig) = start(&card(|card| card["datums"] = datums), own);
    until_stopped(&mut rig);
    rig.is_stopped_by("pickup.length", "stop", "taken off already, or with the wrong sign");
}

#[test]
fn mistake_17_a_diameter_is_typed_for_the_radius() {
    let (_home, mut rig) = at("pickup.tip-radius", 0, 1);
    assert_eq!(rig.enter("4")["doubt"]["slip"], "times-2");
    taken(&rig.send(&json!({"sure": "it is what I measured"})));
    until_stopped(&mut rig);
    rig.is_stopped_by("pickup.width", "stop", "DIAMETER typed for the radius");
}

#[test]
fn mistake_18_inch_and_millimetre_are_mixed() {
    let (_home, mut rig) = at("pickup.y-back", 0, 2);
    let inches = (middle(0.0, HEIGHT) + HALF + TIP) / 25.4;
    assert_eq!(rig.enter(&format!("{inches:.4}"))["doubt"]["slip"], "divided-by-25.4");
    // A whole face in the wrong unit agrees with itself; the width does not.
    let mut own = answers();
    own["pickup.y-back"]["0"] = json!(vec![format!("{inches:.4}"); 3]);
    let (_home, mut rig) = start(&card(|_| ()), own);
    until_stopped(&mut rig);
    rig.is_stopped_by("pickup.width", "stop", "inch for millimetre");
}

#[test]
fn mistake_19_a_decimal_place_slips() {
    let (_home, mut rig) = at("pickup.setter-touch", 0, 2);
    assert_eq!(rig.enter("-33.89")["doubt"]["slip"], "divided-by-10");
    taken(&rig.send(&json!({"sure": "so it says"})));
    if rig.ask_id() == "pickup.setter-touch" {
        assert!(rig.enter("-338.9").get("doubt").is_some());
        taken(&rig.send(&json!({"sure": "so it says"})));
    }
    rig.is_stopped_by("repeats-agree", "ask", "apart");
}

#[test]
fn mistake_20_two_digits_are_swapped() {
    let (_home, mut rig) = at("pickup.x", 0, 3);
    assert_eq!(rig.enter("214.435")["doubt"]["slip"], "digits-swapped");
    taken(&rig.enter("214.346"));
}

#[test]
fn a_chip_under_one_touch_is_named_and_not_dropped() {
    let (_home, mut rig) = at("pickup.y-front", 1, 3);
    let chip = middle(180.0, HEIGHT) - HALF - TIP - 0.083;
    assert!(rig.enter(&text(chip)).get("doubt").is_some());
    taken(&rig.send(&json!({"sure": "read twice"})));
    rig.is_stopped_by("repeats-agree", "ask", "reading 3");
    taken(&rig.send(&json!({"again": {"gate": "repeats-agree", "why": "wiped, a chip lay there"}})));
    assert_eq!((rig.ask_id().as_str(), &rig.state["ask"]["repeat"]), ("pickup.y-front", &json!(1)));
}

#[test]
fn mistake_39_an_index_lies_beyond_the_travel() {
    // The nearest feature stands at X 184.345; the travel of this machine begins at 190.
    let low = json!({"x": 190, "y": -400, "z": -450});
    let (_home, mut rig) = start(&card(|card| card["machine"]["travel_low"] = low), answers());
    until_stopped(&mut rig);
    rig.is_stopped_by("index.travel", "stop", "beyond the end of travel");
    near(rig.failed().unwrap()["measured"]["value"].as_f64().unwrap(), FACE_X - 28.0 - 190.0, 0.001);
}

#[test]
fn the_register_line_is_an_aid_and_a_protected_register_that_changed_stops() {
    let (_home, mut rig) = at("capture.registers-after", 0, 1);
    let says = rig.state["move"]["says"].as_str().unwrap();
    assert!(says.contains("G21 G90 G10 L2 P5 X212.345 Y-133.21"), "{says}");
    assert!(says.contains("read the register back"), "{says}");
    taken(&rig.enter("G58 X212.345 Y-133.21 Z-337.7 A121.4; G54 X101.5 Y-44.2 Z-260 A77.7"));
    rig.is_stopped_by("capture.others-unchanged", "stop", "Y of G54 (it belongs to another job) was -44");
}

#[test]
fn every_index_has_its_travel_and_its_gap_to_the_table() {
    let (_home, rig) = at("run.unit-mode", 0, 1);
    for feature in ["p1", "p2", "p3", "b"] {
        for axis in ["x", "y", "z"] {
            assert!(closed(&rig, "index.travel", &format!("{feature}/{axis}")) > 0.0);
        }
        assert!(closed(&rig, "index.table-gap", feature) > 50.0);
    }
    // Port P1 looks up: the lowest corner is half the fixture below the axis, less the off-centre.
    let low = HALF - closed(&rig, "index.off-centre-z", "");
    near(closed(&rig, "index.table-gap", "p1"), CENTRE_HEIGHT - low, 0.001);
}

/// Touches round an upright bore of 20 mm at 30 mm behind the back face (the top looks to -X).
fn round_answers(own: &mut Map<String, Value>, circle: f64) {
    let (mut x, mut y) = (json!({}), json!({}));
    for (angle, turned) in [(0_u32, 0.0), (1, 180.0)] {
        for touch in 0..8_u32 {
            let (sine, cosine) = (45.0 * f64::from(touch)).to_radians().sin_cos();
            let round = (100 * angle + touch).to_string();
            x[&round] = json!([text(FACE_X - 30.0 + circle * cosine)]);
            y[&round] = json!([text(middle(turned, HEIGHT) + circle * sine)]);
        }
    }
    own.insert("pickup.round-x".to_owned(), x);
    own.insert("pickup.round-y".to_owned(), y);
}

fn round_card(middle: &str) -> Value {
    card(|card| {
        card["datums"] = json!({"x": {"by": "round"}, "y": {"middle": middle},
            "round": {"along": 30, "diameter": 20}});
    })
}

#[test]
fn a_bore_or_a_boss_gives_x_and_y_with_form_and_ellipse() {
    for (middle, circle) in [("bore", 10.0 - TIP), ("boss", 10.0 + TIP)] {
        let mut own = answers();
        round_answers(&mut own, circle);
        let (_home, mut rig) = start(&round_card(middle), own);
        rig.until("tram.tip-clear", 0, 1);
        near(closed(&rig, "pickup.x", ""), FACE_X, 0.001);
        near(closed(&rig, "pickup.y", ""), AXIS_Y, 0.0012);
        near(closed(&rig, "pickup.round-diameter", "0"), 20.0, 0.001);
        assert!(closed(&rig, "pickup.round-form", "1") < 0.002);
        // Eight points: 2.4477 sqrt(2/8) times a point of 0.0008 and 0.001/sqrt(12).
        near(closed(&rig, "pickup.centre-ellipse", "0/long"), 2.4477 * 0.5 * 0.000_851, 0.000_02);
    }
}

#[test]
fn a_wrong_radius_or_an_oval_bore_is_seen() {
    let mut own = answers();
    round_answers(&mut own, 10.0);
    let (_home, mut rig) = start(&round_card("bore"), own);
    until_stopped(&mut rig);
    rig.is_stopped_by("pickup.round-diameter", "stop", "taken off already");
    let mut own = answers();
    round_answers(&mut own, 10.0 - TIP);
    own["pickup.round-x"]["3"] = json!([text(FACE_X - 30.0 + (10.0 - TIP) * 135.0_f64.to_radians().cos() - 0.06)]);
    let (_home, mut rig) = start(&round_card("bore"), own);
    until_stopped(&mut rig);
    rig.is_stopped_by("pickup.round-form", "ask", "do not lie on a circle");
}

#[test]
fn a_sweep_finds_the_centre_by_half_the_difference() {
    let mut own = answers();
    let (off_x, off_y) = (0.021, -0.034);
    for (round, turned) in [("0", 0.0), ("1", 180.0)] {
        for (id, value) in [
            ("pickup.sweep-x", FACE_X - 30.0 + off_x),
            ("pickup.sweep-y", middle(turned, HEIGHT) + off_y),
            ("pickup.sweep-plus-x", off_x),
            ("pickup.sweep-minus-x", -off_x),
            ("pickup.sweep-plus-y", off_y),
            ("pickup.sweep-minus-y", -off_y),
        ] {
            let rounds = own.entry(id.to_owned()).or_insert_with(|| json!({}));
            rounds[round] = json!([text(value)]);
        }
    }
    let (_home, mut rig) = start(&round_card("sweep"), own);
    rig.until("tram.tip-clear", 0, 1);
    near(closed(&rig, "pickup.x", ""), FACE_X, 0.001);
    near(closed(&rig, "pickup.y", ""), AXIS_Y, 0.0012);
    near(closed(&rig, "pickup.sweep-offset", "0"), off_x.hypot(off_y), 0.0006);
}

#[test]
fn an_edge_and_a_corner_are_taken_with_their_skew() {
    let mut own = answers();
    // The back face runs 0.3 mm/m further out towards the rear; the front face is square to the axis.
    let (mut edge_x, mut edge_y, mut side_x, mut side_y) = (json!({}), json!({}), json!({}), json!({}));
    for (round, along) in [("0", -30.0), ("1", 0.0), ("2", 30.0)] {
        edge_x[round] = json!([text(FACE_X + TIP + 0.0003 * along)]);
        edge_y[round] = json!([text(AXIS_Y + along)]);
        side_x[round] = json!([text(FACE_X - 35.0 + along)]);
        side_y[round] = json!([text(middle(0.0, HEIGHT) - HALF - TIP)]);
    }
    for (id, rounds) in
        [("pickup.edge-x", edge_x), ("pickup.edge-y", edge_y), ("pickup.side-x", side_x), ("pickup.side-y", side_y)]
    {
        own.insert(id.to_owned(), rounds);
    }
    for by in ["edge", "corner"] {
        let datums = json!({"x": {"by": by}});
        let (_home, mut rig) = start(&card(|card| card["datums"] = datums), own.clone());
        rig.until("tram.tip-clear", 0, 1);
        near(closed(&rig, "pickup.x", ""), FACE_X, 0.001);
        near(closed(&rig, "pickup.skew", ""), 0.3, 0.02);
        if by == "corner" {
            let corner_y = middle(0.0, HEIGHT) - HALF;
            near(closed(&rig, "pickup.corner", "y"), corner_y, 0.001);
            near(closed(&rig, "pickup.corner", "x"), FACE_X + 0.0003 * (corner_y - AXIS_Y), 0.001);
            near(closed(&rig, "pickup.corner-skew", "square"), -0.0003_f64.atan().to_degrees(), 0.002);
        }
    }
}

#[test]
fn four_angles_close_and_find_both_off_centres() {
    let mut own = answers();
    for round in 0..4_u32 {
        let turned = 90.0 * f64::from(round);
        own["pickup.y-front"][round.to_string()] = json!(vec![text(middle(turned, HEIGHT) - HALF - TIP); 3]);
        own["pickup.y-back"][round.to_string()] = json!(vec![text(middle(turned, HEIGHT) + HALF + TIP); 3]);
    }
    let four = card(|card| card["datums"] = json!({"y": {"angles": 4}}));
    let (_home, mut rig) = start(&four, own.clone());
    rig.until("tram.tip-clear", 0, 1);
    near(closed(&rig, "pickup.y", ""), AXIS_Y, 0.0012);
    near(closed(&rig, "pickup.off-centre-y", ""), OFF.0, 0.0006);
    near(closed(&rig, "pickup.off-centre-z", ""), OFF.1, 0.0006);
    assert!(closed(&rig, "pickup.closure", "") < 0.001);
    // A fixture that moves between the angles does not close.
    own["pickup.y-front"]["2"] = json!(vec![text(middle(180.0, HEIGHT) - HALF - TIP + 0.02); 3]);
    own["pickup.y-back"]["2"] = json!(vec![text(middle(180.0, HEIGHT) + HALF + TIP + 0.02); 3]);
    let (_home, mut rig) = start(&four, own);
    until_stopped(&mut rig);
    rig.is_stopped_by("pickup.closure", "ask", "do not close");
}

#[test]
fn z_comes_from_a_setter_on_top_and_from_a_flip_from_above() {
    let on_face = |off: f64| AXIS_Z + off + HALF + SETTER + REFERENCE;
    let mut own = answers();
    own.insert(
        "pickup.top-touch".to_owned(),
        json!({"0": vec![text(on_face(OFF.1)); 3], "1": vec![text(on_face(-OFF.1)); 3]}),
    );
    for (by, within) in [("setter-on-top", 0.0036), ("flip-from-above", 0.0006)] {
        let datums = json!({"z": {"by": by, "again": "left-out"}});
        let (_home, mut rig) = start(&card(|card| card["datums"] = datums), own.clone());
        rig.until("tram.tip-clear", 0, 1);
        // On top the off-centre is the card's, 0.003 off here; the flip needs none.
        near(closed(&rig, "pickup.z", ""), AXIS_Z, within);
        assert!(closed(&rig, "pickup.expanded", "z") > within - 0.0006);
    }
}

#[test]
fn cards_that_lack_what_a_way_rests_on_are_refused() {
    for datums in [
        json!({"x": {"by": "two-faces"}}),
        json!({"y": {"middle": "bore"}}),
        json!({"x": {"by": "round"}, "round": {"along": 3, "diameter": 8}}),
    ] {
        let faults = setwright::job::read(&card(|card| card["datums"] = datums.clone()).to_string()).unwrap_err();
        assert!(faults.to_string().contains("datums"), "{datums}: {faults}");
    }
}
