//! Which value does Student's t stay below with a given probability?

use crate::calc::readings::student_t;
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
    let (probability, freedom) = (given.number("probability")?, given.number("degrees_of_freedom")?);
    Ok(Answer::new().with("quantile", student_t::quantile(probability, freedom)))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::near;

    // JCGM 100:2008 table G.2 (two-sided 95 % and 99 %) and H.1.6 (t at 99 % for 16).
    #[test]
    fn the_printed_table_comes_out() {
        for (probability, freedom, printed) in [
            (0.975, 1.0, 12.71),
            (0.975, 2.0, 4.30),
            (0.975, 4.0, 2.78),
            (0.975, 10.0, 2.23),
            (0.995, 16.0, 2.92),
            (0.995, 50.0, 2.68),
        ] {
            near(
                "student-t-quantile",
                &json!({"probability": probability, "degrees_of_freedom": freedom}),
                "quantile",
                printed,
                0.005,
            );
        }
    }

    // scipy 1.17.1, stats.t.ppf.
    #[test]
    fn fractional_and_large_degrees_of_freedom() {
        for (probability, freedom, computed) in [
            (0.975, 16.75, 2.112_216_902_315_131_6),
            (0.975, 9_999.0, 1.960_201_263_621_357),
            (0.975, 1e6, 1.959_966_356_814_107),
            (0.025, 3.0, -3.182_446_305_283_708_6),
            (0.95, 1.0, 6.313_751_514_675_037),
            (0.999, 2.5, 13.822_193_110_865_96),
            (0.001, 2.5, -13.822_193_110_865_96),
            (1e-12, 4.0, -1_316.072_746_559_256_5),
        ] {
            near(
                "student-t-quantile",
                &json!({"probability": probability, "degrees_of_freedom": freedom}),
                "quantile",
                computed,
                2e-9,
            );
        }
        near(
            "student-t-quantile",
            &json!({"probability": 0.975, "degrees_of_freedom": "infinite"}),
            "quantile",
            1.959_963_984_540_054,
            1e-12,
        );
    }

    // The median of a symmetric distribution.
    #[test]
    fn the_middle_is_zero() {
        near("student-t-quantile", &json!({"probability": 0.5, "degrees_of_freedom": 3}), "quantile", 0.0, 1e-12);
    }
}
