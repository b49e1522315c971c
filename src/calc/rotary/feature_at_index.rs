//! Where does the machine stand when a feature comes up under the spindle, and what does the program show there?

use crate::calc::degrees;
use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "feature-at-index",
    version: 1,
    topic: "rotary",
    question: "Where does the machine stand when a feature comes up under the spindle, and what does the program show \
         there?",
    formula: "machine_a = program_a + register_a mod 360; machine_x = register_x + along (minus along when the top \
         faces -X); machine_y = centreline_y + shift_y + across; surface_z = centreline_z + shift_z + entry_height; \
         program_x = machine_x - register_x; program_y = machine_y - register_y; program_z = surface_z - register_z",
    inputs: &[
        Input::quantity("register_x", "mm", "X register of the work offset"),
        Input::quantity("register_y", "mm", "Y register"),
        Input::quantity("register_z", "mm", "Z register"),
        Input::quantity("register_a", "deg", "A register"),
        Input::quantity("program_a", "deg", "rotary angle in the program that brings the feature up"),
        Input::quantity("along", "mm", "distance of the feature from X zero, plus towards the finished top"),
        Input::word("top_faces", &["+X", "-X"], "machine direction in which the finished top faces"),
        Input::quantity("across", "mm", "distance of the feature from the middle, plus towards +Y when it is up")
            .or(0.0),
        Input::quantity("entry_height", "mm", "height of the surface above the middle of the part when it is up"),
        Input::quantity("centreline_y", "mm", "machine Y of the rotary centreline at the feature"),
        Input::quantity("centreline_z", "mm", "tip Z of the rotary centreline at the feature"),
        Input::quantity("shift_y", "mm", "what the off-centre shifts at this index in Y (off-centre-shift)"),
        Input::quantity("shift_z", "mm", "the same in Z"),
    ],
    outputs: &[
        Output::quantity("machine_a", "deg", "machine rotary position, 0 to 360").round_the_circle(),
        Output::quantity("machine_x", "mm", "machine X of the feature"),
        Output::quantity("machine_y", "mm", "machine Y of the feature"),
        Output::quantity("surface_z", "mm", "tip Z of the surface at the feature"),
        Output::quantity("program_x", "mm", "X shown under the work offset"),
        Output::quantity("program_y", "mm", "Y shown under the work offset"),
        Output::quantity("program_z", "mm", "Z of the surface shown under the work offset"),
    ],
    refusals: &[],
    usual_mistake: "drilling all features at Y zero: an off-centre fixture needs its own Y and Z at each index",
    validity: "feature square to X; tip Z with the tool length taken out",
    source: "coordinate identity of RS-274 work offsets; plane geometry",
    example: r#"{
            "register_x": -312.405, "register_y": -187.463, "register_z": -372.796, "register_a": 37.412,
            "program_a": 0, "along": 28, "top_faces": "+X", "entry_height": 24, "centreline_y": -187.46265,
            "centreline_z": -372.7964, "shift_y": 0.017536718904613488, "shift_z": -0.011570959388558753
        }"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let top = if given.word("top_faces")? == "+X" { 1.0 } else { -1.0 };
    let program_x = given.number("along")? * top;
    let machine_y = given.number("centreline_y")? + given.number("shift_y")? + given.number("across")?;
    let surface_z = given.number("centreline_z")? + given.number("shift_z")? + given.number("entry_height")?;
    let machine_a = degrees::into_full_turn(given.number("program_a")? + given.number("register_a")?);
    Ok(Answer::new()
        .with("machine_a", machine_a)
        .with("machine_x", given.number("register_x")? + program_x)
        .with("machine_y", machine_y)
        .with("surface_z", surface_z)
        .with("program_x", program_x)
        .with("program_y", machine_y - given.number("register_y")?)
        .with("program_z", surface_z - given.number("register_z")?))
}

#[cfg(test)]
mod tests {
    use serde_json::{Value, json};

    use crate::calc::check::{holds, near, with};

    fn first_port() -> Value {
        json!({"register_x": -312.405, "register_y": -187.463, "register_z": -372.796, "register_a": 37.412,
            "program_a": 0, "along": 28, "top_faces": "+X", "entry_height": 24, "centreline_y": -187.462_65,
            "centreline_z": -372.7964, "shift_y": 0.017_536_718_904_613_488, "shift_z": -0.011_570_959_388_558_753})
    }

    // The project's worked job of a flow-sensor body, port P1; its own figures are kept to 1e-6.
    #[test]
    fn the_first_port_of_a_flow_sensor_body() {
        for (key, printed) in [
            ("machine_a", 37.412),
            ("machine_x", -284.405),
            ("machine_y", -187.445_113),
            ("surface_z", -348.807_971),
            ("program_x", 28.0),
            ("program_y", 0.017_887),
            ("program_z", 23.988_029),
        ] {
            near("feature-at-index", &first_port(), key, printed, 1e-6);
        }
    }

    // RS-274: machine = program + register on every axis; a top that faces -X turns the sign of the distance along it.
    #[test]
    fn the_other_end_and_the_far_side_of_the_circle() {
        let other = with(&with(&first_port(), "top_faces", json!("-X")), "program_a", json!(330));
        holds("feature-at-index", &other, &json!({"machine_x": -340.405, "program_x": -28.0, "machine_a": 7.412}));
        let across = with(&first_port(), "across", json!(-2));
        near("feature-at-index", &across, "program_y", -1.982_113, 1e-6);
    }
}
