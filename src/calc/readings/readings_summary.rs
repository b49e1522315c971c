//! What do repeated readings say: mean, spread, uncertainty of the mean, range and median?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "readings-summary",
    version: 1,
    topic: "metrology",
    question: "What do repeated readings say: mean, spread, uncertainty of the mean, range and median?",
    formula: "mean; standard_deviation = sqrt(sum (x-mean)^2/(n-1)); standard_uncertainty = \
         standard_deviation/sqrt(n); range = max - min; median = middle value, or mean of the two middle ones",
    inputs: &[Input::quantities("readings", "mm", "repeated readings of one thing").least_items(1)],
    outputs: &[
        Output::count("count", "number of readings"),
        Output::quantity("mean", "mm", "arithmetic mean"),
        Output::quantity("standard_deviation", "mm", "sample standard deviation").null_when("only one reading"),
        Output::quantity("standard_uncertainty", "mm", "standard uncertainty of the mean (type A)")
            .null_when("only one reading"),
        Output::quantity("range", "mm", "largest minus smallest"),
        Output::quantity("median", "mm", "median"),
    ],
    refusals: &[Refusal::of("readings", "empty list")],
    usual_mistake: "dividing by n in place of n-1, or quoting the deviation of one reading for that of the mean",
    validity: "independent readings",
    source: "JCGM 100 clause 4.2",
    example: r#"{"readings": [-187.4462, -187.4466, -187.4459, -187.4463, -187.4465]}"#,
    solve,
};
