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
