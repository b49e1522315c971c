//! Where is the rotary centreline in Z when one face is touched on top and again from both sides at plus and minus
//! a quarter turn?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "centreline-quarter-turn",
    version: 1,
    topic: "rotary",
    question: "Where is the rotary centreline in Z when one face is touched on top and again from both sides at \
         plus and minus a quarter turn?",
    formula: "half_height = (plus_reading - minus_reading)/2 - tip_radius; centreline_z = top_tip_z - half_height; \
         centreline_y = (plus_reading + minus_reading)/2; with the radius forgotten: centreline_z - tip_radius",
    inputs: &[
        Input::quantity("top_tip_z", "mm", "Z of the tool tip at the touch on the top of the face"),
        Input::quantity("plus_reading", "mm", "Y reading with the face turned to +Y, tip on its +Y side"),
        Input::quantity("minus_reading", "mm", "Y reading with the face turned to -Y, tip on its -Y side"),
        Input::quantity("tip_radius", "mm", "radius (not diameter) of the tip").above(0.0),
    ],
    outputs: &[
        Output::quantity("half_height", "mm", "distance of the face from the rotary centreline"),
        Output::quantity("centreline_z", "mm", "Z of the centreline"),
        Output::quantity("centreline_y", "mm", "Y of the centreline from the same touches"),
        Output::quantity(
            "centreline_z_if_radius_forgotten",
            "mm",
            "what the mistake would give, for comparison with the other method",
        ),
    ],
    refusals: &[Refusal::of(
        "plus_reading",
        "not above minus_reading by more than two tip radii: the face would lie behind the centreline",
    )],
    usual_mistake: "the tip radius cancels in a midpoint but NOT in this difference",
    validity: "same metal touched three times, square turns",
    source: "geometry of a quarter turn",
    example: r#"{
            "top_tip_z": -337.796, "plus_reading": -147.463, "minus_reading": -227.463, "tip_radius": 5
        }"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let (plus, minus) = (given.number("plus_reading")?, given.number("minus_reading")?);
    let tip_radius = given.number("tip_radius")?;
    let half_height = f64::midpoint(plus, -minus) - tip_radius;
    if half_height <= 0.0 {
        let reason = "plus_reading must lie above minus_reading by more than two tip radii: the face would lie behind the \
             centreline.";
        return Err(Refused::new("plus_reading", reason));
    }
    let centreline_z = given.number("top_tip_z")? - half_height;
    Ok(Answer::new()
        .with("half_height", half_height)
        .with("centreline_z", centreline_z)
        .with("centreline_y", f64::midpoint(plus, minus))
        .with("centreline_z_if_radius_forgotten", centreline_z - tip_radius))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, refuses, with};

    // Geometry by hand: a face 35 above the centreline, touched at 187.463 -/+ (35 + 5); the radius does not cancel.
    #[test]
    fn the_radius_cancels_in_y_but_not_in_z() {
        let inputs =
            json!({"top_tip_z": -337.796, "plus_reading": -147.463, "minus_reading": -227.463, "tip_radius": 5});
        let expected = json!({"half_height": 35.0, "centreline_z": -372.796, "centreline_y": -187.463,
            "centreline_z_if_radius_forgotten": -377.796});
        holds("centreline-quarter-turn", &inputs, &expected);
        refuses("centreline-quarter-turn", &with(&inputs, "plus_reading", json!(-217.463)), "plus_reading");
        refuses("centreline-quarter-turn", &with(&inputs, "tip_radius", json!(0)), "tip_radius");
    }
}
