//! Which index angle drills the hole that the drawing shows at an angle seen looking at the finished top?

use crate::calc::degrees;
use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "drawing-angle-to-index",
    version: 1,
    topic: "rotary",
    question: "Which index angle drills the hole that the drawing shows at an angle seen looking at the finished top?",
    formula: "azimuth = drawing_angle * (+1 counter-clockwise, -1 clockwise) * (+1 top faces +X, -1 faces -X); turn \
         = -azimuth; index_angle = s*turn mod 360",
    inputs: &[
        Input::quantity(
            "drawing_angle",
            "deg",
            "angle on the drawing from the direction that points up (+Z) at index 0",
        ),
        Input::word(
            "drawn_direction",
            &["counter-clockwise", "clockwise"],
            "sense in which the drawing counts the angle, seen looking AT the finished top",
        ),
        Input::word("top_faces", &["+X", "-X"], "machine direction in which the finished top faces"),
        Input::work_turns(),
    ],
    outputs: &[
        Output::quantity("azimuth", "deg", "right-hand angle about +X from +Z to the hole on the part")
            .round_the_circle(),
        Output::quantity("turn_about_x", "deg", "right-hand turn of the work that brings the hole up")
            .round_the_circle(),
        Output::quantity("index_angle", "deg", "commanded rotary angle, 0 to 360").round_the_circle(),
    ],
    refusals: &[],
    usual_mistake: "turning the rotary end for end changes BOTH work_turns and top_faces, so the index angle stays; \
         changing one only mirrors the part",
    validity: "rigid bodies, one rotary axis; zero direction of the drawing points up at index 0",
    source: "view direction and ISO 841 axis naming",
    example: r#"{
            "drawing_angle": 30.0, "drawn_direction": "counter-clockwise", "top_faces": "+X",
            "work_turns": "left-hand"
        }"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let drawn = if given.word("drawn_direction")? == "counter-clockwise" { 1.0 } else { -1.0 };
    let top = if given.word("top_faces")? == "+X" { 1.0 } else { -1.0 };
    let azimuth = given.number("drawing_angle")? * drawn * top;
    let turn = -azimuth;
    Ok(Answer::new()
        .with("azimuth", azimuth)
        .with("turn_about_x", turn)
        .with("index_angle", degrees::into_full_turn(given.work_turns()? * turn)))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{answer, holds};

    fn inputs(direction: &str, top: &str, turns: &str) -> serde_json::Value {
        json!({"drawing_angle": 30, "drawn_direction": direction, "top_faces": top, "work_turns": turns})
    }

    // Worked case drawing_angle_top_plusX_iso of the project's own set of cases.
    #[test]
    fn the_usual_machine_counts_as_the_drawing_does() {
        let expected = json!({"azimuth": 30.0, "turn_about_x": -30.0, "index_angle": 30.0});
        holds("drawing-angle-to-index", &inputs("counter-clockwise", "+X", "left-hand"), &expected);
    }

    // Geometry: turning the rotary end for end changes both sense and top, so the index stays; one of them mirrors the part.
    #[test]
    fn turning_the_rotary_end_for_end_changes_nothing_and_half_of_it_mirrors() {
        let end_for_end = inputs("counter-clockwise", "-X", "right-hand");
        holds("drawing-angle-to-index", &end_for_end, &json!({"index_angle": 30.0}));
        for mirrored in [inputs("counter-clockwise", "-X", "left-hand"), inputs("clockwise", "+X", "left-hand")] {
            holds("drawing-angle-to-index", &mirrored, &json!({"index_angle": 330.0}));
        }
    }

    // Geometry: the hole stands up after the turn that is answered.
    #[test]
    fn the_normal_of_the_hole_gives_the_same_index() {
        for turns in ["right-hand", "left-hand"] {
            let by_drawing = answer("drawing-angle-to-index", &inputs("clockwise", "-X", turns));
            let azimuth = by_drawing["azimuth"]["value"].as_f64().unwrap().to_radians();
            let normal = json!({"outward_normal": [0.0, -azimuth.sin(), azimuth.cos()], "work_turns": turns});
            holds("index-for-normal", &normal, &json!({"index_angle": by_drawing["index_angle"]["value"]}));
        }
    }
}
