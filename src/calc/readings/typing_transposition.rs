//! Could two digits have been swapped between two entries?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "typing-transposition",
    version: 1,
    topic: "metrology",
    question: "Could two digits have been swapped between two entries?",
    formula: "counts = (first_value - second_value)/least_count to the nearest whole number; swap_likely = counts \
         is not zero and divides by 9",
    inputs: &[
        Input::quantity("first_value", "mm", "first entry"),
        Input::quantity("second_value", "mm", "second entry"),
        Input::quantity("least_count", "mm", "one count of the instrument").above(0.0),
    ],
    outputs: &[
        Output::count("counts", "difference in counts, with sign"),
        Output::flag("swap_likely", "true when two neighbouring digits may be swapped"),
    ],
    refusals: &[],
    usual_mistake: "the test says 'may be', not 'is'",
    validity: "both entries in whole counts",
    source: "casting out nines",
    example: r#"{"first_value": 37.421, "second_value": 37.412, "least_count": 0.001}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    const NINES: f64 = 9.0;
    let difference = given.number("first_value")? - given.number("second_value")?;
    let counts = (difference / given.number("least_count")?).round();
    let divides = (counts % NINES).abs() <= 0.0;
    Ok(Answer::new().with("counts", counts).with("swap_likely", divides && counts.abs() > 0.0))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, refuses, with};

    // Worked case typing_transposition of the project's own set of cases; casting out nines.
    #[test]
    fn swapped_neighbours_differ_by_nines() {
        let entries =
            |first: f64, second: f64| json!({"first_value": first, "second_value": second, "least_count": 0.001});
        holds("typing-transposition", &entries(37.421, 37.412), &json!({"counts": 9, "swap_likely": true}));
        holds("typing-transposition", &entries(12.354, 13.254), &json!({"counts": -900, "swap_likely": true}));
        holds("typing-transposition", &entries(37.422, 37.412), &json!({"counts": 10, "swap_likely": false}));
        holds("typing-transposition", &entries(37.412, 37.412), &json!({"counts": 0, "swap_likely": false}));
        let none = with(&entries(1.0, 2.0), "least_count", json!(0));
        refuses("typing-transposition", &none, "least_count");
    }
}
