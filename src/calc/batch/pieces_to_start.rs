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
    let (needed, good) = (given.small_count("good_needed")?, given.number("piece_yield")?);
    let confidence = given.number("confidence")?;
    // The last good piece that is needed comes at piece n with this probability; their sum is P(at least `needed` good).
    let mut at_this_piece = good.powf(f64::from(needed));
    let (mut before, mut enough, mut pieces) = (0.0, at_this_piece, needed);
    while enough < confidence && at_this_piece > 0.0 {
        at_this_piece *= f64::from(pieces) / f64::from(pieces - needed + 1) * (1.0 - good);
        before = enough;
        enough = (enough + at_this_piece).min(1.0);
        pieces += 1;
        // Nothing grows any more: the confidence is nearer to one than a double can tell.
        if enough <= before && pieces > 4 * needed + 40 {
            break;
        }
    }
    Ok(Answer::new()
        .with("pieces_to_start", pieces)
        .with("probability", enough)
        .with("probability_with_one_less", before))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, near, with};

    // The project's own worked case (binomial distribution).
    #[test]
    fn twelve_good_ones_at_97_percent_want_fourteen() {
        let inputs = json!({"good_needed": 12, "piece_yield": 0.97, "confidence": 0.95});
        let expected = json!({"pieces_to_start": 14, "probability": 0.992_333_344_695_675_4, "probability_with_one_less": 0.943_625_610_953_795_5});
        holds("pieces-to-start", &inputs, &expected);
        holds(
            "pieces-to-start",
            &with(&inputs, "piece_yield", json!(1)),
            &json!({"pieces_to_start": 12, "probability": 1.0}),
        );
    }

    // Symmetry of the fair coin: with 2n - 1 throws n heads come with probability one half.
    #[test]
    fn a_fair_coin_needs_twice_as_many_less_one() {
        let inputs = json!({"good_needed": 1000, "piece_yield": 0.5, "confidence": 0.499_999_999});
        near("pieces-to-start", &inputs, "probability", 0.5, 1e-9);
        holds("pieces-to-start", &inputs, &json!({"pieces_to_start": 1999}));
    }
}
