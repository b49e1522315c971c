//! Do machine positions stay inside the travel of an axis, and how much room is left?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "travel-room",
    version: 1,
    topic: "rotary",
    question: "Do machine positions stay inside the travel of an axis, and how much room is left?",
    formula: "room_below = least position - lowest; room_above = highest - greatest position; inside = both at least 0",
    inputs: &[
        Input::quantities("positions", "mm", "machine positions that the axis has to reach").least_items(1),
        Input::quantity("lowest", "mm", "lower end of the travel, machine position"),
        Input::quantity("highest", "mm", "upper end of the travel"),
    ],
    outputs: &[
        Output::quantity("room_below", "mm", "room to the lower end, minus = beyond it"),
        Output::quantity("room_above", "mm", "room to the upper end, minus = beyond it"),
        Output::quantity("least_room", "mm", "the smaller of the two"),
        Output::flag("inside", "true when every position can be reached"),
    ],
    refusals: &[Refusal::of("highest", "not above lowest")],
    usual_mistake: "looking at index 0 only: the off-centre and the offset of a hole move the others",
    validity: "machine positions of one axis; soft limits set inside the travel are the travel",
    source: "definition of the travel",
    example: r#"{"positions": [-330.5, -218.2], "lowest": -450, "highest": 0}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let (lowest, highest) = (given.number("lowest")?, given.number("highest")?);
    if highest <= lowest {
        return Err(Refused::new("highest", "highest must lie above lowest."));
    }
    let positions = given.numbers("positions")?;
    let least = positions.iter().copied().fold(f64::INFINITY, f64::min);
    let greatest = positions.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let (below, above) = (least - lowest, highest - greatest);
    Ok(Answer::new()
        .with("room_below", below)
        .with("room_above", above)
        .with("least_room", below.min(above))
        .with("inside", below >= 0.0 && above >= 0.0))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, refuses, with};

    // By definition: the ends themselves can be reached.
    #[test]
    fn the_ends_belong_to_the_travel() {
        let inputs = json!({"positions": [-450, -20], "lowest": -450, "highest": 0});
        let expected = json!({"room_below": 0.0, "room_above": 20.0, "least_room": 0.0, "inside": true});
        holds("travel-room", &inputs, &expected);
        let beyond = with(&inputs, "positions", json!([-450.001, 0.5]));
        holds("travel-room", &beyond, &json!({"inside": false, "least_room": -0.5}));
        refuses("travel-room", &with(&inputs, "highest", json!(-450)), "highest");
        refuses("travel-room", &with(&inputs, "positions", json!([])), "positions");
    }
}
