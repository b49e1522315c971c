//! Where in machine coordinates does a point of the part stand after the rotary has been turned to an index angle?

use nalgebra::Vector3;

use crate::calc::degrees;
use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "point-after-index",
    version: 1,
    topic: "rotary",
    question: "Where in machine coordinates does a point of the part stand after the rotary has been turned to an \
         index angle?",
    formula: "P = axis_point + R(axis_direction, s*index_angle) * ( R(letter axis, clocking_angle)*part_point + \
         off_centre ); s=+1 right-hand, -1 left-hand; R(k,t)v = v cos t + (k x v) sin t + k (k.v)(1-cos t), k unit; \
         shift = P - P with clocking_angle 0, off_centre 0 and the direction exactly along the letter axis",
    inputs: &[
        Input::vector(
            "part_point",
            3,
            "mm",
            "point of the part [x, y, z] at index 0, measured from the part origin on the nominal rotary axis",
        ),
        Input::quantity("index_angle", "deg", "commanded rotary angle"),
        Input::word(
            "work_turns",
            &["right-hand", "left-hand"],
            "sense in which the WORK turns about +X when a positive angle is commanded: 'right-hand' takes +Y to \
             +Z; 'left-hand' is the other way (a table-carried axis named after ISO 841) (about +Y for letter B)",
        ),
        Input::vector("axis_point", 3, "mm", "machine coordinates [x, y, z] of the part origin on the rotary axis"),
        Input::word(
            "rotary_letter",
            &["A", "B"],
            "A = rotary axis along X, B = along Y (right-hand about +Y takes +Z to +X)",
        )
        .or_word("A"),
        Input::quantity("clocking_angle", "deg", "right-hand turn of the part in the fixture about the letter axis")
            .or(0.0),
        Input::vector("off_centre", 3, "mm", "shift [x, y, z] of the fixture from the rotary axis at index 0")
            .or_numbers(&[0.0, 0.0, 0.0]),
        Input::vector(
            "axis_direction",
            3,
            "1",
            "true direction [x, y, z] of the rotary axis, any length; left out: exactly along the letter axis",
        )
        .may_be_left_out(),
    ],
    outputs: &[
        Output::quantity("machine_x", "mm", "machine X of the point"),
        Output::quantity("machine_y", "mm", "machine Y"),
        Output::quantity("machine_z", "mm", "machine Z"),
        Output::quantity("shift_x", "mm", "X against the same point with no clocking, off-centre or axis slope"),
        Output::quantity("shift_y", "mm", "same for Y"),
        Output::quantity("shift_z", "mm", "same for Z"),
    ],
    refusals: &[Refusal::of("axis_direction", "all three components zero")],
    usual_mistake: "taking the turn the wrong way round: a table-carried axis named after ISO 841 turns the work \
         left-handed; letter B has another sign pattern than A",
    validity: "rigid bodies, one rotary axis; axis slopes beyond about 0.5 mm/m are a setup fault to be cured, not \
         compensated",
    source: "rotation about a general line; ISO 841 axis naming",
    example: r#"{
            "part_point": [55.0, 3.25, 24.0], "index_angle": 37.5, "work_turns": "left-hand",
            "axis_point": [-212.405, -187.463, -372.796]
        }"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let part_point = Vector3::from(given.vector("part_point")?);
    let axis_point = Vector3::from(given.vector("axis_point")?);
    let off_centre = Vector3::from(given.vector("off_centre")?);
    let turn = given.work_turns()? * given.number("index_angle")?;
    let letter_axis = if given.word("rotary_letter")? == "A" { Vector3::x() } else { Vector3::y() };
    let true_axis = match given.optional_vector("axis_direction")? {
        Some(direction) => unit_vector(Vector3::from(direction))?,
        None => letter_axis,
    };
    let carried = turned(part_point, letter_axis, given.number("clocking_angle")?) + off_centre;
    let from_axis = turned(carried, true_axis, turn);
    let point = axis_point + from_axis;
    let shift = from_axis - turned(part_point, letter_axis, turn);
    Ok(Answer::new()
        .with("machine_x", point.x)
        .with("machine_y", point.y)
        .with("machine_z", point.z)
        .with("shift_x", shift.x)
        .with("shift_y", shift.y)
        .with("shift_z", shift.z))
}

fn unit_vector(direction: Vector3<f64>) -> Result<Vector3<f64>, Refused> {
    let largest = direction.amax();
    if largest <= 0.0 {
        let reason = "axis_direction has no direction: at least one of its three components must not be zero.";
        return Err(Refused::new("axis_direction", reason));
    }
    Ok((direction / largest).normalize())
}

/// Turns a vector right-handed about a unit vector; what lies along the axis is left exactly as it is.
fn turned(vector: Vector3<f64>, axis: Vector3<f64>, degrees: f64) -> Vector3<f64> {
    let (sine, cosine) = degrees::sine_and_cosine(degrees);
    let along = axis * axis.dot(&vector);
    along + (vector - along) * cosine + axis.cross(&vector) * sine
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{answer, holds, refuses, with};

    // Worked case rot_point_iso841 of the project's own set of cases (reckoned with another program).
    #[test]
    fn a_table_carried_axis_turns_the_work_left_handed() {
        let inputs = json!({"part_point": [55.0, 3.25, 24.0], "index_angle": 37.5, "work_turns": "left-hand",
            "axis_point": [-212.405, -187.463, -372.796]});
        let expected = json!({"machine_x": -157.405, "machine_y": -170.274_327_347_844_18,
            "machine_z": -355.733_994_477_288_66, "shift_x": 0.0, "shift_y": 0.0, "shift_z": 0.0});
        holds("point-after-index", &inputs, &expected);
    }

    // ISO 841:2001: thumb along the plus axis, the fingers point the plus way round: +A takes +Y to +Z, +B takes +Z to +X.
    #[test]
    fn right_hand_turns_follow_the_fingers() {
        let inputs = json!({"part_point": [0, 1, 0], "index_angle": 90, "work_turns": "right-hand",
            "axis_point": [0, 0, 0]});
        holds("point-after-index", &inputs, &json!({"machine_x": 0.0, "machine_y": 0.0, "machine_z": 1.0}));
        let inputs = with(&with(&inputs, "rotary_letter", json!("B")), "part_point", json!([0, 0, 1]));
        holds("point-after-index", &inputs, &json!({"machine_x": 1.0, "machine_y": 0.0, "machine_z": 0.0}));
    }

    // Geometry: a turn about a tilted axis keeps the distance from any point on that axis.
    #[test]
    fn a_turn_about_a_tilted_axis_keeps_distances() {
        for index_angle in [-725.0, 12.5, 180.0, 1e6] {
            let inputs = json!({"part_point": [55.0, 3.25, 24.0], "index_angle": index_angle, "work_turns": "left-hand",
                "axis_point": [0, 0, 0], "clocking_angle": 0.08, "off_centre": [0, 0.018, -0.011],
                "axis_direction": [2e-310, 1e-313, 0]});
            let answer = answer("point-after-index", &inputs);
            let at = |key: &str| answer[key]["value"].as_f64().unwrap();
            let radius = (0.08_f64.to_radians().sin_cos().1, 0.08_f64.to_radians().sin());
            let carried = [55.0, 3.25 * radius.0 - 24.0 * radius.1 + 0.018, 3.25 * radius.1 + 24.0 * radius.0 - 0.011];
            let before: f64 = carried.iter().map(|c| c * c).sum::<f64>().sqrt();
            let after = at("machine_x").hypot(at("machine_y")).hypot(at("machine_z"));
            assert!((before - after).abs() < 1e-9 * before, "{before} {after}");
        }
    }

    #[test]
    fn an_axis_without_direction_is_refused() {
        let inputs = json!({"part_point": [0, 1, 0], "index_angle": 90, "work_turns": "right-hand",
            "axis_point": [0, 0, 0], "axis_direction": [0, 0, 0]});
        refuses("point-after-index", &inputs, "axis_direction");
        refuses("point-after-index", &with(&inputs, "part_point", json!([0, 1])), "part_point");
        refuses("point-after-index", &with(&inputs, "axis_direction", json!(["1 mm", 0, 0])), "axis_direction");
    }
}
