//! In which order do numbered marker dots come up, and in which would a mirrored or a turned pattern show them?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "marker-dots",
    version: 1,
    topic: "first-run",
    question: "In which order do numbered marker dots come up, and in which would a mirrored or a turned pattern show \
         them?",
    formula: "sides = the different drawing angles, counter-clockwise from 0, numbered from 1; order = number of the \
         side at each drawing angle in the order of the program, the same side once while it stays up; mirrored = \
         side at minus the angle, turned = side at the angle + 180, 0 where no dot stands; angles within same_within \
         are the same",
    inputs: &[
        Input::quantities(
            "drawing_angles",
            "deg",
            "drawing angle of each feature, counter-clockwise, as programmed in turn",
        )
        .least_items(1),
        Input::quantity("same_within", "deg", "angles closer than this are the same side").at_least(0.0).or(0.01),
    ],
    outputs: &[
        Output::quantities("sides", "deg", "drawing angles of dot 1, 2, ..."),
        Output::quantities("order", "1", "dots in the order in which they come up"),
        Output::quantities("mirrored", "1", "the order when the pattern is mirrored"),
        Output::quantities("turned", "1", "the order when the part is turned half round"),
    ],
    refusals: &[Refusal::of("drawing_angles", "more than 99 different sides")],
    usual_mistake: "numbering the dots in the order of the program: a mirrored pattern may then look right",
    validity: "dots set on the part by the drawing, not by the program",
    source: "common practice",
    example: r#"{"drawing_angles": [0, 180, 90, 270]}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let (angles, within) = (given.numbers("drawing_angles")?, given.number("same_within")?);
    let same = |one: f64, other: f64| ((one - other + 180.0).rem_euclid(360.0) - 180.0).abs() <= within;
    let mut sides: Vec<f64> = Vec::new();
    for angle in angles {
        let round = angle.rem_euclid(360.0);
        let round = if same(round, 0.0) { 0.0 } else { round };
        if !sides.iter().any(|side| same(*side, round)) {
            sides.push(round);
        }
    }
    if sides.len() > 99 {
        return Err(Refused::new("drawing_angles", "more than 99 different sides."));
    }
    sides.sort_by(f64::total_cmp);
    let number =
        |angle: f64| (1_u8..).zip(&sides).find(|(_, side)| same(**side, angle)).map_or(0, |(number, _)| number);
    let seen = |turn: &dyn Fn(f64) -> f64| {
        let mut order: Vec<u8> = angles.iter().map(|angle| number(turn(*angle))).collect();
        order.dedup();
        order.into_iter().map(f64::from).collect::<Vec<f64>>()
    };
    Ok(Answer::new()
        .with("order", seen(&|angle| angle))
        .with("mirrored", seen(&|angle| -angle))
        .with("turned", seen(&|angle| angle + 180.0))
        .with("sides", sides))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::holds;

    // By definition: mirrored, 90 and 270 change places; turned half round, 0 and 180 do as well.
    #[test]
    fn a_mirrored_pattern_shows_another_order() {
        let expected = json!({
            "sides": [0.0, 90.0, 180.0, 270.0], "order": [1.0, 3.0, 2.0, 4.0], "mirrored": [1.0, 3.0, 4.0, 2.0],
            "turned": [3.0, 1.0, 4.0, 2.0],
        });
        holds("marker-dots", &json!({"drawing_angles": [0, 180, 90, -90]}), &expected);
    }

    #[test]
    fn a_bare_side_is_nought_and_a_side_that_stays_up_counts_once() {
        let expected = json!({"sides": [0.0, 60.0, 120.0], "order": [1.0, 3.0, 2.0], "mirrored": [1.0, 0.0]});
        holds("marker-dots", &json!({"drawing_angles": [0, 360, 120, 60]}), &expected);
    }
}
