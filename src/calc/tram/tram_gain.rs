//! Did the pads answer the move as they should, and if not, what slip does the ratio point to?

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
