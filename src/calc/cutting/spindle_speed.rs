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
    let diameter = given.number("tool_diameter")?;
    let ideal = 1000.0 * given.number("cutting_speed")? / (PI * diameter);
    let limit = given.optional_number("speed_limit")?.unwrap_or(f64::INFINITY);
    let speed = ideal.min(limit);
    let feed_rate = given.optional_number("feed_per_rev")?.map(|feed| speed * feed);
    Ok(Answer::new()
        .with("ideal_speed", ideal)
        .with("spindle_speed", speed)
        .with("limited", ideal > limit)
        .with("actual_cutting_speed", PI * diameter * speed / 1000.0)
        .with("feed_rate", feed_rate))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::holds;

    // The project's own worked case; the usual 12 sfm / (pi D).
    #[test]
    fn sixty_feet_a_minute_on_three_sixteenths() {
        let inputs =
            json!({"cutting_speed": "60 ft/min", "tool_diameter": "0.1875 in", "feed_per_rev": "0.0025 in/rev"});
        holds(
            "spindle-speed",
            &inputs,
            &json!({"spindle_speed": 1_222.309_962_945_756_5, "feed_rate": 77.616_682_647_055_54, "limited": false}),
        );
    }

    // Common practice: the feed follows the capped speed.
    #[test]
    fn the_feed_follows_the_cap() {
        let inputs = json!({"cutting_speed": 100, "tool_diameter": 1, "speed_limit": 10000, "feed_per_rev": 0.02});
        holds("spindle-speed", &inputs, &json!({"spindle_speed": 10000.0, "limited": true, "feed_rate": 200.0}));
        holds(
            "spindle-speed",
            &json!({"cutting_speed": 100, "tool_diameter": 1}),
            &json!({"feed_rate": null, "limited": false}),
        );
    }
}
