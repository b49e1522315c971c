//! Does the display show the nominal angle after the rotary register has been written?

use crate::calc::degrees;
use crate::calc::limits;
use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "a-zero-readback",
    version: 1,
    topic: "rotary",
    question: "Does the display show the nominal angle after the rotary register has been written?",
    formula: "display_after = machine_angle - written_register mod 360; readback_error = display_after - \
         nominal_angle into -180..180; fault_seen = |readback_error| > least_increment",
    inputs: &[
        Input::quantity("machine_angle", "deg", "machine rotary angle at the trammed position"),
        Input::quantity("written_register", "deg", "value that was written"),
        Input::quantity("nominal_angle", "deg", "angle that should show").or(0.0),
        Input::quantity("least_increment", "deg", "smallest step of the display").above(0.0).or(0.001),
    ],
    outputs: &[
        Output::quantity("display_after", "deg", "what the display must show for that register").round_the_circle(),
        Output::quantity("readback_error", "deg", "difference from the nominal angle").round_the_circle(),
        Output::flag("fault_seen", "true when the difference is more than one least increment"),
    ],
    refusals: &[],
    usual_mistake: "comparing without going round: 359.9999 is as good as 0",
    validity: "displayed = machine - register",
    source: "definition",
    example: r#"{"machine_angle": 37.412, "written_register": 37.412}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let (machine, register) = (given.number("machine_angle")?, given.number("written_register")?);
    let display_after = degrees::into_full_turn(machine - register);
    let readback_error = degrees::into_half_turns(display_after - given.number("nominal_angle")?);
    let least_increment = given.number("least_increment")?;
    let largest = limits::largest(&[machine, register, 360.0]);
    let fault_seen = !limits::difference_within(readback_error.abs(), least_increment, largest);
    Ok(Answer::new()
        .with("display_after", display_after)
        .with("readback_error", readback_error)
        .with("fault_seen", fault_seen))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, refuses};

    // By hand: the register of a-zero-register reads back as zero; the displayed number typed for it reads back 12.25 off.
    #[test]
    fn a_wrong_register_is_seen() {
        let right = json!({"machine_angle": 37.412, "written_register": 37.412});
        holds("a-zero-readback", &right, &json!({"display_after": 0.0, "readback_error": 0.0, "fault_seen": false}));
        let wrong = json!({"machine_angle": 37.412, "written_register": 25.162});
        holds("a-zero-readback", &wrong, &json!({"display_after": 12.25, "readback_error": 12.25, "fault_seen": true}));
    }

    // By hand: one step of 0.001 is no fault, whichever way plain arithmetic rounds the difference; one and a half is.
    #[test]
    fn one_least_increment_is_no_fault() {
        for angle in [0.0, 37.412, 123.456, 359.999] {
            let one_step = json!({"machine_angle": angle + 0.001, "written_register": angle});
            holds("a-zero-readback", &one_step, &json!({"fault_seen": false}));
            let more = json!({"machine_angle": angle, "written_register": angle + 0.0015});
            holds("a-zero-readback", &more, &json!({"fault_seen": true}));
        }
        let no_step = json!({"machine_angle": 0, "written_register": 0, "least_increment": 0});
        refuses("a-zero-readback", &no_step, "least_increment");
    }
}
