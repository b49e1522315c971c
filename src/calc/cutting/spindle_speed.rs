//! Which spindle speed and feed rate belong to a cutting speed, with a speed limit?

use std::f64::consts::PI;

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "spindle-speed",
    version: 1,
    topic: "cutting",
    question: "Which spindle speed and feed rate belong to a cutting speed, with a speed limit?",
    formula: "ideal_speed = 1000 cutting_speed/(pi tool_diameter); spindle_speed = min(ideal_speed, speed_limit); \
         actual_cutting_speed = pi tool_diameter spindle_speed/1000; feed_rate = spindle_speed*feed_per_rev",
    inputs: &[
        Input::quantity("cutting_speed", "m/min", "cutting speed wanted").above(0.0),
        Input::quantity("tool_diameter", "mm", "tool diameter").above(0.0),
        Input::quantity("speed_limit", "rpm", "highest spindle speed; left out: no limit").above(0.0).may_be_left_out(),
        Input::quantity("feed_per_rev", "mm/rev", "feed per revolution; left out: no feed rate")
            .above(0.0)
            .may_be_left_out(),
    ],
    outputs: &[
        Output::quantity("ideal_speed", "rpm", "speed without limit"),
        Output::quantity("spindle_speed", "rpm", "speed to use"),
        Output::flag("limited", "true when the limit bites (ideal_speed above speed_limit)"),
        Output::quantity("actual_cutting_speed", "m/min", "cutting speed then"),
        Output::quantity("feed_rate", "mm/min", "feed rate from the speed in use")
            .null_when("feed_per_rev is left out"),
    ],
    refusals: &[],
    usual_mistake: "working out the feed rate from the speed before the limit",
    validity: "none",
    source: "definition",
    example: r#"{
            "cutting_speed": "60 ft/min", "tool_diameter": "0.1875 in", "feed_per_rev": "0.0025 in/rev"
        }"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let circumference = PI * given.number("tool_diameter")?;
    let ideal_speed = 1000.0 * given.number("cutting_speed")? / circumference;
    let speed_limit = given.optional_number("speed_limit")?.unwrap_or(f64::INFINITY);
    let spindle_speed = ideal_speed.min(speed_limit);
    let feed_rate = given.optional_number("feed_per_rev")?.map(|feed| spindle_speed * feed);
    Ok(Answer::new()
        .with("ideal_speed", ideal_speed)
        .with("spindle_speed", spindle_speed)
        .with("limited", ideal_speed > speed_limit)
        .with("actual_cutting_speed", circumference * spindle_speed / 1000.0)
        .with("feed_rate", feed_rate))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, near, refuses, with};

    // Worked case rpm_inch of the project's own set of cases.
    #[test]
    fn inches_are_changed_on_the_way() {
        let inputs =
            json!({"cutting_speed": "60 ft/min", "tool_diameter": "0.1875 in", "feed_per_rev": "0.0025 in/rev"});
        let expected = json!({"ideal_speed": 1_222.309_962_945_756_5, "spindle_speed": 1_222.309_962_945_756_5,
            "limited": false, "actual_cutting_speed": 18.288, "feed_rate": 77.616_682_647_055_54});
        holds("spindle-speed", &inputs, &expected);
    }

    // A textbook of turning and boring of 1914: 60 feet a minute on 5 inches is 46 turns a minute.
    #[test]
    fn a_five_inch_cut_turns_46_times_a_minute() {
        let inputs = json!({"cutting_speed": "60 ft/min", "tool_diameter": "5 in"});
        near("spindle-speed", &inputs, "spindle_speed", 46.0, 0.5);
        holds("spindle-speed", &inputs, &json!({"feed_rate": null, "limited": false}));
    }

    // Handbook constant: 1000/pi = 318.31 turns a minute for 1 m/min on 1 mm.
    #[test]
    fn the_constant_of_the_handbook_is_in_it() {
        let inputs = json!({"cutting_speed": 1, "tool_diameter": 1});
        near("spindle-speed", &inputs, "ideal_speed", 318.31, 0.005);
    }

    // By hand: at the limit of 10,000 rpm a 1 mm tool cuts at 10 pi m/min, and the feed follows the speed in use.
    #[test]
    fn the_limit_takes_the_feed_with_it() {
        let inputs = json!({"cutting_speed": 60, "tool_diameter": 1, "speed_limit": 10_000, "feed_per_rev": 0.02});
        let expected = json!({"ideal_speed": 60_000.0 / std::f64::consts::PI, "spindle_speed": 10_000.0,
            "limited": true, "actual_cutting_speed": 10.0 * std::f64::consts::PI, "feed_rate": 200.0});
        holds("spindle-speed", &inputs, &expected);
        refuses("spindle-speed", &with(&inputs, "speed_limit", json!(0)), "speed_limit");
        refuses("spindle-speed", &with(&inputs, "tool_diameter", json!(0)), "tool_diameter");
        refuses("spindle-speed", &with(&inputs, "tool_diameter", json!(5e-324)), "inputs");
    }
}
