//! Which speed, feed, torque, power and thrust does a two-lip drill ask for?

use std::f64::consts::PI;

use crate::calc::degrees;
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
    let diameter = given.number("drill_diameter")?;
    let feed = given.number("feed_per_rev")?;
    let cutting_speed = given.number("cutting_speed")?;
    let (half_angle_sine, _) = degrees::sine_and_cosine(given.number("point_angle")? / 2.0);
    let spindle_speed = 1000.0 * cutting_speed / (PI * diameter);
    let chip_thickness = feed / 2.0 * half_angle_sine;
    let force = given.number("specific_force")?
        * chip_thickness.powf(-given.number("chip_exponent")?)
        * (1.0 - given.number("rake_correction")? / 100.0);
    Ok(Answer::new()
        .with("spindle_speed", spindle_speed)
        .with("feed_rate", spindle_speed * feed)
        .with("chip_thickness", chip_thickness)
        .with("specific_force_at_chip", force)
        .with("torque", force * feed * diameter * diameter / 8000.0)
        .with("power", force * feed * diameter * cutting_speed / 240_000.0)
        .with("thrust", 0.5 * force * (diameter / 2.0) * feed * half_angle_sine))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{answer, holds, near, refuses, with};

    // Worked case drill_force_metric of the project's own set of cases.
    #[test]
    fn a_three_millimetre_drill_asks_for_little_power() {
        let inputs = json!({"drill_diameter": 3, "feed_per_rev": 0.06, "cutting_speed": 45, "point_angle": 140,
            "specific_force": 1950, "chip_exponent": 0.2});
        let expected = json!({"spindle_speed": 4_774.648_292_756_86, "feed_rate": 286.478_897_565_411_6,
            "chip_thickness": 0.028_190_778_623_577_25, "specific_force_at_chip": 3_981.192_682_248_443,
            "torque": 0.268_730_506_051_769_9, "power": 0.134_365_253_025_884_95, "thrust": 168.349_382_344_607_4});
        holds("drill-loads", &inputs, &expected);
    }

    // Textbook of manufacturing engineering, drilling a magnesium alloy: 10 mm, 0.2 mm/rev, 800 rpm, 0.5 W s/mm3 give
    // 105 W and 1.25 N m (from memory). A specific energy of 0.5 W s/mm3 is a specific force of 500 MPa at any chip.
    #[test]
    fn specific_energy_gives_the_power_and_torque_of_the_textbook() {
        let inputs = json!({"drill_diameter": 10, "feed_per_rev": 0.2, "cutting_speed": 25.132_741_228_718_345,
            "point_angle": 118, "specific_force": 500, "chip_exponent": 0});
        near("drill-loads", &inputs, "spindle_speed", 800.0, 1e-9);
        near("drill-loads", &inputs, "power", 0.105, 0.0005);
        near("drill-loads", &inputs, "torque", 1.25, 1e-12);
    }

    // Textbook of modern manufacturing (from memory): 12.7 mm at 25 m/min and 0.3 mm/rev, 626.6 rpm and 188 mm/min.
    #[test]
    fn speed_and_feed_are_those_of_the_textbook() {
        let inputs = json!({"drill_diameter": 12.7, "feed_per_rev": 0.3, "cutting_speed": 25, "point_angle": 118,
            "specific_force": 2000, "chip_exponent": 0.2});
        near("drill-loads", &inputs, "spindle_speed", 626.6, 0.05);
        near("drill-loads", &inputs, "feed_rate", 188.0, 0.5);
    }

    // Definition of the specific force: that of the table at 1 mm, times 2^exponent at each halving of the chip; and
    // power is torque times angular speed.
    #[test]
    fn halving_the_chip_raises_the_force_and_power_closes_with_torque() {
        let inputs = json!({"drill_diameter": 8, "feed_per_rev": 2, "cutting_speed": 20, "point_angle": 180,
            "specific_force": 1800, "chip_exponent": 0.25, "rake_correction": -10});
        holds("drill-loads", &inputs, &json!({"chip_thickness": 1.0, "specific_force_at_chip": 1980.0}));
        let finer = with(&inputs, "feed_per_rev", json!(1));
        holds("drill-loads", &finer, &json!({"specific_force_at_chip": 1980.0 * 2.0_f64.powf(0.25)}));
        let loads = answer("drill-loads", &finer);
        let value = |key: &str| loads[key]["value"].as_f64().unwrap();
        let power = value("torque") * std::f64::consts::TAU * value("spindle_speed") / 60.0 / 1000.0;
        assert!((power / value("power") - 1.0).abs() < 1e-12);
    }

    #[test]
    fn values_outside_their_limits_are_refused() {
        let inputs = json!({"drill_diameter": 3, "feed_per_rev": 0.06, "cutting_speed": 45, "point_angle": 140,
            "specific_force": 1950, "chip_exponent": 0.2});
        for (key, value) in [
            ("drill_diameter", json!(0)),
            ("point_angle", json!(180.5)),
            ("chip_exponent", json!(1)),
            ("chip_exponent", json!(-0.1)),
            ("rake_correction", json!(100)),
            ("rake_correction", json!(-101)),
            ("specific_force", json!("1950 N")),
        ] {
            refuses("drill-loads", &with(&inputs, key, value), key);
        }
        refuses("drill-loads", &with(&inputs, "drill_diameter", json!(1e-320)), "inputs");
        refuses("drill-loads", &with(&inputs, "drill_diameter", json!(1e200)), "inputs");
    }
}
