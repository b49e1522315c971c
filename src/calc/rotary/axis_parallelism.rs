//! How much of a run-out along X belongs to the rotary axis and how much to the bar?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "axis-parallelism",
    version: 1,
    topic: "rotary",
    question: "How much of a run-out along X belongs to the rotary axis and how much to the bar?",
    formula: "slope = (far-near)/bar_length at each index; axis_slope = (slope_0 + slope_180)/2; bar_slope = \
         (slope_0 - slope_180)/2; axis_slope_angle = atan(axis_slope)",
    inputs: &[
        Input::quantity(
            "near_at_0",
            "mm",
            "indicator near the faceplate at index 0, plus towards the plus axis direction",
        ),
        Input::quantity("far_at_0", "mm", "same line, far end, index 0"),
        Input::quantity("near_at_180", "mm", "near, half a turn later, same machine line"),
        Input::quantity("far_at_180", "mm", "far, half a turn later"),
        Input::quantity("bar_length", "mm", "distance in X from near to far, plus X from near to far").above(0.0),
    ],
    outputs: &[
        Output::quantity("axis_slope", "mm/m", "slope of the rotary axis, stays in space"),
        Output::quantity("bar_slope", "mm/m", "slope of the bar, turns with the work"),
        Output::quantity("axis_slope_angle", "deg", "axis slope as an angle"),
    ],
    refusals: &[],
    usual_mistake: "blaming the machine for a bent bar: only the part that stays the same after half a turn is the \
         axis",
    validity: "small slopes",
    source: "reversal method of the ISO 230-1 kind",
    example: r#"{
            "near_at_0": 0, "far_at_0": 0.014, "near_at_180": 0.002, "far_at_180": 0.008, "bar_length": 150
        }"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let bar_length = given.number("bar_length")?;
    let slope =
        |near: &str, far: &str| -> Result<f64, Refused> { Ok((given.number(far)? - given.number(near)?) / bar_length) };
    let (slope_0, slope_180) = (slope("near_at_0", "far_at_0")?, slope("near_at_180", "far_at_180")?);
    let axis_slope = f64::midpoint(slope_0, slope_180);
    Ok(Answer::new()
        .with("axis_slope", axis_slope * 1000.0)
        .with("bar_slope", f64::midpoint(slope_0, -slope_180) * 1000.0)
        .with("axis_slope_angle", axis_slope.atan().to_degrees()))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, near, refuses, with};

    // Geometry by hand: what stays in space shows alike at both indexes, what turns with the work shows with both signs.
    #[test]
    fn half_a_turn_parts_axis_and_bar() {
        let inputs = json!({"near_at_0": 0, "far_at_0": 0.014, "near_at_180": 0.002, "far_at_180": 0.008,
            "bar_length": 100});
        holds("axis-parallelism", &inputs, &json!({"axis_slope": 0.1, "bar_slope": 0.04}));
        refuses("axis-parallelism", &with(&inputs, "bar_length", json!(0)), "bar_length");
    }

    // Geometry: 0.010 mm over 100 mm is 20.626 seconds of arc (two-point tilt).
    #[test]
    fn ten_microns_over_a_hundred_millimetres_are_twenty_seconds_of_arc() {
        let inputs = json!({"near_at_0": 0, "far_at_0": 0.01, "near_at_180": 0, "far_at_180": 0.01, "bar_length": 100});
        near("axis-parallelism", &inputs, "axis_slope_angle", 20.626 / 3600.0, 0.0005 / 3600.0);
    }
}
