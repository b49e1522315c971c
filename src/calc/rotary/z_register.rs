//! Which Z register value puts Z zero on the rotary centreline, from a touch on a setter standing on the table and
//! a known centre height?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "z-register",
    version: 1,
    topic: "rotary",
    question: "Which Z register value puts Z zero on the rotary centreline, from a touch on a setter standing on \
         the table and a known centre height?",
    formula: "table_top_z = machine_z_at_touch - reference_tool_length - setter_height; z_register = table_top_z + \
         centre_height",
    inputs: &[
        Input::quantity("machine_z_at_touch", "mm", "machine Z when the reference tool touches the setter"),
        Input::quantity("reference_tool_length", "mm", "length of that tool, positive-length convention").above(0.0),
        Input::quantity("setter_height", "mm", "height of the setter on the table; 0 when the table itself is touched")
            .at_least(0.0),
        Input::quantity("centre_height", "mm", "certified height of the rotary centreline above the table").above(0.0),
    ],
    outputs: &[
        Output::quantity("table_top_z", "mm", "tip Z of the table top"),
        Output::quantity("z_register", "mm", "value for the Z register"),
    ],
    refusals: &[],
    usual_mistake: "forget the setter and every hole is one setter height too deep",
    validity: "positive tool lengths from the gauge line; setter and rotary on the same table face",
    source: "definition of the tool length offset",
    example: r#"{
            "machine_z_at_touch": -362.388, "reference_tool_length": 120.412, "setter_height": 50.0,
            "centre_height": 160.004
        }"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let table_top_z =
        given.number("machine_z_at_touch")? - given.number("reference_tool_length")? - given.number("setter_height")?;
    Ok(Answer::new().with("table_top_z", table_top_z).with("z_register", table_top_z + given.number("centre_height")?))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, refuses, with};

    // Worked case z_register_known_centre_height of the project's own set of cases.
    #[test]
    fn the_setter_is_taken_off() {
        let inputs = json!({"machine_z_at_touch": -362.388, "reference_tool_length": 120.412, "setter_height": 50.0,
            "centre_height": 160.004});
        holds("z-register", &inputs, &json!({"table_top_z": -532.8, "z_register": -372.796}));
        refuses("z-register", &with(&inputs, "setter_height", json!(-0.001)), "setter_height");
        refuses("z-register", &with(&inputs, "centre_height", json!(0)), "centre_height");
    }
}
