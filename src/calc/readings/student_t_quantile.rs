//! Which value does Student's t stay below with a given probability?

use super::student_t;
use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "student-t-quantile",
    version: 1,
    topic: "metrology",
    question: "Which value does Student's t stay below with a given probability?",
    formula: "quantile t with P(T <= t) = probability for degrees_of_freedom; the normal quantile when infinite",
    inputs: &[
        Input::quantity("probability", "1", "one-sided cumulative probability").above(0.0).below(1.0),
        Input::degrees_of_freedom(
            "degrees_of_freedom",
            "a number of at least 1 (need not be whole), or the word 'infinite'",
        )
        .at_least(1.0),
    ],
    outputs: &[Output::quantity("quantile", "1", "value of t")],
    refusals: &[],
    usual_mistake: "a two-sided 95 % interval needs the quantile at 0.975, not at 0.95",
    validity: "none",
    source: "Student's distribution; JCGM 100 annex G",
    example: r#"{"probability": 0.975, "degrees_of_freedom": 4}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let quantile = student_t::quantile(given.number("probability")?, given.number("degrees_of_freedom")?);
    Ok(Answer::new().with("quantile", quantile))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, near, refuses, with};

    // Table of Student's t in the NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.2 (upper tail 0.10, 0.05,
    // 0.025, 0.01, 0.005), to three places.
    #[test]
    fn the_printed_table() {
        for (freedom, row) in [
            (json!(1), [3.078, 6.314, 12.706, 31.821, 63.657]),
            (json!(2), [1.886, 2.920, 4.303, 6.965, 9.925]),
            (json!(3), [1.638, 2.353, 3.182, 4.541, 5.841]),
            (json!(4), [1.533, 2.132, 2.776, 3.747, 4.604]),
            (json!(5), [1.476, 2.015, 2.571, 3.365, 4.032]),
            (json!(10), [1.372, 1.812, 2.228, 2.764, 3.169]),
            (json!(16), [1.337, 1.746, 2.120, 2.583, 2.921]),
            (json!(30), [1.310, 1.697, 2.042, 2.457, 2.750]),
            (json!(60), [1.296, 1.671, 2.000, 2.390, 2.660]),
            (json!(100), [1.290, 1.660, 1.984, 2.364, 2.626]),
            (json!("infinite"), [1.282, 1.645, 1.960, 2.326, 2.576]),
        ] {
            for (probability, printed) in [0.9, 0.95, 0.975, 0.99, 0.995].into_iter().zip(row) {
                let inputs = json!({"probability": probability, "degrees_of_freedom": freedom});
                near("student-t-quantile", &inputs, "quantile", printed, 0.000_51);
                let lower = with(&inputs, "probability", json!(1.0 - probability));
                near("student-t-quantile", &lower, "quantile", -printed, 0.000_51);
            }
        }
    }

    // Closed forms: tan(pi (p - 1/2)) for one degree of freedom, 2 (p - 1/2) sqrt(1/(2 p (1-p))) for two.
    #[test]
    fn one_and_two_degrees_of_freedom_have_closed_forms() {
        for probability in [1e-12_f64, 0.001, 0.2, 0.4999, 0.5, 0.501, 0.75, 0.9, 0.999_999] {
            let one = ((probability - 0.5) * std::f64::consts::PI).tan();
            let one = if probability < 1e-6 { -1.0 / (std::f64::consts::PI * probability) } else { one };
            let two = (2.0 * probability - 1.0) / (2.0 * probability * (1.0 - probability)).sqrt();
            for (freedom, quantile) in [(1, one), (2, two)] {
                let inputs = json!({"probability": probability, "degrees_of_freedom": freedom});
                holds("student-t-quantile", &inputs, &json!({"quantile": quantile}));
            }
        }
    }

    #[test]
    fn what_is_no_probability_is_refused() {
        let inputs = json!({"probability": 0.9, "degrees_of_freedom": 3});
        for probability in [0.0, 1.0, -0.1, 1.1] {
            refuses("student-t-quantile", &with(&inputs, "probability", json!(probability)), "probability");
        }
        for freedom in [json!(0.99), json!("endless"), json!(-3)] {
            refuses("student-t-quantile", &with(&inputs, "degrees_of_freedom", freedom), "degrees_of_freedom");
        }
    }
}
