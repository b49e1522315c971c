//! How likely is the true value inside its limits, and which measured values may be accepted with a guard band?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "conformity",
    version: 1,
    topic: "inspection",
    question: "How likely is the true value inside its limits, and which measured values may be accepted with a \
         guard band?",
    formula: "z = (limit - estimate)/standard_uncertainty; probability_below = F(z_lower), probability_above = 1 - \
         F(z_upper), probability_inside = 1 - both; F normal, or Student t with degrees_of_freedom; accept_low = \
         lower_limit + guard_factor*u, accept_high = upper_limit - guard_factor*u; zone_used = \
         (accept_high-accept_low)/(upper_limit-lower_limit)",
    inputs: &[
        Input::quantity("lower_limit", "mm", "lower limit of the drawing"),
        Input::quantity("upper_limit", "mm", "upper limit of the drawing"),
        Input::quantity("estimate", "mm", "measured value"),
        Input::quantity("standard_uncertainty", "mm", "its standard uncertainty").above(0.0),
        Input::degrees_of_freedom("degrees_of_freedom", "a number of at least 1, or 'infinite'")
            .at_least(1.0)
            .or_infinite(),
        Input::quantity("guard_factor", "1", "guard band in standard uncertainties").at_least(0.0).or(2.0),
    ],
    outputs: &[
        Output::quantity("probability_inside", "1", "probability that the true value is within the limits"),
        Output::quantity("probability_below", "1", "below the lower limit"),
        Output::quantity("probability_above", "1", "above the upper limit"),
        Output::quantity("accept_low", "mm", "lowest measured value to accept")
            .null_when("the guard bands meet or overlap"),
        Output::quantity("accept_high", "mm", "highest measured value to accept")
            .null_when("the guard bands meet or overlap"),
        Output::quantity("zone_used", "1", "share of the zone left for acceptance")
            .null_when("the guard bands meet or overlap"),
        Output::flag(
            "accept",
            "true when the estimate is from accept_low to accept_high; false when the guard bands meet or overlap",
        ),
    ],
    refusals: &[Refusal::of("upper_limit", "not above lower_limit")],
    usual_mistake: "a measured value just inside the limit is outside with nearly even odds",
    validity: "no prior knowledge beyond the measurement",
    source: "JCGM 106; ISO 14253-1 acceptance idea",
    example: r#"{
            "lower_limit": 8.0, "upper_limit": 8.015, "estimate": 8.0065, "standard_uncertainty": 0.0012
        }"#,
    solve,
};
