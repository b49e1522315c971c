//! How long does a batch take and what does one piece cost in time with its share of the setup?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "batch-time",
    version: 1,
    topic: "batch",
    question: "How long does a batch take and what does one piece cost in time with its share of the setup?",
    formula: "total_time = setup_time + time_per_piece*pieces; time_per_piece_with_setup = total_time/pieces",
    inputs: &[
        Input::quantity("setup_time", "min", "time to set up").at_least(0.0),
        Input::quantity("time_per_piece", "min", "time per piece").above(0.0),
        Input::count("pieces", "pieces in the batch").at_least(1.0),
    ],
    outputs: &[
        Output::quantity("total_time", "min", "time for the batch"),
        Output::quantity("time_per_piece_with_setup", "min", "time per piece with its share of the setup"),
    ],
    refusals: &[],
    usual_mistake: "leaving the setup out of a small batch",
    validity: "none",
    source: "sum",
    example: r#"{"setup_time": 90, "time_per_piece": 14.5, "pieces": 12}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let pieces = given.number("pieces")?;
    let total_time = given.number("setup_time")? + given.number("time_per_piece")? * pieces;
    Ok(Answer::new().with("total_time", total_time).with("time_per_piece_with_setup", total_time / pieces))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, refuses, with};

    // By hand: 90 + 12*14.5 = 264 minutes, 22 each.
    #[test]
    fn a_small_batch_carries_its_setup() {
        let inputs = json!({"setup_time": "1.5 h", "time_per_piece": 14.5, "pieces": 12});
        holds("batch-time", &inputs, &json!({"total_time": 264.0, "time_per_piece_with_setup": 22.0}));
        let set_up = with(&inputs, "setup_time", json!(0));
        holds("batch-time", &set_up, &json!({"total_time": 174.0, "time_per_piece_with_setup": 14.5}));
    }

    #[test]
    fn values_outside_their_limits_are_refused() {
        let inputs = json!({"setup_time": 90, "time_per_piece": 14.5, "pieces": 12});
        refuses("batch-time", &with(&inputs, "pieces", json!(0)), "pieces");
        refuses("batch-time", &with(&inputs, "pieces", json!(1.5)), "pieces");
        refuses("batch-time", &with(&inputs, "time_per_piece", json!(0)), "time_per_piece");
        refuses("batch-time", &with(&inputs, "setup_time", json!(-1)), "setup_time");
        refuses("batch-time", &with(&inputs, "pieces", json!(1e308)), "inputs");
    }
}
