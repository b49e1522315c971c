//! Do machine position, displayed position, register, common shift and tool length agree, and if not, which
//! register is live?

use crate::calc::limits;
use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

const FIELDS: &[Input] =
    &[Input::text("register", "name of the register"), Input::quantity("value", "mm", "its value on this axis")];

pub(super) static CALCULATION: Calculation = Calculation {
    id: "coordinate-identity",
    version: 1,
    topic: "rotary",
    question: "Do machine position, displayed position, register, common shift and tool length agree, and if not, \
         which register is live?",
    formula: "residual = machine_position - displayed_position - register_value - common_shift - tool_length; \
         implied_register = machine_position - displayed_position - common_shift - tool_length; matching_registers \
         = names with |value - implied_register| <= match_within",
    inputs: &[
        Input::quantity("machine_position", "mm", "machine position of the axis"),
        Input::quantity("displayed_position", "mm", "displayed work position"),
        Input::quantity("register_value", "mm", "value of the register believed to be live"),
        Input::quantity("common_shift", "mm", "shift common to all registers").or(0.0),
        Input::quantity("tool_length", "mm", "tool length in use; 0 for X and Y or with length compensation off")
            .or(0.0),
        Input::records("stored_registers", FIELDS, "all stored registers on this axis, for the search").or_empty(),
        Input::quantity("match_within", "mm", "how close a register must be to count as the one")
            .at_least(0.0)
            .or(0.001),
    ],
    outputs: &[
        Output::quantity("residual", "mm", "must be zero within one least increment"),
        Output::quantity("implied_register", "mm", "register value that would make the sum right"),
        Output::texts(
            "matching_registers",
            "names of stored registers that match the implied value, in the order given; [] when none",
        ),
    ],
    refusals: &[],
    usual_mistake: "a residual of exactly minus the tool length means length compensation is off",
    validity: "positive tool lengths; linear axes only",
    source: "definition of the work coordinate system",
    example: r#"{
            "machine_position": -249.999, "displayed_position": 15.209, "register_value": -372.796,
            "common_shift": 0.0, "tool_length": 107.588
        }"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let (machine, displayed) = (given.number("machine_position")?, given.number("displayed_position")?);
    let position = machine - displayed;
    let (register_value, common_shift) = (given.number("register_value")?, given.number("common_shift")?);
    let (tool_length, match_within) = (given.number("tool_length")?, given.number("match_within")?);
    let implied_register = position - common_shift - tool_length;
    let largest = limits::largest(&[machine, displayed, common_shift, tool_length]);
    let mut matching_registers = Vec::new();
    for stored in given.records("stored_registers")? {
        let apart = (stored.number("value")? - implied_register).abs();
        if limits::difference_within(apart, match_within, largest) {
            matching_registers.push(stored.text("register")?.to_owned());
        }
    }
    Ok(Answer::new()
        .with("residual", position - register_value - common_shift - tool_length)
        .with("implied_register", implied_register)
        .with("matching_registers", matching_registers))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, refuses, with};

    // Worked case coordinate_identity_z of the project's own set of cases.
    #[test]
    fn the_live_register_is_found() {
        let inputs = json!({"machine_position": -249.999, "displayed_position": 15.209, "register_value": -372.796,
            "tool_length": 107.588});
        let expected = json!({"residual": 0.0, "implied_register": -372.796, "matching_registers": []});
        holds("coordinate-identity", &inputs, &expected);
        let stored = json!([{"register": "G54", "value": 0}, {"register": "G55", "value": -372.797},
            {"register": "G59.1", "value": "-372.796 mm"}, {"register": "G56", "value": -372.798}]);
        let searched = with(&inputs, "stored_registers", stored);
        holds("coordinate-identity", &searched, &json!({"matching_registers": ["G55", "G59.1"]}));
    }

    // By hand: without length compensation the display is wrong by the tool length.
    #[test]
    fn compensation_that_is_off_shows_as_minus_the_tool_length() {
        let inputs = json!({"machine_position": -249.999, "displayed_position": 122.797, "register_value": -372.796,
            "tool_length": 107.588});
        holds("coordinate-identity", &inputs, &json!({"residual": -107.588}));
    }

    #[test]
    fn faults_in_a_stored_register_are_blamed_on_the_list() {
        let inputs = json!({"machine_position": 0, "displayed_position": 0, "register_value": 0});
        for stored in [
            json!([{"register": "G54"}]),
            json!([{"register": 54, "value": 0}]),
            json!({"G54": 0}),
            json!([{"register": "G54", "value": 0, "unit": "mm"}]),
            json!([{"register": "G54", "value": "0 deg"}]),
            json!([3]),
        ] {
            refuses("coordinate-identity", &with(&inputs, "stored_registers", stored), "stored_registers");
        }
    }
}
