//! Which speed, feed, torque, power and thrust does a two-lip drill ask for?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "drill-loads",
    version: 1,
    topic: "cutting",
    question: "Which speed, feed, torque, power and thrust does a two-lip drill ask for?",
    formula: "n = 1000 cutting_speed/(pi D); feed_rate = n f; h = f/2 sin(point/2); k = specific_force \
         h^-chip_exponent (1 - rake_correction/100); torque = k f D^2/8000; power = k f D cutting_speed/240000; \
         thrust = 0.5 k (D/2) f sin(point/2)",
    inputs: &[
        Input::quantity("drill_diameter", "mm", "drill diameter D").above(0.0),
        Input::quantity("feed_per_rev", "mm/rev", "feed f").above(0.0),
        Input::quantity("cutting_speed", "m/min", "cutting speed").above(0.0),
        Input::quantity("point_angle", "deg", "full point angle").above(0.0).at_most(180.0),
        Input::quantity("specific_force", "MPa", "specific cutting force at 1 mm chip thickness and width").above(0.0),
        Input::quantity("chip_exponent", "1", "exponent of the chip thickness").at_least(0.0).below(1.0),
        Input::quantity("rake_correction", "%", "reduction of the specific force for rake")
            .at_least(-100.0)
            .below(100.0)
            .or(0.0),
    ],
    outputs: &[
        Output::quantity("spindle_speed", "rpm", "spindle speed n"),
        Output::quantity("feed_rate", "mm/min", "feed rate"),
        Output::quantity("chip_thickness", "mm", "chip thickness h"),
        Output::quantity("specific_force_at_chip", "MPa", "specific force k at that chip"),
        Output::quantity("torque", "N m", "torque"),
        Output::quantity("power", "kW", "power at the spindle"),
        Output::quantity("thrust", "N", "thrust without the chisel edge"),
    ],
    refusals: &[],
    usual_mistake: "check: power must equal torque times 2 pi n/60",
    validity: "two lips; handbook constants differ between tables; the chisel edge adds to the thrust",
    source: "Kienzle type relation; handbook drilling relations",
    example: r#"{
            "drill_diameter": 3.0, "feed_per_rev": 0.06, "cutting_speed": 45.0, "point_angle": 140.0,
            "specific_force": 1950.0, "chip_exponent": 0.2, "rake_correction": 0.0
        }"#,
    solve,
};
