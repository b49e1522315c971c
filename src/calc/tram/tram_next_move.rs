//! Is the level shown, is another pair to be read, or is the rotary to be turned, and to where?

use super::least_increment_rounding::whole_steps;
use super::next_step::{Action, Standing, decide, most_pairs};
use crate::calc::degrees;
use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "tram-next-move",
    version: 1,
    topic: "tram",
    question: "Is the level shown, is another pair to be read, or is the rotary to be turned, and to where?",
    formula: "correction_to_send = correction rounded to least_increment; after it the difference is expected at \
         -pad_span tan(correction - correction_to_send) with sqrt((pad_span level_uncertainty)^2 + (pad_span \
         rotary_repeat)^2); most_pairs = smallest n with 1.645 pair_deviation/sqrt(n) <= tolerance/2, 20 to 60; \
         accept: two pairs or more and probability of being within >= 0.98, or >= 0.95 when most_pairs are read; \
         read-again: a level that most_pairs could show (within tolerance - 1.645 pair_deviation/sqrt(most_pairs)) is \
         there with probability 0.2, or no less likely than after the move; else move",
    inputs: &[
        Input::quantity("machine_angle", "deg", "machine rotary position now").above(-1e6).below(1e6),
        Input::quantity("correction", "deg", "turn from here to where the pads are level, not rounded")
            .above(-360.0)
            .below(360.0),
        Input::quantity("level_uncertainty", "deg", "its standard uncertainty").at_least(0.0).below(90.0),
        Input::quantity("pad_span", "mm", "distance between the two reading places").above(1e-3).below(1e6),
        Input::quantity("difference_now", "mm", "rear minus front as it stands").above(-1e6).below(1e6),
        Input::quantity("uncertainty_now", "mm", "its standard uncertainty").above(0.0).below(1e6),
        Input::quantity("degrees_of_freedom", "1", "degrees of freedom of the noise").at_least(1.0).below(1e9),
        Input::count("pairs", "pairs read in place").at_least(1.0).at_most(1e6),
        Input::quantity("reading_deviation", "mm", "standard deviation of one reading").above(0.0).below(1e3),
        Input::quantity("rotary_repeat", "deg", "how well the rotary comes back to an angle, standard deviation")
            .at_least(0.0)
            .below(10.0),
        Input::quantity("least_increment", "deg", "smallest step of the rotary").above(1e-9).below(10.0),
        Input::quantity("tolerance", "mm", "largest difference allowed").above(0.0).below(1e6),
        Input::work_turns(),
    ],
    outputs: &[
        Output::word("action", &["accept", "read-again", "move", "not-possible"], "what to do"),
        Output::quantity("correction_to_send", "deg", "multiple of the least increment"),
        Output::quantity("index_to_set", "deg", "machine rotary position to set").round_the_circle(),
        Output::quantity("difference_after", "mm", "rear minus front expected there"),
        Output::quantity("uncertainty_after", "mm", "its standard uncertainty"),
        Output::quantity("probability_now", "1", "probability of being within as it stands"),
        Output::quantity("probability_after", "1", "probability of being within after the move"),
        Output::count("most_pairs", "pairs that are worth reading in place"),
    ],
    refusals: &[],
    usual_mistake: "turning once more where another reading would do, and reading once more where only a turn helps",
    validity: "small left-over turns",
    source: "the project's own study by simulation: fewest moves for a proven level",
    example: r#"{
            "machine_angle": 37.595, "correction": -0.183141, "level_uncertainty": 0.003, "pad_span": 56,
            "difference_now": -0.179, "uncertainty_now": 0.0012, "degrees_of_freedom": 12, "pairs": 2,
            "reading_deviation": 0.0012, "rotary_repeat": 0.002, "least_increment": 0.001, "tolerance": 0.06,
            "work_turns": "left-hand"
        }"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let (angle, correction) = (given.number("machine_angle")?, given.number("correction")?);
    let (span, increment) = (given.number("pad_span")?, given.number("least_increment")?);
    // The left-over is what the rotary cannot be sent to; the correction itself is rounded as ever.
    let to_send = whole_steps(correction / increment) * increment;
    let repeat = span * given.number("rotary_repeat")?.to_radians();
    let level = span * given.number("level_uncertainty")?.to_radians();
    let (tolerance, reading) = (given.number("tolerance")?, given.number("reading_deviation")?);
    let pair_deviation = std::f64::consts::SQRT_2 * reading;
    let standing = Standing {
        difference: given.number("difference_now")?,
        deviation: given.number("uncertainty_now")?,
        freedom: given.number("degrees_of_freedom")?,
        pairs: given.number("pairs")?,
        after: given.work_turns()? * span * degrees::tangent(to_send - correction),
        after_deviation: level.hypot(repeat),
        can_move: to_send.abs() > increment / 2.0,
        tolerance,
        pair_deviation,
        most_pairs: most_pairs(tolerance, pair_deviation),
    };
    let (action, within, after) = decide(standing);
    let word = match action {
        Action::Accept => "accept",
        Action::ReadAgain => "read-again",
        Action::Move => "move",
        Action::NotPossible => "not-possible",
    };
    Ok(Answer::new()
        .with("action", word)
        .with("correction_to_send", to_send)
        .with("index_to_set", degrees::into_full_turn(angle + to_send))
        .with("difference_after", standing.after)
        .with("uncertainty_after", standing.after_deviation)
        .with("probability_now", within)
        .with("probability_after", after)
        .with("most_pairs", standing.most_pairs))
}

#[cfg(test)]
mod tests {
    use serde_json::{Value, json};

    use crate::calc::check::{holds, with};

    fn standing() -> Value {
        json!({"machine_angle": 37.595, "correction": -0.183_141, "level_uncertainty": 0.003, "pad_span": 56,
            "difference_now": -0.179, "uncertainty_now": 0.0012, "degrees_of_freedom": 12, "pairs": 2,
            "reading_deviation": 0.0012, "rotary_repeat": 0.002, "least_increment": 0.001, "tolerance": 0.06,
            "work_turns": "left-hand"})
    }

    fn level(difference: f64, uncertainty: f64, pairs: u32) -> Value {
        let turned = with(&standing(), "difference_now", json!(difference));
        let turned = with(&turned, "correction", json!((difference / 56.0_f64).atan().to_degrees()));
        with(&with(&turned, "uncertainty_now", json!(uncertainty)), "pairs", json!(pairs))
    }

    // Worked job of the flow-sensor body: 37.595 - 0.183 = 37.412, and by hand what is left of the turn.
    #[test]
    fn a_tilted_part_is_turned() {
        let left = 56.0 * 0.000_141_f64.to_radians().tan();
        holds(
            "tram-next-move",
            &standing(),
            &json!({"action": "move", "correction_to_send": -0.183,
            "index_to_set": 37.412, "difference_after": -left, "probability_now": 0.0, "most_pairs": 20}),
        );
    }

    // Decisions: within is shown with 95 %; one pair never shows it; what reading can show is not turned.
    #[test]
    fn level_is_accepted_and_what_is_near_is_read_again() {
        for (difference, uncertainty, pairs, action) in [
            (0.01, 0.001, 2, "accept"),
            (0.01, 0.001, 1, "read-again"),
            (0.0585, 0.001, 2, "read-again"),
            (0.0585, 0.0005, 20, "accept"),
            (0.0600, 0.001, 20, "move"),
        ] {
            let inputs = level(difference, uncertainty, pairs);
            holds("tram-next-move", &inputs, &json!({"action": action}));
        }
    }

    // A rotary whose least step is wider than the tolerance: nothing helps.
    #[test]
    fn what_the_rotary_cannot_turn_is_said_to_be_impossible() {
        let coarse = with(&level(0.07, 0.001, 20), "least_increment", json!(0.5));
        holds("tram-next-move", &coarse, &json!({"action": "not-possible"}));
    }
}
