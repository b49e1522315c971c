//! How many pieces must be started to have enough good ones?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "pieces-to-start",
    version: 1,
    topic: "batch",
    question: "How many pieces must be started to have enough good ones?",
    formula: "smallest n >= good_needed with P(binomial(n, piece_yield) >= good_needed) >= confidence; probability \
         at n and at n-1",
    inputs: &[
        Input::count("good_needed", "good pieces wanted").at_least(1.0).at_most(1000.0),
        Input::quantity("piece_yield", "1", "chance that one piece is good").at_least(0.5).at_most(1.0),
        Input::quantity("confidence", "1", "confidence wanted").above(0.0).below(1.0).or(0.95),
    ],
    outputs: &[
        Output::count("pieces_to_start", "pieces to start"),
        Output::quantity("probability", "1", "chance of enough good ones with that many"),
        Output::quantity(
            "probability_with_one_less",
            "1",
            "chance with one piece less (0 when that is fewer than good_needed)",
        ),
    ],
    refusals: &[],
    usual_mistake: "dividing by the yield gives even odds only",
    validity: "pieces fail independently",
    source: "binomial distribution",
    example: r#"{"good_needed": 12, "piece_yield": 0.97, "confidence": 0.95}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let good_needed = given.number("good_needed")?;
    let confidence = given.number("confidence")?;
    let chances = Chances::new(good_needed, given.number("piece_yield")?);
    let found = chances.ready_at.iter().position(|chance| chance.reaches(confidence));
    let spare = found.ok_or_else(|| Refused::undeclared("pieces_to_start"))?;
    let probability_of = |spare: usize| chances.ready_at.get(spare).map_or(0.0, Chance::probability);
    #[expect(clippy::cast_precision_loss, reason = "no list has 2^53 entries")]
    let pieces_to_start = good_needed + spare as f64;
    Ok(Answer::new()
        .with("pieces_to_start", pieces_to_start)
        .with("probability", probability_of(spare))
        .with("probability_with_one_less", spare.checked_sub(1).map_or(0.0, probability_of)))
}

/// The chance of enough good pieces, and what is missing to certainty: each is a sum of small positive parts, so that
/// the smaller of the two is always exact.
struct Chance {
    enough: f64,
    too_few: f64,
}

impl Chance {
    fn probability(&self) -> f64 {
        if self.enough < 0.5 { self.enough } else { 1.0 - self.too_few }
    }

    /// Compares on the side that is exact; a chance that misses the confidence by the noise of the sum has reached it.
    fn reaches(&self, confidence: f64) -> bool {
        const NOISE: f64 = 1e-12;
        if confidence < 0.5 {
            self.enough >= confidence * (1.0 - NOISE)
        } else {
            self.too_few <= (1.0 - confidence) * (1.0 + NOISE)
        }
    }
}

/// The chances with no spare piece, one, two, and so on.
struct Chances {
    ready_at: Vec<Chance>,
}

impl Chances {
    fn new(good_needed: f64, piece_yield: f64) -> Self {
        let last_good_one = waiting_chances(good_needed, piece_yield);
        let mut too_few: Vec<f64> = last_good_one
            .iter()
            .rev()
            .scan(0.0, |after, chance| {
                let without = *after;
                *after += chance;
                Some(without)
            })
            .collect();
        too_few.reverse();
        let enough = last_good_one.iter().scan(0.0, |sum, chance| {
            *sum += chance;
            Some(*sum)
        });
        Self { ready_at: enough.zip(too_few).map(|(enough, too_few)| Chance { enough, too_few }).collect() }
    }
}

/// Returns the chances that the last good piece that is needed comes after no bad piece, after one, and so on, until
/// they do not matter to a double any more.
fn waiting_chances(good_needed: f64, piece_yield: f64) -> Vec<f64> {
    const NEGLIGIBLE: f64 = 1e-40;
    let mut chances = Vec::new();
    // At most 1000 pieces of a yield of at least a half: this is never below 1e-302.
    let mut chance = piece_yield.powf(good_needed);
    let mut bad = 0.0;
    loop {
        chances.push(chance);
        bad += 1.0;
        let growth = (1.0 - piece_yield) * (good_needed + bad - 1.0) / bad;
        chance *= growth;
        if growth < 1.0 && chance < NEGLIGIBLE {
            return chances;
        }
    }
}

#[cfg(test)]
mod tests {
    use serde_json::{Value, json};

    use crate::calc::check::{answer, holds, refuses, with};

    fn start(good_needed: u32, piece_yield: f64, confidence: f64) -> Value {
        json!({"good_needed": good_needed, "piece_yield": piece_yield, "confidence": confidence})
    }

    // Worked case pieces_to_start of the project's own set of cases.
    #[test]
    fn a_dozen_good_ones_need_two_spare_pieces() {
        let expected = json!({"pieces_to_start": 14, "probability": 0.992_333_344_695_675_4,
            "probability_with_one_less": 0.943_625_610_953_795_5});
        holds("pieces-to-start", &json!({"good_needed": 12, "piece_yield": 0.97}), &expected);
    }

    // Binomial sums in exact fractions.
    #[test]
    fn large_numbers_and_high_confidence_are_exact() {
        for (inputs, pieces, probability, one_less) in [
            (start(1000, 0.5, 0.95), 2074, 0.950_218_314_669_607_2, 0.947_961_511_533_207_7),
            (start(1000, 0.999, 0.95), 1003, 0.980_888_950_712_483_4, 0.919_422_409_639_795_6),
            (start(100, 0.999_999, 0.999_999_999_9), 102, 0.999_999_999_999_828_4, 0.999_999_994_950_333_3),
            (start(10, 0.9, 0.001), 10, 0.348_678_440_1, 0.0),
            (start(20, 0.75, 1.0 - 1e-10), 57, 0.999_999_999_957_559_6, 0.999_999_999_886_267_3),
            (start(1000, 0.5, 1.0 - f64::EPSILON / 2.0), 2401, 1.0, 1.0),
            (start(1, 0.5, 1.0 - f64::EPSILON / 2.0), 53, 1.0, 1.0),
        ] {
            let expected = json!({"pieces_to_start": pieces, "probability": probability,
                "probability_with_one_less": one_less});
            holds("pieces-to-start", &inputs, &expected);
        }
    }

    // By hand: a chance that is exactly the confidence is enough.
    #[test]
    fn reaching_the_confidence_exactly_is_enough() {
        for (inputs, pieces) in [
            (start(1, 0.5, 0.75), 2),
            (start(1, 0.5, 0.5), 1),
            (start(1, 0.95, 0.95), 1),
            (start(1, 0.9, 0.99), 2),
            (start(3, 0.8, 0.512), 3),
            (start(2, 0.6, 0.36), 2),
        ] {
            holds("pieces-to-start", &inputs, &json!({"pieces_to_start": pieces}));
        }
    }

    // By hand: pieces that never fail need no spare one; one that may needs one at any confidence above the yield.
    #[test]
    fn yields_near_one_are_no_trouble() {
        let expected = json!({"pieces_to_start": 1000, "probability": 1.0, "probability_with_one_less": 0.0});
        holds("pieces-to-start", &start(1000, 1.0, 0.999_999_999_999), &expected);
        let almost = answer("pieces-to-start", &start(1, 1.0 - f64::EPSILON, 1.0 - f64::EPSILON / 2.0));
        assert_eq!(almost["pieces_to_start"], json!(2));
        holds("pieces-to-start", &start(1, 0.5, 5e-324), &json!({"pieces_to_start": 1, "probability": 0.5}));
    }

    #[test]
    fn values_outside_their_limits_are_refused() {
        let inputs = start(12, 0.97, 0.95);
        for (key, value) in [
            ("good_needed", json!(0)),
            ("good_needed", json!(1001)),
            ("good_needed", json!(2.5)),
            ("piece_yield", json!(0.49)),
            ("piece_yield", json!(1.01)),
            ("piece_yield", json!("97%")),
            ("confidence", json!(0)),
            ("confidence", json!(1)),
        ] {
            refuses("pieces-to-start", &with(&inputs, key, value), key);
        }
    }
}
