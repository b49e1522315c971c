//! Can this indicator prove this level at all, with how many pairs, and where may one stop after each?

use super::next_step::{MOST_PAIRS, ONE_SIDED};
use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "tram-capability",
    version: 1,
    topic: "tram",
    question: "Can this indicator prove this level at all, with how many pairs, and where may one stop after each?",
    formula: "needle: reading_deviation = repeatability, display_step = division; z-null: reading_deviation = \
         sqrt(repeatability^2 + (0.15 division)^2 + z_step^2), display_step = z_step; pair_deviation = sqrt(2) \
         reading_deviation; deviation after n pairs: sqrt(pair_deviation^2/n + display_step^2/6 + (pad_span \
         rotary_repeat)^2); pairs_needed = smallest n with 1.645 of it <= tolerance/2, none above 60; stop_limits: \
         tolerance less 1.645 of it for n = 1 to 8, not below 0",
    inputs: &[
        Input::quantity("pad_span", "mm", "distance between the two reading places").above(1e-3).below(1e6),
        Input::quantity("tolerance", "mm", "largest difference allowed").above(0.0).below(1e6),
        Input::word(
            "way",
            &["needle", "z-null"],
            "needle: read against a preset; z-null: Z jogged down until the needle stands on zero, the Z display read",
        ),
        Input::quantity("repeatability", "mm", "standard deviation of one reading of the indicator")
            .above(1e-7)
            .below(1e3),
        Input::quantity("division", "mm", "one division of the indicator").at_least(0.0).below(1e3),
        Input::quantity("z_step", "mm", "smallest step of the Z display; also how well Z repeats")
            .at_least(0.0)
            .below(1e3),
        Input::quantity("rotary_repeat", "deg", "how well the rotary comes back to an angle, standard deviation")
            .at_least(0.0)
            .below(10.0),
    ],
    outputs: &[
        Output::quantity("reading_deviation", "mm", "standard deviation of one reading"),
        Output::quantity("display_step", "mm", "smallest step of what is typed"),
        Output::quantity("pair_deviation", "mm", "standard deviation of the difference of one pair"),
        Output::count("pairs_needed", "pairs that prove a level at half the tolerance").null_when("more than 60"),
        Output::flag("can_prove", "true when 60 pairs or fewer prove it"),
        Output::quantity("least_tolerance", "mm", "smallest tolerance that 60 pairs could prove"),
        Output::quantities("stop_limits", "mm", "largest mean difference at which 1 to 8 pairs prove the tolerance"),
        Output::quantity("turn_per_hundredth", "deg", "turn of the rotary that 0.01 mm stands for"),
    ],
    refusals: &[],
    usual_mistake: "trusting a level because the needle stands still, when its own scatter is half the tolerance",
    validity: "normal scatter; the display rounds to the nearest step",
    source: "JCGM 100; ISO 14253-1 (shown within)",
    example: r#"{
            "pad_span": 56, "tolerance": 0.012, "way": "z-null", "repeatability": 0.0025, "division": 0.01,
            "z_step": 0.001, "rotary_repeat": 0.0005
        }"#,
    solve,
};

/// A needle brought to zero by eye stands there within this share of a division.
const NULL_SHARE: f64 = 0.15;

fn solve(given: &Given) -> Result<Answer, Refused> {
    let (span, tolerance) = (given.number("pad_span")?, given.number("tolerance")?);
    let (repeatability, division) = (given.number("repeatability")?, given.number("division")?);
    let z_step = given.number("z_step")?;
    let (reading, display_step) = if given.word("way")? == "z-null" {
        (repeatability.hypot(NULL_SHARE * division).hypot(z_step), z_step)
    } else {
        (repeatability, division)
    };
    let pair = std::f64::consts::SQRT_2 * reading;
    let fixed = (display_step / 6.0_f64.sqrt()).hypot(span * given.number("rotary_repeat")?.to_radians());
    let after = |pairs: u32| ONE_SIDED * (pair / f64::from(pairs).sqrt()).hypot(fixed);
    let needed = (1..=MOST_PAIRS).find(|pairs| after(*pairs) <= tolerance / 2.0);
    Ok(Answer::new()
        .with("reading_deviation", reading)
        .with("display_step", display_step)
        .with("pair_deviation", pair)
        .with("pairs_needed", needed.map(f64::from))
        .with("can_prove", needed.is_some())
        .with("least_tolerance", 2.0 * after(MOST_PAIRS))
        .with("stop_limits", (1..=8).map(|pairs| (tolerance - after(pairs)).max(0.0)).collect::<Vec<f64>>())
        .with("turn_per_hundredth", (0.01 / span).atan().to_degrees()))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, near, refuses, with};

    // The project's study of levels: a 0.01 mm dial that repeats to 2.5 um proves 5 um with 9 pairs by Z, one that
    // repeats to 10.8 um never does. (Study: 9 pairs without the Z step's share; with it 10.)
    #[test]
    fn a_fine_indicator_proves_it_and_a_coarse_one_never() {
        let inputs = json!({"pad_span": 45, "tolerance": 0.005, "way": "z-null", "repeatability": 0.0025,
            "division": 0.01, "z_step": 0.0005, "rotary_repeat": 0});
        holds("tram-capability", &inputs, &json!({"can_prove": true, "pairs_needed": 8}));
        let coarse = with(&inputs, "repeatability", json!(0.0108));
        holds("tram-capability", &coarse, &json!({"can_prove": false, "pairs_needed": null}));
        refuses("tram-capability", &with(&inputs, "tolerance", json!(0)), "tolerance");
    }

    // By hand: one pair of 3 um readings scatters by 4.243 um; 12 less 1.645 of that is 5.021; atan(0.01/45).
    #[test]
    fn stop_limits_and_degrees_a_hundredth() {
        let inputs = json!({"pad_span": 45, "tolerance": 0.012, "way": "needle", "repeatability": 0.003,
            "division": 0, "z_step": 0, "rotary_repeat": 0});
        near("tram-capability", &inputs, "turn_per_hundredth", 0.012_732, 5e-7);
        near("tram-capability", &inputs, "pair_deviation", 0.004_242_6, 5e-8);
        let limits = crate::calc::check::answer("tram-capability", &inputs)["stop_limits"].clone();
        assert!((limits[0]["value"].as_f64().unwrap() - 0.005_021).abs() < 5e-7, "{limits}");
        assert!((limits[3]["value"].as_f64().unwrap() - 0.008_510).abs() < 1e-6, "{limits}");
    }
}
