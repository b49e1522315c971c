//! What do repeated readings say: mean, spread, uncertainty of the mean, range and median?

use crate::calc::readings::statistics::{Statistics, median};
use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "readings-summary",
    version: 1,
    topic: "metrology",
    question: "What do repeated readings say: mean, spread, uncertainty of the mean, range and median?",
    formula: "mean; standard_deviation = sqrt(sum (x-mean)^2/(n-1)); standard_uncertainty = \
         standard_deviation/sqrt(n); range = max - min; median = middle value, or mean of the two middle ones",
    inputs: &[Input::quantities("readings", "mm", "repeated readings of one thing").least_items(1)],
    outputs: &[
        Output::count("count", "number of readings"),
        Output::quantity("mean", "mm", "arithmetic mean"),
        Output::quantity("standard_deviation", "mm", "sample standard deviation").null_when("only one reading"),
        Output::quantity("standard_uncertainty", "mm", "standard uncertainty of the mean (type A)")
            .null_when("only one reading"),
        Output::quantity("range", "mm", "largest minus smallest"),
        Output::quantity("median", "mm", "median"),
    ],
    refusals: &[Refusal::of("readings", "empty list")],
    usual_mistake: "dividing by n in place of n-1, or quoting the deviation of one reading for that of the mean",
    validity: "independent readings",
    source: "JCGM 100 clause 4.2",
    example: r#"{"readings": [-187.4462, -187.4466, -187.4459, -187.4463, -187.4465]}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let readings = given.numbers("readings")?;
    let statistics = Statistics::of(readings);
    let deviation = statistics.standard_deviation();
    Ok(Answer::new()
        .with("count", readings.len())
        .with("mean", statistics.mean)
        .with("standard_deviation", deviation)
        .with("standard_uncertainty", deviation.map(|deviation| deviation / statistics.count.sqrt()))
        .with("range", statistics.range)
        .with("median", median(readings)))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, near, refuses};

    // NIST StRD, NumAcc1 (certified mean 10000002, standard deviation 1): a naive variance fails here.
    #[test]
    fn a_long_common_part_costs_no_digits() {
        let inputs = json!({"readings": [10_000_001, 10_000_003, 10_000_002]});
        holds(
            "readings-summary",
            &inputs,
            &json!({"mean": 10_000_002.0, "standard_deviation": 1.0, "median": 10_000_002.0}),
        );
    }

    // NIST StRD, NumAcc3: 1000000.2, then 500 pairs of .1 and .3; certified mean 1000000.2, standard deviation 0.1.
    #[test]
    fn a_thousand_readings_with_small_differences() {
        let pairs = (0..500).flat_map(|_| [1_000_000.1, 1_000_000.3]);
        let readings: Vec<f64> = std::iter::once(1_000_000.2).chain(pairs).collect();
        near("readings-summary", &json!({"readings": readings}), "mean", 1_000_000.2, 1e-9);
        near("readings-summary", &json!({"readings": readings}), "standard_deviation", 0.1, 1e-9);
    }

    // The project's own worked case.
    #[test]
    fn five_touches_of_a_face() {
        let inputs = json!({"readings": [-187.4462, -187.4466, -187.4459, -187.4463, -187.4465]});
        holds("readings-summary", &inputs, &json!({"count": 5, "mean": -187.4463, "median": -187.4463}));
        refuses("readings-summary", &json!({"readings": []}), "readings");
    }
}
