//! The practice cards give the figures of the two demonstration jobs, which are this project's own invention; the formulas
//! are written out here, with their source, because the calculations are above this room.

use std::f64::consts::PI;

use super::practice;
use crate::job::{Feature, JobCard, TipSide, Tool, TopFaces, WorkTurns, register_number};
use crate::quantity::Length;

/// Agreement to the last digit that the demonstration prints.
fn assert_near(value: f64, expected: f64, last_digit: f64, what: &str) {
    assert!((value - expected).abs() <= 0.5 * last_digit * (1.0 + 1e-9), "{what}: {value} is not {expected}");
}

fn feature<'a>(card: &'a JobCard, id: &str) -> &'a Feature {
    card.features.iter().find(|feature| feature.id == id).unwrap()
}

fn tool<'a>(card: &'a JobCard, id: &str) -> &'a Tool {
    let number = feature(card, id).tool;
    card.tools.iter().find(|tool| tool.number == number).unwrap()
}

/// rpm, chip thickness mm, thrust N, torque N m, feed floor %: Kienzle's relation for two lips, and the least chip.
fn cutting(card: &JobCard, tool: &Tool) -> [f64; 5] {
    let (diameter, feed) = (tool.diameter.mm(), tool.feed_mm_rev);
    let half_point = (tool.point_angle_deg / 2.0).to_radians().sin();
    let chip = feed / 2.0 * half_point;
    let material = &card.part.material;
    let force = material.specific_cutting_force_mpa * chip.powf(-material.chip_exponent);
    let least_chip = tool.least_chip_factor * tool.edge_radius_um / 1000.0;
    [
        1000.0 * tool.cutting_speed_m_min / (PI * diameter),
        chip,
        0.5 * force * diameter / 2.0 * feed * half_point,
        force * feed * diameter * diameter / 8000.0,
        100.0 * card.first_run.chip_margin * least_chip / chip,
    ]
}

#[test]
fn cutting_constants_give_the_demonstrations_loads() {
    let [mm, inch] = [practice(0), practice(1)];
    let cases = [
        (&mm, "p1", [4774.6, 0.0282, 168.3, 0.269, 56.8], 2.33),
        (&mm, "b", [1836.4, 0.0564, 762.1, 3.163, 35.5], 1.28),
        (&inch, "port-1", [1222.3, 0.0293, 318.8, 0.822, 54.5], 1.99),
        (&inch, "dowel", [1643.5, 0.047, 748.9, 3.087, 42.6], 1.64),
    ];
    for (card, id, expected, depth_over_diameter) in cases {
        let last_digits = [0.1, 0.0001, 0.1, 0.001, 0.1];
        for ((value, expected), digit) in cutting(card, tool(card, id)).into_iter().zip(expected).zip(last_digits) {
            assert_near(value, expected, digit, id);
        }
        let ratio = feature(card, id).depth.mm() / tool(card, id).diameter.mm();
        assert_near(ratio, depth_over_diameter, 0.01, id);
    }
}

/// s = v t + v²/(2 a), solved for v (kinematics).
#[test]
fn the_rapid_ceiling_is_the_demonstrations() {
    for (card, ceiling) in [(practice(0), 4.27), (practice(1), 5.69)] {
        let machine = &card.machine;
        let lost = machine.deceleration_mm_s2 * machine.reaction_s;
        let gap = card.first_run.rapid_gap.mm();
        let speed = (lost * lost + 2.0 * machine.deceleration_mm_s2 * gap).sqrt() - lost;
        assert_near(100.0 * 60.0 * speed / machine.rapid_mm_min, ceiling, 0.01, &card.id);
    }
}

/// Distance to go = height of the stop and the depth of the tip (geometry).
#[test]
fn the_stops_are_the_demonstrations() {
    for (index, to_go) in [(0, [37.046, 12.046, 8.046]), (1, [1.6, 0.6, 0.44])] {
        let card = practice(index);
        let tip = card.features[0].tip_depth;
        for ((_, height), expected) in card.first_run.stops.iter().zip(to_go) {
            let distance = *height + tip;
            let shown = if index == 0 { distance.mm() } else { distance.inches() };
            assert_near(shown, expected, 1e-9, &card.id);
        }
    }
}

/// A round zone for two equal normal errors: factor √(-2 ln 0.05); uncertainties add in quadrature (GUM 5.1.2).
#[test]
fn the_budget_leaves_the_demonstrations_tram_share() {
    for (index, share) in [(0, 0.015_248), (1, 0.000_495_28)] {
        let card = practice(index);
        let unit = |length: Length| if index == 0 { length.mm() } else { length.inches() };
        let critical = feature(&card, &card.budget.critical_feature);
        let budget = &card.budget;
        let radius = unit(critical.radius);
        let others = [
            unit(budget.y_pickup),
            unit(budget.off_centre),
            unit(budget.axis_slope),
            unit(budget.part_in_fixture),
            unit(critical.hole_wander),
            unit(budget.positioning),
            radius * card.machine.index_accuracy_deg.to_radians(),
            radius * card.machine.rotary_repeat_deg.to_radians(),
        ];
        let whole = unit(critical.position_zone) / 2.0 / (-2.0 * 0.05_f64.ln()).sqrt();
        let rest = (whole * whole - others.iter().map(|other| other * other).sum::<f64>()).sqrt();
        assert_near(rest, share, if index == 0 { 1e-6 } else { 1e-8 }, &card.id);
    }
}

/// Lamé's thick ring on a solid pin; four fifths of Rz are flattened (both handbook relations). Units: NIST SP 811 B.8.
#[test]
fn the_press_fit_has_the_demonstrations_pressure_and_force() {
    let newtons_per_pound = 4.448_221_615_260_5;
    let psi = 0.006_894_757_293_168_361;
    for (index, id, bore_mm, pressure, [low, high]) in
        [(0, "b", 8.011, 51.8, [1041.0, 2602.0]), (1, "dowel", 0.312_15 * 25.4, 15_900.6, [624.0, 1561.0])]
    {
        let card = practice(index);
        let fit = feature(&card, id).bore.as_ref().unwrap().press.as_ref().unwrap();
        let (joint, outer) = (fit.joint_diameter.mm(), fit.hub_outer_diameter.mm());
        let rough = 0.8 * (fit.bore_roughness.mm() + fit.pin_roughness.mm());
        let effective = fit.pin_diameter.mm() - bore_mm - rough;
        let ring = (outer * outer + joint * joint) / (outer * outer - joint * joint) + fit.hub_poisson;
        let pin = 1.0 - fit.pin_poisson;
        let megapascals = effective / joint / (ring / fit.hub_modulus_mpa + pin / fit.pin_modulus_mpa);
        let area = PI * joint * fit.engagement_length.mm();
        let (pressure_unit, force_unit) = if index == 0 { (1.0, 1.0) } else { (psi, newtons_per_pound) };
        assert_near(megapascals / pressure_unit, pressure, 0.1, id);
        assert_near(fit.friction.0 * area * megapascals / force_unit, low, 1.0, id);
        assert_near(fit.friction.1 * area * megapascals / force_unit, high, 1.0, id);
    }
}

#[test]
fn axes_and_registers_are_the_demonstrations() {
    let [mm, inch] = [practice(0), practice(1)];
    assert_eq!([&mm, &inch].map(|card| register_number(&card.register.name)), [Some(3), Some(5)]);
    assert_eq!(mm.machine.work_turns, Some(WorkTurns::LeftHand));
    assert_eq!(inch.machine.work_turns, Some(WorkTurns::RightHand));
    assert_eq!([mm.machine.top_faces, inch.machine.top_faces], [TopFaces::PlusX, TopFaces::MinusX]);
    assert_eq!([mm.fixture.back_face_side, inch.fixture.back_face_side], [TipSide::Minus, TipSide::Plus]);
    assert_eq!([mm.part.batch, inch.part.batch], [12, 8]);
    assert!(mm.practice && inch.practice);
}

/// Swept radius of the screw head and what is left to the table (geometry).
#[test]
fn the_swing_is_the_demonstrations() {
    let card = practice(0);
    let head = &card.fixture.protruding[0];
    let radius = head.y.mm().hypot(head.z.mm());
    assert_near(radius, 64.701_236, 1e-6, "swing");
    assert_near(card.machine.centre_height.mm() - radius, 95.302_764, 1e-6, "table clearance");
}
