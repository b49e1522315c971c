//! Did the pads answer the move as they should, and if not, what slip does the ratio point to?

use crate::calc::degrees;
use crate::calc::limits;
use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "tram-gain",
    version: 1,
    topic: "tram",
    question: "Did the pads answer the move as they should, and if not, what slip does the ratio point to?",
    formula: "gain = (difference_after - difference_before)/(pad_span tan(s*correction_sent)); diagnosis: within 10 \
         % of 1 good, -1 wrong-way, 10 times-10, 0.1 divided-by-10, 25.4 times-25.4, 1/25.4 divided-by-25.4, 2 \
         times-2, 0.5 divided-by-2; |gain| <= 0.02 not-moving; else over 1.1 up to 1.3 reads-high; else from 0.3 to \
         under 0.9 reads-low; else unexplained",
    inputs: &[
        Input::quantity("difference_before", "mm", "rear minus front before the move"),
        Input::quantity("difference_after", "mm", "rear minus front after the move"),
        Input::quantity("correction_sent", "deg", "angle that was commanded").above(-90.0).below(90.0).nonzero(),
        Input::quantity("pad_span", "mm", "distance between the reading places").above(0.0),
        Input::work_turns(),
    ],
    outputs: &[
        Output::quantity("gain", "1", "change seen over change expected"),
        Output::word(
            "diagnosis",
            &[
                "good",
                "wrong-way",
                "not-moving",
                "times-10",
                "divided-by-10",
                "times-25.4",
                "divided-by-25.4",
                "times-2",
                "divided-by-2",
                "reads-high",
                "reads-low",
                "unexplained",
            ],
            "name of the slip",
        ),
    ],
    refusals: &[],
    usual_mistake: "a lever at an angle reads HIGH (gain above 1); the final null reading is not affected",
    validity: "small angles, same indicator before and after",
    source: "ratio of seen to expected",
    example: r#"{
            "difference_before": 0.224, "difference_after": 0.003, "correction_sent": 0.181, "pad_span": 70.0,
            "work_turns": "left-hand"
        }"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let seen = given.number("difference_after")? - given.number("difference_before")?;
    let turn = given.work_turns()? * given.number("correction_sent")?;
    let gain = seen / (given.number("pad_span")? * degrees::tangent(turn));
    Ok(Answer::new().with("gain", gain).with("diagnosis", diagnosis(gain)))
}

/// Names the slip that a gain points to.
fn diagnosis(gain: f64) -> &'static str {
    const SLIPS: [(f64, &str); 8] = [
        (1.0, "good"),
        (-1.0, "wrong-way"),
        (10.0, "times-10"),
        (0.1, "divided-by-10"),
        (25.4, "times-25.4"),
        (1.0 / 25.4, "divided-by-25.4"),
        (2.0, "times-2"),
        (0.5, "divided-by-2"),
    ];
    if let Some((_, name)) = SLIPS.iter().find(|(ratio, _)| limits::within((gain / ratio - 1.0).abs(), 0.1)) {
        return name;
    }
    match gain {
        _ if limits::within(gain.abs(), 0.02) => "not-moving",
        _ if gain > 1.1 && limits::within(gain, 1.3) => "reads-high",
        _ if limits::within(0.3, gain) && gain < 0.9 => "reads-low",
        _ => "unexplained",
    }
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, refuses, with};

    // Worked case tram_gain_good of the project's own set of cases.
    #[test]
    fn pads_that_answer_the_move_are_good() {
        let inputs = json!({"difference_before": 0.224, "difference_after": 0.003, "correction_sent": 0.181,
            "pad_span": 70.0, "work_turns": "left-hand"});
        holds("tram-gain", &inputs, &json!({"gain": 0.999_394_250_252_371, "diagnosis": "good"}));
        let other_sense = with(&inputs, "work_turns", json!("right-hand"));
        holds("tram-gain", &other_sense, &json!({"gain": -0.999_394_250_252_371, "diagnosis": "wrong-way"}));
    }

    // The table of gains and causes in the formula of the calculation: 10 % each way, then the ranges between.
    #[test]
    fn every_slip_has_its_name_and_the_edges_belong_to_it() {
        for (gain, name) in [
            (0.9, "good"),
            (1.1, "good"),
            (-0.9, "wrong-way"),
            (-1.1, "wrong-way"),
            (9.0, "times-10"),
            (11.0, "times-10"),
            (0.09, "divided-by-10"),
            (0.11, "divided-by-10"),
            (25.4, "times-25.4"),
            (0.0394, "divided-by-25.4"),
            (2.2, "times-2"),
            (1.8, "times-2"),
            (0.45, "divided-by-2"),
            (0.0, "not-moving"),
            (-0.02, "not-moving"),
            (0.02, "not-moving"),
            (1.101, "reads-high"),
            (1.3, "reads-high"),
            (0.3, "reads-low"),
            (0.899, "reads-low"),
            (0.299, "unexplained"),
            (1.31, "unexplained"),
            (0.025, "unexplained"),
            (-3.0, "unexplained"),
            (1e9, "unexplained"),
        ] {
            assert_eq!(super::diagnosis(gain), name, "{gain}");
        }
    }

    #[test]
    fn a_move_of_nothing_or_a_quarter_turn_is_refused() {
        let inputs = json!({"difference_before": 0.2, "difference_after": 0, "correction_sent": 0, "pad_span": 70,
            "work_turns": "left-hand"});
        for sent in [json!(0), json!("0 rad"), json!(90), json!(-90)] {
            refuses("tram-gain", &with(&inputs, "correction_sent", sent), "correction_sent");
        }
    }
}
