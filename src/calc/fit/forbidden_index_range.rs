//! Between which index angles does a protruding point dip below a limit under the centreline?

use crate::calc::degrees::into_full_turn;
use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "forbidden-index-range",
    version: 1,
    topic: "fit",
    question: "Between which index angles does a protruding point dip below a limit under the centreline?",
    formula: "rho = sqrt(y^2+z^2), alpha = atan2(z, y), a = asin(depth_limit/rho): point is below -depth_limit \
         while turn is in (180+a-alpha, 360-a-alpha); index = turn for right-hand, index range = (-turn_to, \
         -turn_from) for left-hand; all mod 360",
    inputs: &[
        Input::quantity("point_y", "mm", "point from the centreline at index 0"),
        Input::quantity("point_z", "mm", "same in Z"),
        Input::quantity("depth_limit", "mm", "how far below the centreline nothing may come, as a positive number")
            .above(0.0),
        Input::work_turns(),
    ],
    outputs: &[
        Output::flag(
            "reaches_limit",
            "true when the point can come below the limit at all (radius greater than depth_limit)",
        ),
        Output::quantity("turn_from", "deg", "start of the forbidden right-hand turn about +X")
            .null_when("reaches_limit is false")
            .round_the_circle(),
        Output::quantity("turn_to", "deg", "end of it, going up")
            .null_when("reaches_limit is false")
            .round_the_circle(),
        Output::quantity("index_from", "deg", "start of the forbidden index range, going up")
            .null_when("reaches_limit is false")
            .round_the_circle(),
        Output::quantity("index_to", "deg", "end of it").null_when("reaches_limit is false").round_the_circle(),
    ],
    refusals: &[],
    usual_mistake: "forgetting that the range runs the other way round for the other turning sense",
    validity: "rigid bodies, one rotary axis",
    source: "circular motion",
    example: r#"{"point_y": 118, "point_z": 9, "depth_limit": 110, "work_turns": "left-hand"}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let (y, z) = (given.number("point_y")?, given.number("point_z")?);
    let depth_limit = given.number("depth_limit")?;
    let radius = y.hypot(z);
    let reaches_limit = radius > depth_limit;
    let azimuth = z.atan2(y).to_degrees();
    let flank = (depth_limit / radius).asin().to_degrees();
    let (turn_from, turn_to) = (180.0 + flank - azimuth, 360.0 - flank - azimuth);
    let (index_from, index_to) = if given.work_turns()? > 0.0 { (turn_from, turn_to) } else { (-turn_to, -turn_from) };
    let when_reached = |angle: f64| reaches_limit.then(|| into_full_turn(angle));
    Ok(Answer::new()
        .with("reaches_limit", reaches_limit)
        .with("turn_from", when_reached(turn_from))
        .with("turn_to", when_reached(turn_to))
        .with("index_from", when_reached(index_from))
        .with("index_to", when_reached(index_to)))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{answer, holds, refuses, with};

    // Geometry: a point at +Y with half its radius as the limit is too low from 30 degrees before to 30 after straight down.
    #[test]
    fn a_point_on_the_side_is_low_round_three_quarters_of_a_turn() {
        let inputs = json!({"point_y": 100, "point_z": 0, "depth_limit": 50, "work_turns": "right-hand"});
        let expected = json!({"reaches_limit": true, "turn_from": 210.0, "turn_to": 330.0, "index_from": 210.0,
            "index_to": 330.0});
        holds("forbidden-index-range", &inputs, &expected);
        let expected = json!({"turn_from": 210.0, "turn_to": 330.0, "index_from": 30.0, "index_to": 150.0});
        holds("forbidden-index-range", &with(&inputs, "work_turns", json!("left-hand")), &expected);
    }

    // Geometry, by another calculation: at both ends of the range the point stands exactly at the limit, between below it.
    #[test]
    fn the_ends_of_the_range_stand_at_the_limit() {
        for turns in ["right-hand", "left-hand"] {
            let range = answer(
                "forbidden-index-range",
                &json!({"point_y": -118, "point_z": 9, "depth_limit": 110, "work_turns": turns}),
            );
            let (from, to) =
                (range["index_from"]["value"].as_f64().unwrap(), range["index_to"]["value"].as_f64().unwrap());
            let middle = from + (to - from).rem_euclid(360.0) / 2.0;
            let shifts = answer(
                "off-centre-shift",
                &json!({"off_centre_y": -118, "off_centre_z": 9, "work_turns": turns,
                "index_angles": [from, to, middle]}),
            );
            let height = |place: usize| shifts["shifts_z"][place]["value"].as_f64().unwrap();
            assert!((height(0) + 110.0).abs() < 1e-9 && (height(1) + 110.0).abs() < 1e-9 && height(2) < -110.0);
        }
    }

    #[test]
    fn a_point_that_never_comes_so_low_has_no_range() {
        let inputs = json!({"point_y": 3, "point_z": 4, "depth_limit": 5, "work_turns": "right-hand"});
        let expected = json!({"reaches_limit": false, "turn_from": null, "turn_to": null, "index_from": null,
            "index_to": null});
        holds("forbidden-index-range", &inputs, &expected);
        let at_centre = with(&with(&inputs, "point_y", json!(0)), "point_z", json!(0));
        holds("forbidden-index-range", &at_centre, &expected);
        refuses("forbidden-index-range", &with(&inputs, "depth_limit", json!(0)), "depth_limit");
    }
}
