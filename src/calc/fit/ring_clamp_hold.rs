//! What holds the part in a ring clamped by one screw: preload, pressure, slip torque and slip thrust?

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
