//! How likely is the true value inside its limits, and which measured values may be accepted with a guard band?

use super::probability;
use crate::calc::limits;
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

fn solve(given: &Given) -> Result<Answer, Refused> {
    let (lower, upper) = (given.number("lower_limit")?, given.number("upper_limit")?);
    if upper <= lower {
        return Err(Refused::new("upper_limit", "upper_limit must be above lower_limit."));
    }
    let (estimate, uncertainty) = (given.number("estimate")?, given.number("standard_uncertainty")?);
    let freedom = given.number("degrees_of_freedom")?;
    let low = (lower - estimate) / uncertainty;
    let high = (upper - estimate) / uncertainty;
    let guard = given.number("guard_factor")? * uncertainty;
    let (accept_low, accept_high) = (lower + guard, upper - guard);
    let largest = limits::largest(&[lower, upper, guard, estimate]);
    let room = !limits::difference_within(accept_high, accept_low, largest);
    let accept = room
        && limits::difference_within(accept_low, estimate, largest)
        && limits::difference_within(estimate, accept_high, largest);
    Ok(Answer::new()
        .with("probability_inside", probability::between(low, high, freedom))
        .with("probability_below", probability::below(low, freedom))
        .with("probability_above", probability::below(-high, freedom))
        .with("accept_low", room.then_some(accept_low))
        .with("accept_high", room.then_some(accept_high))
        .with("zone_used", room.then(|| (accept_high - accept_low) / (upper - lower)))
        .with("accept", accept))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, near, refuses, with};

    // Normal distribution: at the limit itself the odds are even; one side 2 u away is 2.275 % (JCGM 106:2012 8.3,
    // computed; the textbook prints 0.0228).
    #[test]
    fn a_guard_band_leaves_its_share_of_the_tail() {
        for (away, tail) in [
            (0.0, 0.5),
            (0.5, 0.308_537_538_7),
            (1.0, 0.158_655_253_9),
            (1.5, 0.066_807_201_27),
            (2.0, 0.022_750_131_95),
        ] {
            let inputs = json!({"lower_limit": 0, "upper_limit": 10, "standard_uncertainty": 0.1,
                "estimate": 10.0 - 0.1 * away});
            near("conformity", &inputs, "probability_above", tail, 1e-10);
        }
    }

    // JCGM 106:2012 7.4, motor oil (from memory, unsure of the clause): 0.66; the digits are the formula's, computed.
    #[test]
    fn both_limits_count() {
        let inputs = json!({"lower_limit": 12.5, "upper_limit": 16.3, "estimate": 13.6, "standard_uncertainty": 1.8});
        near("conformity", &inputs, "probability_inside", 0.66, 0.005);
        near("conformity", &inputs, "probability_inside", 0.662_629_786_5, 1e-10);
        holds(
            "conformity",
            &inputs,
            &json!({"accept_low": null, "accept_high": null, "zone_used": null,
            "accept": false}),
        );
    }

    // JCGM 106:2012 7.3, Zener diode (from memory, unsure of the clause): 0.92.
    #[test]
    fn a_far_limit_leaves_only_the_other() {
        let inputs = json!({"lower_limit": -1000, "upper_limit": -5.40, "estimate": -5.47,
            "standard_uncertainty": 0.05});
        near("conformity", &inputs, "probability_inside", 0.919_243_340_8, 1e-10);
    }

    // Student's table: P(t > 2.776445) = 0.025 with 4 degrees of freedom.
    #[test]
    fn few_degrees_of_freedom_widen_the_tails() {
        let inputs = json!({"lower_limit": -2.776_445, "upper_limit": 2.776_445, "estimate": 0,
            "standard_uncertainty": 1, "degrees_of_freedom": 4, "guard_factor": 0});
        near("conformity", &inputs, "probability_inside", 0.95, 1e-7);
        near("conformity", &inputs, "probability_below", 0.025, 1e-7);
        let many = with(&inputs, "degrees_of_freedom", json!(1e300));
        let infinite = with(&inputs, "degrees_of_freedom", json!("infinite"));
        holds("conformity", &many, &serde_json::to_value(plain(&infinite)).unwrap());
    }

    // Arithmetic of the guard bands; a value on their edge is accepted, and bands that just meet leave nothing.
    #[test]
    fn guard_bands_move_the_limits_in() {
        let inputs = json!({"lower_limit": 8.0, "upper_limit": 8.015, "estimate": 8.0126,
            "standard_uncertainty": 0.0012});
        holds(
            "conformity",
            &inputs,
            &json!({"accept_low": 8.0024, "accept_high": 8.0126, "zone_used": 0.68,
            "accept": true}),
        );
        let outside = with(&inputs, "estimate", json!(8.01261));
        holds("conformity", &outside, &json!({"accept": false}));
        let meet = with(&inputs, "guard_factor", json!(6.25));
        holds("conformity", &meet, &json!({"accept_low": null, "zone_used": null, "accept": false}));
    }

    #[test]
    fn far_away_and_tiny_values_stay_numbers() {
        let inputs = json!({"lower_limit": -1e25, "upper_limit": 1e25, "estimate": 1e25,
            "standard_uncertainty": 1e-25, "degrees_of_freedom": 1});
        holds("conformity", &inputs, &json!({"probability_inside": 0.5, "probability_above": 0.5}));
        let far = json!({"lower_limit": 0, "upper_limit": 1, "estimate": -38, "standard_uncertainty": 1});
        near("conformity", &far, "probability_inside", 0.0, 1e-300);
    }

    #[test]
    fn limits_the_wrong_way_round_are_refused() {
        let inputs = json!({"lower_limit": 8.0, "upper_limit": 8.0, "estimate": 8.0, "standard_uncertainty": 0.001});
        refuses("conformity", &inputs, "upper_limit");
        let inputs = with(&inputs, "upper_limit", json!(8.1));
        refuses("conformity", &with(&inputs, "standard_uncertainty", json!(0)), "standard_uncertainty");
        refuses("conformity", &with(&inputs, "degrees_of_freedom", json!(0.5)), "degrees_of_freedom");
        refuses("conformity", &with(&inputs, "guard_factor", json!(-1)), "guard_factor");
    }

    fn plain(inputs: &serde_json::Value) -> serde_json::Map<String, serde_json::Value> {
        let answer = crate::calc::check::answer("conformity", inputs);
        answer.into_iter().map(|(key, output)| (key, output.get("value").cloned().unwrap_or(output))).collect()
    }
}
