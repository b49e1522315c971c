//! Both practice jobs through the engine, to the last printed digit of every computed value.
//!
//! Source: the project's own demo jobs (simulated readings with a stated truth), computed there by an independent
//! program from the same readings and printed as text. Each number here is typed as printed: it must lie within half a
//! unit of its last digit.
#![allow(
    clippy::too_many_lines,
    clippy::needless_pass_by_value,
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout,
    reason = "a test may stop at what it did not expect"
)]

#[path = "support/player.rs"]
mod player;

use player::Player;
use serde_json::json;
use setwright::calc;

/// Half a unit in the last place of a number as printed.
fn half_unit(printed: &str) -> f64 {
    let (mantissa, exponent) = printed.split_once('e').unwrap_or((printed, "0"));
    let decimals = mantissa.split_once('.').map_or(0, |(_, decimals)| decimals.len());
    let places = i32::try_from(decimals).unwrap() - exponent.parse::<i32>().unwrap();
    0.5 * 10_f64.powi(-places)
}

#[track_caller]
fn printed(found: f64, printed: &str, what: &str) {
    let expected: f64 = printed.parse().unwrap();
    let slack = 1e-9 * expected.abs().max(1e-6);
    assert!((found - expected).abs() <= half_unit(printed) + slack, "{what}: found {found}, printed {printed}");
}

#[track_caller]
fn all_printed(player: &Player, piece: u32, expected: &[(&str, &str, &str)]) {
    for (id, about, text) in expected {
        printed(player.seen(piece, id, about), text, &format!("{id} {about}"));
    }
}

fn one(name: &str, inputs: serde_json::Value, key: &str) -> f64 {
    let outputs = calc::reckon(name, inputs.as_object().unwrap()).unwrap();
    outputs[key]["value"].as_f64().unwrap()
}

fn played(name: &str) -> (tempfile::TempDir, Player) {
    let home = tempfile::tempdir().unwrap();
    let mut player = Player::start(home.path(), name);
    player.finish();
    (home, player)
}

#[test]
fn s1_fixture_fit() {
    let (_home, player) = played("flow-sensor-body");
    all_printed(
        &player,
        0,
        &[
            ("fit.play", "slot-1", "0.012333"),
            ("fit.play-angle", "slot-1", "0.018597"),
            ("fit.standoff", "slot-1", "0"),
            ("fit.play", "slot-2", "0.014667"),
            ("fit.play-angle", "slot-2", "0.022116"),
            ("fit.standoff", "slot-2", "0"),
            ("fit.seat-height", "", "-0.00075"),
            // Slopes are printed there in mm/mm: 2.14286e-05 and -7.14286e-06.
            ("fit.seat-slope-u", "", "0.0214286"),
            ("fit.seat-slope-v", "", "-0.00714286"),
            ("fit.seat-tilt", "", "0.001294"),
            ("fit.seat-residual", "", "0.00025"),
            ("fit.expected-gap", "", "1.390044"),
            ("fit.swing", "", "64.701236"),
            ("fit.table-clearance", "", "95.302764"),
        ],
    );
}

#[test]
fn s2_fixture_fit() {
    let (_home, player) = played("metering-valve-body");
    all_printed(
        &player,
        0,
        &[
            ("fit.play", "slot-1", "0.000466667"),
            ("fit.play-angle", "slot-1", "0.017827"),
            ("fit.standoff", "slot-1", "0"),
            ("fit.play", "slot-2", "0.000533333"),
            ("fit.play-angle", "slot-2", "0.020373"),
            ("fit.standoff", "slot-2", "0"),
            ("fit.seat-height", "", "-1.25e-05"),
            ("fit.seat-slope-u", "", "-0.00961538"),
            ("fit.seat-slope-v", "", "0.00961538"),
            ("fit.seat-tilt", "", "0.00077912"),
            ("fit.seat-residual", "", "3.75e-05"),
            ("fit.expected-gap", "", "0.055288"),
            ("fit.swing", "", "2.299511"),
            ("fit.table-clearance", "", "4.000889"),
        ],
    );
}

#[test]
fn s1_linear_pickup() {
    let (_home, player) = played("flow-sensor-body");
    all_printed(
        &player,
        0,
        &[
            ("pickup.x", "", "-312.405333"),
            ("pickup.middle", "0", "-187.373"),
            ("pickup.middle", "1", "-187.408167"),
            ("pickup.flip-uncorrected", "", "-187.390583"),
            ("pickup.off-centre-y", "", "0.017583"),
            ("pickup.width", "0", "90.002"),
            ("pickup.width", "1", "90.002333"),
            ("pickup.z", "", "-372.796333"),
            ("pickup.table", "", "-532.800333"),
            // Slopes are printed there in mm/mm: 4.375e-05, -5e-05, 4.375e-05, -2.5e-05.
            ("pickup.axis-slope-y", "", "0.04375"),
            ("pickup.axis-slope-z", "", "-0.05"),
            ("pickup.bar-slope-y", "", "0.04375"),
            ("pickup.bar-slope-z", "", "-0.025"),
            ("pickup.fixture-roll", "", "-0.414671"),
            ("pickup.y", "", "-187.462958"),
            ("pickup.z-quarter-turn", "", "-372.795333"),
            ("pickup.z-two-ways", "", "0.001"),
            ("pickup.half-height", "", "44.989"),
            ("pickup.y-quarter-turn", "", "-187.463"),
            ("pickup.off-centre-z", "", "-0.0115"),
        ],
    );
    // What the part's roll in place of the fixture's would have given: printed there as -187.422548.
    let wrong = one(
        "midpoint-roll-correction",
        json!({"front_reading": -187.390_583_333_333_33, "back_reading": -187.390_583_333_333_33, "touch_height": 10,
            "roll_angle": player.seen(1, "tram.roll", "0")}),
        "midpoint_corrected",
    );
    printed(wrong, "-187.422548", "Yc if the part's roll were used");
}

#[test]
fn s2_linear_pickup() {
    let (_home, player) = played("metering-valve-body");
    all_printed(
        &player,
        0,
        &[
            ("pickup.x", "", "11.84208"),
            ("pickup.middle", "0", "-7.38203"),
            ("pickup.middle", "1", "-7.37976"),
            ("pickup.flip-uncorrected", "", "-7.380895"),
            ("pickup.off-centre-y", "", "-0.001135"),
            ("pickup.width", "0", "3.25006"),
            ("pickup.width", "1", "3.25"),
            ("pickup.z", "", "-14.6626"),
            ("pickup.table", "", "-20.963"),
            ("pickup.axis-slope-y", "", "-0.0416667"),
            ("pickup.axis-slope-z", "", "0.05"),
            ("pickup.bar-slope-y", "", "0.025"),
            ("pickup.bar-slope-z", "", "0.0166667"),
            ("pickup.fixture-roll", "", "-0.086438"),
            ("pickup.y", "", "-7.381498"),
            ("pickup.z-quarter-turn", "", "-14.66255"),
            ("pickup.z-two-ways", "", "5e-05"),
            ("pickup.half-height", "", "1.62585"),
            ("pickup.y-quarter-turn", "", "-7.38155"),
            ("pickup.off-centre-z", "", "0.00085"),
        ],
    );
    let wrong = one(
        "midpoint-roll-correction",
        json!({"front_reading": "-7.380895 in", "back_reading": "-7.380895 in", "touch_height": "0.4 in",
            "roll_angle": player.seen(1, "tram.roll", "0")}),
        "midpoint_corrected",
    );
    printed(wrong / 25.4, "-7.379222", "Yc if the part's roll were used");
}

#[test]
fn s1_rotary_tram_budget_and_capture() {
    let (_home, player) = played("flow-sensor-body");
    all_printed(
        &player,
        1,
        &[
            ("tram.difference", "0", "-0.179"),
            ("tram.roll", "0", "-0.183141"),
            ("tram.difference", "1", "0"),
            ("tram.roll", "1", "0"),
            ("tram.next-a", "0", "37.412"),
            ("tram.gain", "1", "1.000772"),
            ("tram.brake-roll", "", "0.001023"),
            ("tram.clocking", "", "0.23153"),
            ("tram.a", "", "37.412"),
            ("index.off-centre-y", "", "0.017537"),
            ("index.off-centre-z", "", "-0.011571"),
            ("capture.identity", "x", "0"),
            ("capture.identity", "y", "0"),
            ("capture.identity", "z", "0"),
            ("capture.identity", "a", "0"),
        ],
    );
    for (role, key, text) in [
        ("pads/0", "index_correction", "-0.183141"),
        ("pads/1", "index_correction", "0"),
        ("next/0", "correction_to_send", "-0.183"),
        ("resolution", "index_uncertainty", "0.000417695"),
        ("rounded/x", "rounded", "-312.405"),
        ("rounded/y", "rounded", "-187.463"),
        ("rounded/z", "rounded", "-372.796"),
    ] {
        printed(player.output(1, role, key), text, role);
    }
    for (key, text) in [
        ("budget_uncertainty", "0.016342"),
        ("tram_uncertainty", "0.015248"),
        ("angle_half_width", "0.063052"),
        ("pad_difference_limit", "0.061626"),
    ] {
        printed(player.output(0, "tram-tolerance", key), text, key);
    }
    let others = json!([0.002, 0.002, 0.002, 0.0015]);
    let inputs = json!({"position_zone": 0.08, "feature_radius": 24, "other_uncertainties": others, "pad_span": 56});
    printed(
        one("tram-tolerance", inputs, "pad_difference_limit"),
        "0.064257",
        "pad difference without the cutting terms",
    );
}

#[test]
fn s2_rotary_tram_budget_and_capture() {
    let (_home, player) = played("metering-valve-body");
    all_printed(
        &player,
        1,
        &[
            ("tram.difference", "0", "0.0092"),
            ("tram.roll", "0", "0.239599"),
            ("tram.difference", "1", "0"),
            ("tram.roll", "1", "0"),
            ("tram.next-a", "0", "211.706"),
            ("tram.gain", "1", "0.99833"),
            ("tram.brake-roll", "", "0.002604"),
            ("tram.clocking", "", "0.326037"),
            ("tram.a", "", "211.706"),
            ("index.off-centre-y", "", "-0.00113"),
            ("index.off-centre-z", "", "0.000856445"),
            ("capture.identity", "x", "0"),
            ("capture.identity", "y", "0"),
            ("capture.identity", "z", "0"),
            ("capture.identity", "a", "0"),
        ],
    );
    printed(player.output(1, "pads/0", "index_correction"), "-0.239599", "dA");
    printed(player.output(1, "next/0", "correction_to_send"), "-0.24", "dA sent");
    printed(player.output(1, "resolution", "index_uncertainty"), "0.000531611", "u of resolution");
    printed(player.output(1, "resolution", "repeat_limit"), "0.006208", "repeat limit");
    for (role, text) in [("rounded/x", "11.8421"), ("rounded/y", "-7.3815"), ("rounded/z", "-14.6626")] {
        printed(player.output(1, role, "rounded") / 25.4, text, role);
    }
    for (key, text, unit) in [
        ("budget_uncertainty", "0.000612808", 25.4),
        ("tram_uncertainty", "0.00049528", 25.4),
        ("angle_half_width", "0.056173", 1.0),
        ("pad_difference_limit", "0.002157", 25.4),
    ] {
        printed(player.output(0, "tram-tolerance", key) / unit, text, key);
    }
}

/// A, machine A, shift Y, shift Z, X, Y machine, Z surface, X, Y, Z program, entry slope, as printed.
type IndexRow = (&'static str, [&'static str; 11]);

fn index_table(player: &Player, rows: &[IndexRow]) {
    let ids = [
        "index.a-program",
        "index.a-machine",
        "index.shift-y",
        "index.shift-z",
        "index.x-machine",
        "index.y-machine",
        "index.z-surface",
        "index.x-program",
        "index.y-program",
        "index.z-program",
        "index.entry-slope",
    ];
    for (feature, texts) in rows {
        for (id, text) in ids.iter().zip(texts) {
            printed(player.seen(1, id, feature), text, &format!("{feature} {id}"));
        }
    }
}

#[test]
fn s1_index_table() {
    let (_home, player) = played("flow-sensor-body");
    index_table(
        &player,
        &[
            (
                "p1",
                [
                    "0",
                    "37.412",
                    "0.017537",
                    "-0.011571",
                    "-284.405",
                    "-187.445113",
                    "-348.807971",
                    "28",
                    "0.017887",
                    "23.988029",
                    "0",
                ],
            ),
            (
                "p2",
                [
                    "180",
                    "217.412",
                    "-0.017537",
                    "0.011571",
                    "-284.405",
                    "-187.480187",
                    "-348.784829",
                    "28",
                    "-0.017187",
                    "24.011171",
                    "0",
                ],
            ),
            (
                "p3",
                [
                    "90",
                    "127.412",
                    "-0.011571",
                    "-0.017537",
                    "-276.405",
                    "-187.473871",
                    "-348.814337",
                    "36",
                    "-0.010871",
                    "23.981663",
                    "0",
                ],
            ),
            (
                "b",
                [
                    "270",
                    "307.412",
                    "0.011571",
                    "0.017537",
                    "-276.405",
                    "-187.450729",
                    "-348.779263",
                    "36",
                    "0.012271",
                    "24.016737",
                    "0",
                ],
            ),
        ],
    );
}

#[test]
fn s2_index_table() {
    let (_home, player) = played("metering-valve-body");
    index_table(
        &player,
        &[
            (
                "port-1",
                [
                    "0",
                    "211.706",
                    "-0.00113",
                    "0.000856445",
                    "10.7421",
                    "-7.382616",
                    "-13.786761",
                    "-1.1",
                    "-0.001116",
                    "0.875839",
                    "0",
                ],
            ),
            (
                "port-2",
                [
                    "120",
                    "331.706",
                    "-0.000176631",
                    "-0.001407",
                    "10.7421",
                    "-7.381662",
                    "-13.789024",
                    "-1.1",
                    "-0.000162047",
                    "0.873576",
                    "0",
                ],
            ),
            (
                "port-3",
                [
                    "240",
                    "91.706",
                    "0.001307",
                    "0.000550512",
                    "10.7421",
                    "-7.380179",
                    "-13.787067",
                    "-1.1",
                    "0.001321",
                    "0.875533",
                    "0",
                ],
            ),
            (
                "dowel",
                [
                    "60",
                    "271.706",
                    "-0.001307",
                    "-0.000550512",
                    "10.3921",
                    "-7.382778",
                    "-13.788186",
                    "-1.45",
                    "-0.001278",
                    "0.874414",
                    "0",
                ],
            ),
        ],
    );
}

#[test]
fn s1_first_run_and_bore() {
    let (_home, player) = played("flow-sensor-body");
    all_printed(
        &player,
        0,
        &[
            ("run.rapid-ceiling", "", "4.27"),
            ("run.z-program", "far", "53.988"),
            ("run.machine-z-expected", "far", "-211.22"),
            ("run.to-go-expected", "far", "-37.046"),
            ("run.z-program", "near", "28.988"),
            ("run.machine-z-expected", "near", "-236.22"),
            ("run.to-go-expected", "near", "-12.046"),
            ("run.z-program", "gap", "24.988"),
            ("run.machine-z-expected", "gap", "-240.22"),
            ("run.to-go-expected", "gap", "-8.046"),
            ("run.z-program", "cut", "23.988"),
            ("run.machine-z-expected", "cut", "-241.22"),
            ("run.to-go-expected", "cut", "-7.046"),
            ("run.speed", "t1", "4774.6"),
            ("run.chip", "t1", "0.0282"),
            ("run.thrust", "t1", "168.3"),
            ("run.torque", "t1", "0.269"),
            ("run.feed-floor", "t1", "56.8"),
            ("run.depth-ratio", "t1", "2.33"),
            ("run.speed", "t2", "1836.4"),
            ("run.chip", "t2", "0.0564"),
            ("run.thrust", "t2", "762.1"),
            ("run.torque", "t2", "3.163"),
            ("run.feed-floor", "t2", "35.5"),
            ("run.depth-ratio", "t2", "1.28"),
            ("run.bore-middle", "b/1", "7.889"),
            ("run.bore-middle", "b/2", "7.949"),
            ("run.bore-middle", "b/3", "7.999"),
            ("run.bore-middle", "b/4", "8.011"),
            ("run.bore-next", "b/2", "8.0088"),
            ("run.bore-next", "b/3", "8.01772"),
            ("run.interference", "b", "0.009"),
            ("run.effective-interference", "b", "0.005"),
            ("run.press-pressure", "b", "51.8"),
            ("run.press-stress", "b", "107.2"),
            ("run.press-force-low", "b", "1041"),
            ("run.press-force-high", "b", "2602"),
        ],
    );
    let inputs = json!({"rapid_rate": 20000, "rapid_dial": 30, "deceleration": 3000, "reaction_time": 0.7});
    printed(one("stopping-distance", inputs, "stopping_distance"), "71.67", "stopping distance at 30 %");
}

#[test]
fn s2_first_run_and_bore() {
    let (_home, player) = played("metering-valve-body");
    all_printed(
        &player,
        0,
        &[
            ("run.rapid-ceiling", "", "5.69"),
            ("run.z-program", "far", "2.0758"),
            ("run.machine-z-expected", "far", "-8.3568"),
            ("run.to-go-expected", "far", "-1.6"),
            ("run.z-program", "near", "1.0758"),
            ("run.machine-z-expected", "near", "-9.3568"),
            ("run.to-go-expected", "near", "-0.6"),
            ("run.z-program", "gap", "0.9158"),
            ("run.machine-z-expected", "gap", "-9.5168"),
            ("run.to-go-expected", "gap", "-0.44"),
            ("run.z-program", "cut", "0.8758"),
            ("run.machine-z-expected", "cut", "-9.5568"),
            ("run.to-go-expected", "cut", "-0.4"),
            ("run.speed", "t1", "1222.3"),
            ("run.thrust", "t1", "318.8"),
            ("run.torque", "t1", "0.822"),
            ("run.feed-floor", "t1", "54.5"),
            ("run.depth-ratio", "t1", "1.99"),
            ("run.speed", "t2", "1643.5"),
            ("run.thrust", "t2", "748.9"),
            ("run.torque", "t2", "3.087"),
            ("run.feed-floor", "t2", "42.6"),
            ("run.depth-ratio", "t2", "1.64"),
            ("run.bore-middle", "dowel/1", "0.30745"),
            ("run.bore-middle", "dowel/2", "0.31005"),
            ("run.bore-middle", "dowel/3", "0.31175"),
            ("run.bore-middle", "dowel/4", "0.31215"),
            ("run.interference", "dowel", "0.00055"),
            ("run.effective-interference", "dowel", "0.00039"),
            ("run.press-pressure", "dowel", "15900.6"),
            ("run.press-stress", "dowel", "31652.5"),
            ("run.press-force-low", "dowel", "624"),
            ("run.press-force-high", "dowel", "1561"),
        ],
    );
    // Chips are printed there in millimetres.
    printed(player.seen(0, "run.chip", "t1") * 25.4, "0.0293", "chip of tool 1");
    printed(player.seen(0, "run.chip", "t2") * 25.4, "0.047", "chip of tool 2");
    let inputs =
        json!({"rapid_rate": "600 in/min", "rapid_dial": 30, "deceleration": "100 in/s2", "reaction_time": 0.7});
    printed(one("stopping-distance", inputs, "stopping_distance") / 25.4, "2.145", "stopping distance at 30 %");
}

#[test]
fn s1_first_article_batch_and_drift() {
    let (_home, player) = played("flow-sensor-body");
    all_printed(
        &player,
        1,
        &[
            ("check.position", "p1", "0.031048"),
            ("check.position", "p2", "0.036715"),
            ("check.position", "p3", "0.032985"),
            ("check.position", "b", "0.01077"),
        ],
    );
    let moved = [
        "9.53407e-06",
        "8.87402e-05",
        "5.1704e-05",
        "3.37359e-05",
        "6.30715e-05",
        "4.76704e-06",
        "3.59361e-05",
        "2.97023e-05",
        "6.89387e-05",
        "4.25366e-05",
        "8.80068e-05",
    ];
    for (piece, text) in (2..).zip(moved) {
        printed(player.seen(piece, "index.off-centre-moved", ""), text, &format!("off-centre moved, piece {piece}"));
    }
    printed(player.output(2, "off-centre-neglect", "limit"), "0.000666667", "a third of the off-centre share");
    all_printed(
        &player,
        10,
        &[
            ("check.drift", "", "-0.000418182"),
            ("check.predicted-bore", "", "8.0058"),
            ("check.correction", "", "0.004"),
        ],
    );
    let alarms: Vec<u32> = (1..=12)
        .filter(|piece| player.seen.contains_key(&(*piece, "check.correction".to_owned(), String::new())))
        .collect();
    assert_eq!(alarms, [10], "the drift alarm comes after piece 10 and at no other");
}

#[test]
fn s2_first_article_and_batch() {
    let (_home, player) = played("metering-valve-body");
    all_printed(
        &player,
        1,
        &[
            ("check.position", "port-1", "0.001703"),
            ("check.position", "port-2", "0.001897"),
            ("check.position", "port-3", "0.0017"),
            ("check.position", "dowel", "0.000316228"),
        ],
    );
    let moved =
        ["2.46247e-05", "9.47876e-06", "1.23249e-05", "1.64331e-05", "1.28446e-05", "1.63341e-05", "3.58857e-06"];
    for (piece, text) in (2..).zip(moved) {
        printed(player.seen(piece, "index.off-centre-moved", ""), text, &format!("off-centre moved, piece {piece}"));
    }
    printed(player.output(2, "off-centre-neglect", "limit") / 25.4, "2.66667e-05", "a third of the off-centre share");
}

#[test]
fn s2_power_cut_between_the_first_and_the_second_try() {
    let home = tempfile::tempdir().unwrap();
    let mut player = Player::start(home.path(), "metering-valve-body");
    player.until("tram.machine-a", 1, 1);
    let cut = setwright::checklist::Command::Happened { what: setwright::checklist::Happening::PowerCut };
    assert!(matches!(player.session.take(&cut).unwrap(), setwright::session::Outcome::Recorded(_)));
    let answers = &mut player.script["answers"];
    answers["pickup.check-x"] = json!({"1": ["11.9421", "11.9421", "11.9421", "11.9418", "11.9422"]});
    answers["pickup.check-y"] = json!({"1": ["-7.3814", "-7.3815", "-7.3813", "-7.3815", "-7.3816"]});
    // Z after the cut is chosen; the practice job has none.
    answers["pickup.check-z"] = json!({"1": ["-14.213", "-14.213", "-14.213"]});
    answers["tram.machine-a"] = json!({"0": ["211.706"]});
    answers["tram.rear"] = json!({"0": ["0.01025", "0.0103"]});
    answers["tram.front"] = json!({"0": ["0.00975", "0.0097"]});
    answers["tram.accept"] = json!({"0": ["move"]});
    player.until("tram.machine-a", 1, 1);
    all_printed(&player, 1, &[("tram.roll", "0", "0.014324"), ("tram.next-a", "0", "211.692")]);
    printed(player.output(1, "pads/0", "index_correction"), "-0.014324", "dA after the cut");
    printed(player.output(1, "next/0", "correction_to_send"), "-0.014", "change of A");
    printed(player.output(1, "resolution", "repeat_limit"), "0.006208", "repeat limit");
    // Inside the tram's half width, outside the rotary's own repeat: the new zero is worth the move.
    printed(player.output(0, "tram-tolerance", "angle_half_width"), "0.056173", "half width");
}

#[test]
fn what_the_three_usual_mistakes_would_have_cost() {
    // Against the stated truth: Y -187.463 mm and -7.3815 in.
    for (name, truth, single, forgotten) in
        [("flow-sensor-body", -187.463, "0.09", "0.072417"), ("metering-valve-body", -7.3815, "-0.00053", "0.000605")]
    {
        let (_home, player) = played(name);
        printed(player.seen(0, "pickup.middle", "0") - truth, single, "a single middle");
        printed(player.seen(0, "pickup.flip-uncorrected", "") - truth, forgotten, "roll times height forgotten");
        assert!((player.seen(0, "pickup.y", "") - truth).abs() < 0.000_1, "the pickup itself is right");
    }
}
