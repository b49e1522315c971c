//! Could two digits have been swapped between two entries?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "typing-transposition",
    version: 1,
    topic: "metrology",
    question: "Could two digits have been swapped between two entries?",
    formula: "counts = (first_value - second_value)/least_count to the nearest whole number; swap_likely = counts \
         is not zero and divides by 9",
    inputs: &[
        Input::quantity("first_value", "mm", "first entry"),
        Input::quantity("second_value", "mm", "second entry"),
        Input::quantity("least_count", "mm", "one count of the instrument").above(0.0),
    ],
    outputs: &[
        Output::count("counts", "difference in counts, with sign"),
        Output::flag("swap_likely", "true when two neighbouring digits may be swapped"),
    ],
    refusals: &[],
    usual_mistake: "the test says 'may be', not 'is'",
    validity: "both entries in whole counts",
    source: "casting out nines",
    example: r#"{"first_value": 37.421, "second_value": 37.412, "least_count": 0.001}"#,
    solve,
};
