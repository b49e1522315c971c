//! Linear pickup on the simulated shop: what is stated for 95 % holds 95 %, clean setups raise no alarm, and slips do not
//! reach the part.
//!
//! Source of the truth model and of the figures to reach: the project's own algorithms study (simulation, assumed noise).
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::disallowed_methods,
    clippy::print_stdout,
    reason = "a test may stop at what it did not expect"
)]

use std::collections::BTreeMap;

use setwright::job::XMethod;
use setwright::shop::Share;
use setwright::shop::pickup::{PickupSetting, PickupSlip, SlipOn, pick_up, pick_up_with_slip};

/// Coverage of X, Y and Z over so many shops.
fn covered(setting: &PickupSetting, runs: u32, seed: u64) -> [Share; 3] {
    let mut shares = [Share::default(); 3];
    for run in 0..runs {
        let end = pick_up(setting, seed.wrapping_mul(1_000_003).wrapping_add(u64::from(run))).unwrap();
        // A setup that a stop gate ends states nothing.
        for (share, axis) in shares.iter_mut().zip(end.axes.into_iter().flatten()) {
            share.count(axis.is_covered());
        }
    }
    shares
}

fn settings() -> Vec<(&'static str, PickupSetting)> {
    let honest = PickupSetting::honest();
    vec![
        ("touch probe, single face", honest),
        (
            "fine probe of the practice card",
            PickupSetting { scatter_mm: (0.0008, 0.0008), stated_mm: 0.0008, tip_mm: 0.0005, ..honest },
        ),
        (
            "coarse edge finder in inches, opposite face",
            PickupSetting {
                scatter_mm: (0.005, 0.005),
                stated_mm: 0.005,
                step_mm: 0.002_54,
                tip_mm: 0.003,
                opposite: true,
                inches: true,
                height_mm: 0.0,
                ..honest
            },
        ),
        (
            "middle of two faces, four angles",
            PickupSetting { x: XMethod::TwoFaces, opposite: true, angles: 4, ..honest },
        ),
        ("five touches a place", PickupSetting { touches: 5, ..honest }),
        ("one touch a place, machine not exact", PickupSetting { touches: 1, machine_mm: 0.002, ..honest }),
        ("display coarser than the scatter", PickupSetting { step_mm: 0.01, tip_mm: 0.0, ..honest }),
    ]
}

fn show(name: &str, shares: &[Share; 3]) {
    let text: Vec<String> = shares.iter().map(|share| format!("{:.1} %", 100.0 * share.value())).collect();
    println!("{name}: X {}, Y {}, Z {} of {}", text[0], text[1], text[2], shares[0].of);
}

/// The long run: `cargo test --test pickup_shop -- --ignored --nocapture`, 2,000 shops a setting; another start
/// with `PICKUP_SEED=7` before it.
#[test]
#[ignore = "two thousand shops a setting"]
fn ninety_five_percent_means_ninety_five_percent() {
    let seed = std::env::var("PICKUP_SEED").ok().and_then(|seed| seed.parse().ok()).unwrap_or(1);
    for (name, setting) in settings() {
        let shares = covered(&setting, 2000, seed);
        show(name, &shares);
        for share in shares {
            assert!((0.93..=0.97).contains(&share.value()), "{name}: {share:?}");
        }
    }
}

/// Clean setups through pickup, level and capture: how many raise any doubt or gate.
fn alarms(setting: &PickupSetting, runs: u32, seed: u64) -> (Share, BTreeMap<String, u32>) {
    let (mut share, mut by) = (Share::default(), BTreeMap::new());
    for run in 0..runs {
        let end = pick_up_with_slip(setting, None, seed.wrapping_mul(1_000_003).wrapping_add(u64::from(run))).unwrap();
        share.count(end.caught.is_some());
        if let Some(caught) = end.caught {
            *by.entry(format!("{caught:?}")).or_default() += 1;
        }
    }
    (share, by)
}

/// Harmful slips: how many of them reach the register with nothing said.
fn reached(setting: &PickupSetting, on: SlipOn, runs: u32, seed: u64) -> (Share, BTreeMap<String, [u32; 2]>) {
    let (mut share, mut by) = (Share::default(), BTreeMap::new());
    for run in 0..runs {
        let slip = PickupSlip::ALL[usize::try_from(run).unwrap() % PickupSlip::ALL.len()];
        let start = seed.wrapping_mul(1_000_003).wrapping_add(u64::from(run));
        let end = pick_up_with_slip(setting, Some((slip, on)), start).unwrap();
        if end.would_harm {
            let through = end.caught.is_none();
            share.count(through);
            let count: &mut [u32; 2] = by.entry(format!("{slip:?}")).or_default();
            count[usize::from(through)] += 1;
        }
    }
    (share, by)
}

/// The long run, as above.
#[test]
#[ignore = "thousands of setups"]
fn slips_are_caught_and_clean_setups_are_left_alone() {
    let seed = std::env::var("PICKUP_SEED").ok().and_then(|seed| seed.parse().ok()).unwrap_or(1);
    for (name, setting, on) in studies() {
        let (false_alarms, by_alarm) = alarms(&setting, 2000, seed);
        let (through, by) = reached(&setting, on, 3900, seed);
        println!("{name}: alarms {false_alarms:?} {by_alarm:?}");
        println!("{name}: reached {through:?} {by:?}");
        assert!(false_alarms.value() <= 0.01 && through.value() <= 0.01, "{name}");
    }
}

/// The rows of the study. A chip that stays under one face of a middle in X needs the length known to 2 um, as there.
fn studies() -> [(&'static str, PickupSetting, SlipOn); 4] {
    let (middle, single) = (PickupSetting::midpoint_study(), PickupSetting::single_face_study());
    let well_known = PickupSetting { width_mm: 0.002, tip_mm: 0.001, touches: 3, ..middle };
    [
        ("flip, width known to 10 um", middle, SlipOn::Y),
        ("middle in X, length known to 2 um", well_known, SlipOn::X),
        ("single face, return touch", single, SlipOn::X),
        ("single face, opposite face and return touch", PickupSetting { opposite: true, ..single }, SlipOn::X),
    ]
}

// The study: at most 1 % of harmful slips reach the part, at most 1 % of clean setups raise an alarm. Here 260 slips and
// 150 clean setups a row, with room for chance: 7 of 260 and 6 of 150 would come in less than one of a hundred tries.
#[test]
fn few_slips_pass_and_few_clean_setups_are_stopped() {
    for (name, setting, on) in studies() {
        let (false_alarms, by_alarm) = alarms(&setting, 150, 11);
        let (through, by) = reached(&setting, on, 260, 12);
        assert!(through.of > 150, "{name}: only {} harmful slips", through.of);
        assert!(false_alarms.hits < 6, "{name}: {false_alarms:?} {by_alarm:?}");
        assert!(through.hits < 7, "{name}: {through:?} {by:?}");
    }
}

// 95 % of 400 is 380 with a deviation of 4.4: 91.5 to 98.5 % holds an honest statement and no dishonest one.
#[test]
fn what_is_stated_for_ninety_five_percent_holds() {
    for (name, setting) in settings().into_iter().take(3) {
        for share in covered(&setting, 400, 3) {
            assert!(share.of > 380 && (0.915..=0.985).contains(&share.value()), "{name}: {share:?}");
        }
    }
}

// The flip of the study: play in a mixed approach, high over the axis, is not in what is stated; at centre height it
// does nothing.
#[test]
fn a_mixed_approach_breaks_the_promise_high_over_the_axis() {
    let high = PickupSetting { height_mm: 40.0, ..PickupSetting::honest() };
    let [_, one_way, _] = covered(&high, 200, 5);
    let [_, mixed, _] = covered(&PickupSetting { mixed_play_deg: 0.02, ..high }, 200, 5);
    let [_, at_centre, _] = covered(&PickupSetting { mixed_play_deg: 0.02, height_mm: 0.0, ..high }, 200, 5);
    assert!(one_way.value() > 0.9 && at_centre.value() > 0.9, "{one_way:?} {at_centre:?}");
    assert!(mixed.value() < 0.6, "{mixed:?}");
}
