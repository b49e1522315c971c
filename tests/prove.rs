//! Programs of our own walked against the practice jobs: the good ones give no report, each slip gives its own.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, reason = "a test may stop at what it did not expect")]

use setwright::job::{self, JobCard, practice_cards};
use setwright::program::{Found, Proof, ProveError, Setup, Severity, Subprograms, prove};

const FIRST: &str = include_str!("programs/flow-sensor-body.nc");
const SECOND: &str = include_str!("programs/metering-valve-body.nc");

fn card(index: usize) -> JobCard {
    job::read(practice_cards()[index].1).unwrap()
}

fn walk(program: &str, setup: &Setup<'_>) -> Proof {
    let subprograms = Subprograms::collect(program.as_bytes()).unwrap();
    prove(program.as_bytes(), &subprograms, setup).unwrap()
}

/// The register of the first practice job as its session writes it.
fn found() -> Found {
    Found { register: Some([-312.405, -187.463, -372.796]), register_a: Some(37.412), ..Found::default() }
}

/// Walks the first practice program with one thing changed; the change must really be there.
#[track_caller]
fn changed(from: &str, to: &str) -> Proof {
    let program = FIRST.replacen(from, to, 1);
    assert_ne!(program, FIRST, "`{from}` does not stand in the program");
    let card = card(0);
    walk(&program, &Setup { card: &card, found: Some(found()) })
}

#[track_caller]
fn caught(from: &str, to: &str, id: &str, severity: Severity) {
    let proof = changed(from, to);
    let report = proof.reports.kept().iter().find(|report| report.trouble.id() == id);
    let report = report.unwrap_or_else(|| panic!("{id} is missing: {:?}", proof.reports.kept()));
    assert_eq!(report.trouble.severity(), severity, "{report:?}");
}

#[test]
fn the_good_programs_give_no_report() {
    let (first, second) = (card(0), card(1));
    let with_session = walk(FIRST, &Setup { card: &first, found: Some(found()) });
    for proof in [walk(FIRST, &Setup::of_card(&first)), walk(SECOND, &Setup::of_card(&second)), with_session] {
        assert!(proof.reports.kept().is_empty(), "{:?}", proof.reports.kept());
        assert_eq!(proof.plan.len(), 2);
    }
}

#[test]
fn each_slip_of_calls_is_caught() {
    use Severity::{Look, Stop};
    caught("N40 G56 ", "N40 ", "register-not-called", Stop);
    caught("N40 G56 ", "N40 G57 ", "register-wrong", Stop);
    caught("N40 G56 ", "N40 G54 ", "register-protected", Stop);
    caught("N20 ", "N20 G10 L2 P1 X0\nN21 ", "register-written", Stop);
    caught("N20 ", "N20 G10 L2 P3 X0\nN21 ", "register-written", Look);
    caught("N20 ", "N20 G92 X0\nN21 ", "common-shift", Stop);
    caught("N10 G21", "N10 G20", "unit-mismatch", Stop);
    caught("N10 G21", "N10", "unit-not-called", Look);
    caught("N60 G0 A0.", "N60 G0 A0. G91", "incremental-left-on", Stop);
    caught("H2 Z100.", "H1 Z100.", "length-wrong", Stop);
    caught("G43 H1 Z100.", "Z100.", "length-not-called", Stop);
    caught("T2 M6", "T7 M6", "tool-not-on-card", Stop);
    caught("M8", "M8 M49", "overrides-off", Stop);
}

#[test]
fn each_slip_of_moves_is_caught() {
    use Severity::{Look, Stop};
    caught("N80 G98", "N80 G99", "index-too-low", Stop);
    caught("N100 G0 A90.", "N100 G0 A-270.", "index-long-way", Look);
    caught("N70 X28.", "N70 X400.", "travel-side", Look);
    caught("N70 X28.", "N70 X-400.", "travel-exceeded", Stop);
    caught("R34. F286.", "R26. F286.", "rapid-low", Look);
    caught("R34. F286.", "R20. F286.", "rapid-into-work", Stop);
    caught("N70 X28.", "N70 X10.", "into-fixture", Stop);
    caught("N120 G81", "N120 G81 A95.", "index-in-cycle", Stop);
    caught("N120 ", "N120 G68 X0 Y0 R10\nN121 ", "transform-on", Stop);
    caught("N120 G81 Z16.936", "N120 G2 X40. R1.\nN121 G81 Z16.936", "arc-without-centre", Stop);
}

#[test]
fn each_slip_of_cutting_is_caught() {
    use Severity::{Look, Stop};
    caught("S4775 M3", "S4775", "spindle-off", Stop);
    caught("S4775 M3", "S4775 M4", "spindle-reversed", Stop);
    caught("Z100. M8", "Z100.", "coolant-off", Look);
    caught("S4775", "S12000", "spindle-over-limit", Stop);
    caught("S4775 M3", "S3000 M3", "spindle-off-plan", Look);
    caught("F286.", "F400.", "feed-above-plan", Look);
    caught("F286.", "F230.", "feed-below-plan", Look);
    caught("F286.", "F100.", "feed-under-floor", Stop);
    caught("G98 G81 Z16.942", "G98 G82 P0.5 Z16.942", "dwell-in-cut", Stop);
    caught("G98 G81 Z16.942", "G98 G83 Q0.5 Z16.942", "peck-small", Stop);
}

#[test]
fn each_slip_of_holes_is_caught() {
    use Severity::{Look, Stop};
    caught("N110 X36.", "N110 X60.", "hole-unknown", Stop);
    caught("N110 X36.", "N110 X60.", "feature-not-cut", Stop);
    caught("N110 X36. Y-0.011", "N110 X36.2 Y-0.011", "hole-position", Stop);
    caught("N100 G0 A90.", "N100 G0 A91.", "hole-angle", Stop);
    caught("Z16.936", "Z14.", "hole-depth", Look);
    caught("N220 G0 A270.", "N220 G0 A180.\nN221 X28.\nN222 G81 Z16.942 R34. F220.\nN223 G80 A270.", "hole-size", Stop);
    let mirrored = FIRST.replacen("N100 G0 A90.", "N100 G0 A-90.", 1).replacen("A270.", "A-270.", 1);
    let card = card(0);
    let proof = walk(&mirrored, &Setup::of_card(&card));
    assert!(proof.reports.has("mirrored"), "{:?}", proof.reports.kept());
}

#[test]
fn a_cutter_larger_than_its_pocket_is_caught() {
    let circle = "N240 G1 Z15. F220.\nN241 G2 X36. Y0.012 I1. J0.\nN242 G0 Z100.";
    let program = FIRST.replacen("N240 G81 Z12.6 R34. F220.", circle, 1).replacen("X36. Y0.012", "X28. Y-0.018", 1);
    let program = program.replacen("A270.", "A180.", 1).replacen("G2 X36. Y0.012", "G2 X28. Y-0.018", 1);
    let card = card(0);
    let proof = walk(&program, &Setup::of_card(&card));
    assert!(proof.reports.has("cutter-too-large"), "{:?}", proof.reports.kept());
}

#[test]
fn a_range_that_dips_to_the_table_is_forbidden() {
    let text = practice_cards()[0].1.replacen("160.004", "66.0", 1);
    let mut low: serde_json::Value = serde_json::from_str(&text).unwrap();
    low["machine"]["centre_height"] = serde_json::json!(66.0);
    let card = job::read(&low.to_string()).unwrap();
    let proof = walk(FIRST, &Setup::of_card(&card));
    assert!(proof.reports.has("index-forbidden"), "{:?}", proof.reports.kept());
}

// Stops of the first practice job over its first port: surface 23.988 + 30, 5, 1; machine Z = Z + register + length.
#[test]
fn the_plan_tells_what_the_screen_shows_at_each_stop() {
    let card = card(0);
    let proof = walk(
        FIRST,
        &Setup { card: &card, found: Some(Found { off_centre: Some((0.017_537, -0.011_571)), ..found() }) },
    );
    let part = &proof.plan[0];
    let machine: Vec<f64> = part.stops.iter().map(|stop| stop.machine_z.unwrap()).collect();
    for (found, wanted) in machine.iter().zip([-211.22, -236.22, -240.22]) {
        assert!((found - wanted).abs() < 1e-3, "{machine:?}");
    }
    // 4.27 % for a gap of 10 mm (kinematics, worked case of the project).
    let ceiling = part.approach.as_ref().unwrap().rapid_ceiling.unwrap();
    assert!((ceiling - 4.271).abs() < 0.01, "{ceiling}");
    assert_eq!(part.cut.as_ref().unwrap().lowest_feed_step, Some(60.0));
}

#[test]
fn bad_input_is_told_in_words() {
    let card = card(0);
    let setup = Setup::of_card(&card);
    let none = Subprograms::default();
    assert!(matches!(prove(&b"G0\0X1\n"[..], &none, &setup), Err(ProveError::NoText)));
    let tolerant = FIRST.replace('%', "").to_lowercase().replace('\n', "\r\n").replace("n100 ", "n7 ");
    assert!(walk(&tolerant, &setup).reports.kept().is_empty());
    for (program, id) in [
        ("", "nothing-moves"),
        ("just words\n", "not-understood"),
        ("#1=5\nG0 X#1\n", "place-unknown"),
        ("G187 P3\nG187 P3\n", "not-understood"),
        ("M98 P77\n", "subprogram-missing"),
        ("O9\nM98 P9\nM99\nO8\nM98 P8\nM99\n", "nothing-moves"),
        ("G0 X1 (open\n", "open-comment"),
    ] {
        let proof = walk(program, &setup);
        assert!(proof.reports.has(id), "{program}: {:?}", proof.reports.kept());
    }
    assert_eq!(walk("G187\nG187\n", &setup).reports.counts()["not-understood"], 2);
}

#[test]
fn plain_subprograms_are_followed() {
    let cycle = "G98 G81 Z16.942 R34. F286.";
    let with_sub = FIRST.replacen(cycle, "M98 P100", 1).replacen("M30\n", &format!("M30\nO100\n{cycle}\nM99\n"), 1);
    let card = card(0);
    let proof = walk(&with_sub, &Setup::of_card(&card));
    assert!(proof.reports.kept().is_empty(), "{:?}", proof.reports.kept());
}
