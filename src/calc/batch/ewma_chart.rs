//! Where does the smoothed value stand and how wide are its control limits?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "ewma-chart",
    version: 1,
    topic: "batch",
    question: "Where does the smoothed value stand and how wide are its control limits?",
    formula: "z_i = weight*x_i + (1-weight)*z_(i-1), z_0 = start; limit_half_width = 3 standard_deviation \
         sqrt(weight/(2-weight) (1-(1-weight)^(2n)))",
    inputs: &[
        Input::quantities("values", "mm", "values in order").least_items(1),
        Input::quantity("start", "mm", "starting value, usually the target"),
        Input::quantity("weight", "1", "weight of the newest value").above(0.0).at_most(1.0),
        Input::quantity("standard_deviation", "mm", "standard deviation of single values").above(0.0),
    ],
    outputs: &[
        Output::quantities("smoothed_values", "mm", "smoothed value after each one"),
        Output::quantity("last_value", "mm", "last smoothed value"),
        Output::quantity("limit_half_width", "mm", "half width of the limits at the last value"),
    ],
    refusals: &[Refusal::of("values", "empty list")],
    usual_mistake: "using the settled limits for the first few pieces",
    validity: "independent values between corrections",
    source: "exponentially weighted chart",
    example: r#"{
            "values": [8.007, 8.0072, 8.0069, 8.0066], "start": 8.0075, "weight": 0.2,
            "standard_deviation": 0.0003
        }"#,
    solve,
};
