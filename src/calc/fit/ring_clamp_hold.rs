//! What holds the part in a ring clamped by one screw: preload, pressure, slip torque and slip thrust?

use std::f64::consts::TAU;

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "ring-clamp-hold",
    version: 1,
    topic: "fit",
    question: "What holds the part in a ring clamped by one screw: preload, pressure, slip torque and slip thrust?",
    formula: "screw_preload = screw_torque/(torque_coefficient*screw_diameter); ring_pressure = \
         screw_preload/(ring_radius*ring_width); slip_torque = 2 pi friction screw_preload ring_radius; slip_thrust \
         = 2 pi friction screw_preload",
    inputs: &[
        Input::quantity("screw_torque", "N m", "tightening torque").above(0.0),
        Input::quantity("screw_diameter", "mm", "thread diameter").above(0.0),
        Input::quantity("torque_coefficient", "1", "torque coefficient of the screw").above(0.0).at_most(1.0).or(0.2),
        Input::quantity("friction", "1", "coefficient of friction ring to part").above(0.0).at_most(1.0).or(0.12),
        Input::quantity("ring_radius", "mm", "radius of the part").above(0.0),
        Input::quantity("ring_width", "mm", "width of the ring").above(0.0),
    ],
    outputs: &[
        Output::quantity("screw_preload", "N", "force in the screw"),
        Output::quantity("ring_pressure", "MPa", "pressure on the part"),
        Output::quantity("slip_torque", "N m", "torque at which the part turns"),
        Output::quantity("slip_thrust", "N", "axial force at which it slides"),
    ],
    refusals: &[],
    usual_mistake: "taking the figure at face value: use half of it",
    validity: "thin ring, even pressure, no loss along the ring",
    source: "thin ring; torque coefficient rule",
    example: r#"{
            "screw_torque": 4.0, "screw_diameter": 5.0, "torque_coefficient": 0.2, "friction": 0.12,
            "ring_radius": 24.0, "ring_width": 20.0
        }"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let ring_radius = given.number("ring_radius")?;
    let screw_diameter_m = given.number("screw_diameter")? / 1000.0;
    let screw_preload = given.number("screw_torque")? / (given.number("torque_coefficient")? * screw_diameter_m);
    let slip_thrust = TAU * given.number("friction")? * screw_preload;
    Ok(Answer::new()
        .with("screw_preload", screw_preload)
        .with("ring_pressure", screw_preload / (ring_radius * given.number("ring_width")?))
        .with("slip_torque", slip_thrust * (ring_radius / 1000.0))
        .with("slip_thrust", slip_thrust))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, near, refuses, with};

    // Worked case ring_clamp_hold of the project's own set of cases.
    #[test]
    fn one_screw_holds_the_part() {
        let inputs = json!({"screw_torque": 4.0, "screw_diameter": 5.0, "ring_radius": 24.0, "ring_width": 20.0});
        let expected = json!({"screw_preload": 4000.0, "ring_pressure": 8.333_333_333_333_334,
            "slip_torque": 72.382_294_738_708_82, "slip_thrust": 3_015.928_947_446_201});
        holds("ring-clamp-hold", &inputs, &expected);
        refuses("ring-clamp-hold", &with(&inputs, "torque_coefficient", json!(1.01)), "torque_coefficient");
        refuses("ring-clamp-hold", &with(&inputs, "friction", json!(0)), "friction");
    }

    // Mechanical Fastening, Joining, and Assembly, p. 85: T = K D P with D = 0.19 in and P = 1275 lbf gives 72.7, 60.6,
    // 48.5, 36.3 and 24.2 lbf in for K = 0.3, 0.25, 0.2, 0.15 and 0.1. 1 lbf = 4.448222 N.
    #[test]
    fn printed_torques_give_the_printed_preload() {
        for (coefficient, torque) in [
            (0.3, "72.7 lbf in"),
            (0.25, "60.6 lbf in"),
            (0.2, "48.5 lbf in"),
            (0.15, "36.3 lbf in"),
            (0.1, "24.2 lbf in"),
        ] {
            let inputs = json!({"screw_torque": torque, "screw_diameter": "0.19 in", "torque_coefficient": coefficient,
                "ring_radius": 24, "ring_width": 20});
            near("ring-clamp-hold", &inputs, "screw_preload", 1275.0 * 4.448_222, 0.0015 * 5671.0);
        }
    }
}
