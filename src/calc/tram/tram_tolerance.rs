//! How well must the pads be trammed so that the feature stays in its position zone with 95 % when the pick-ups
//! already use part of it?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "tram-tolerance",
    version: 1,
    topic: "tram",
    question: "How well must the pads be trammed so that the feature stays in its position zone with 95 % when the \
         pick-ups already use part of it?",
    formula: "budget_uncertainty = position_zone/2/radius_factor; tram_uncertainty = sqrt(budget_uncertainty^2 - \
         sum u^2); angle_uncertainty = tram_uncertainty/feature_radius in radians; angle_half_width = \
         sqrt(3)*angle_uncertainty; pad_difference_limit = pad_span tan(angle_half_width)",
    inputs: &[
        Input::quantity("position_zone", "mm", "DIAMETER of the position zone").above(0.0),
        Input::quantity("feature_radius", "mm", "radius of the feature from the rotary centreline").above(0.0),
        Input::quantities("other_uncertainties", "mm", "standard uncertainties of everything else across the feature")
            .at_least(0.0),
        Input::quantity("pad_span", "mm", "distance between the pads").above(0.0),
        Input::quantity(
            "radius_factor",
            "1",
            "radius that holds 95 % of an equal two-way normal spread, in standard deviations; left out: sqrt(-2 ln \
             0.05)",
        )
        .above(0.0)
        .may_be_left_out(),
    ],
    outputs: &[
        Output::quantity("budget_uncertainty", "mm", "standard uncertainty allowed per direction"),
        Output::quantity("tram_uncertainty", "mm", "share left for the tram"),
        Output::quantity("angle_uncertainty", "deg", "same as an angle"),
        Output::quantity("angle_half_width", "deg", "half width of the bounded angle"),
        Output::quantity("pad_difference_limit", "mm", "largest pad difference that passes"),
    ],
    refusals: &[
        Refusal::of("other_uncertainties", "they use up the whole budget: no tram tolerance exists"),
        Refusal::of("position_zone", "so wide for the radius that angle_half_width would reach 90 deg"),
    ],
    usual_mistake: "the zone is a diameter: half of it is the radius, and a 95 % radius takes 2.45 standard \
         deviations, not 2",
    validity: "independent normal parts, equal in both directions",
    source: "JCGM 100 combination; 95 % radius of a circular normal",
    example: r#"{
            "position_zone": 0.05, "feature_radius": 24.0, "other_uncertainties": [0.0035, 0.003, 0.0025, 0.002],
            "pad_span": 70.0
        }"#,
    solve,
};
