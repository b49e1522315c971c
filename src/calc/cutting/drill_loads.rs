//! Which speed, feed, torque, power and thrust does a two-lip drill ask for?

use std::f64::consts::PI;

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

fn solve(given: &Given) -> Result<Answer, Refused> {
    let (diameter, feed) = (given.number("drill_diameter")?, given.number("feed_per_rev")?);
    let cutting_speed = given.number("cutting_speed")?;
    let half_point = (given.number("point_angle")? / 2.0).to_radians();
    let chip = feed / 2.0 * half_point.sin();
    let rake = 1.0 - given.number("rake_correction")? / 100.0;
    let force = given.number("specific_force")? * chip.powf(-given.number("chip_exponent")?) * rake;
    let speed = 1000.0 * cutting_speed / (PI * diameter);
    Ok(Answer::new()
        .with("spindle_speed", speed)
        .with("feed_rate", speed * feed)
        .with("chip_thickness", chip)
        .with("specific_force_at_chip", force)
        .with("torque", force * feed * diameter * diameter / 8000.0)
        .with("power", force * feed * diameter * cutting_speed / 240_000.0)
        .with("thrust", 0.5 * force * (diameter / 2.0) * feed * half_point.sin()))
}

#[cfg(test)]
mod tests {
    use std::f64::consts::PI;

    use serde_json::json;

    use crate::calc::check::{answer, holds, near};

    // The project's own worked case; the constants are handbook-type, from memory.
    #[test]
    fn a_three_millimetre_drill_in_316() {
        let inputs = json!({"drill_diameter": 3, "feed_per_rev": 0.06, "cutting_speed": 45, "point_angle": 140,
            "specific_force": 1950, "chip_exponent": 0.2});
        let expected = json!({"spindle_speed": 4_774.648_292_756_86, "feed_rate": 286.478_897_565_411_6,
            "chip_thickness": 0.028_190_778_623_577_25, "specific_force_at_chip": 3_981.192_682_248_443,
            "torque": 0.268_730_506_051_77});
        holds("drill-loads", &inputs, &expected);
    }

    // Mechanics: power = torque times turning speed must close.
    #[test]
    fn power_is_torque_times_speed() {
        let inputs = json!({"drill_diameter": 7.8, "feed_per_rev": 0.12, "cutting_speed": 45, "point_angle": 140,
            "specific_force": 1950, "chip_exponent": 0.2});
        let found = answer("drill-loads", &inputs);
        let value = |key: &str| found[key]["value"].as_f64().unwrap();
        let power = value("torque") * 2.0 * PI * value("spindle_speed") / 60.0 / 1000.0;
        near("drill-loads", &inputs, "power", power, 1e-12);
    }
}
