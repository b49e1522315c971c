//! What do repeated readings say: mean, spread, uncertainty of the mean, range and median?

use super::statistics::{self, Statistics};
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
        .with("median", statistics::median(readings)))
}

#[cfg(test)]
mod tests {
    use serde_json::{Value, json};

    use crate::calc::check::{holds, near, refuses};

    /// Holds mean and deviation against certified figures of a NIST reference set, to a share of their size.
    fn certified(readings: &[f64], mean: f64, deviation: f64, tolerance: f64) {
        let inputs = json!({"readings": readings});
        near("readings-summary", &inputs, "mean", mean, 1e-15 * mean);
        near("readings-summary", &inputs, "standard_deviation", deviation, tolerance * deviation);
        let turned: Vec<Value> = readings.iter().rev().map(|reading| json!(-reading)).collect();
        near("readings-summary", &json!({"readings": turned}), "standard_deviation", deviation, tolerance * deviation);
    }

    // Worked case type_a_five of the project's own set of cases.
    #[test]
    fn five_readings() {
        let inputs = json!({"readings": [-187.4462, -187.4466, -187.4459, -187.4463, -187.4465]});
        let expected = json!({"count": 5, "mean": -187.4463, "median": -187.4463,
            "standard_deviation": 0.000_273_861_278_748_701_6, "standard_uncertainty": 0.000_122_474_487_137_424_3});
        holds("readings-summary", &inputs, &expected);
        let one = json!({"count": 1, "mean": 4.5, "standard_deviation": null, "standard_uncertainty": null, "range": 0.0,
            "median": 4.5});
        holds("readings-summary", &json!({"readings": [4.5]}), &one);
        refuses("readings-summary", &json!({"readings": []}), "readings");
    }

    // JCGM 100 (GUM) H.2, tables H.2 and H.4: five simultaneous readings of voltage, current and phase. Means and their
    // deviations as printed (from memory), and the resistance by the second approach, 127.732 ohm with 0.071.
    #[test]
    fn simultaneous_readings_of_the_gum() {
        let sets = [
            [5.007, 19.663, 1.0456],
            [4.994, 19.639, 1.0438],
            [5.005, 19.640, 1.0468],
            [4.990, 19.685, 1.0428],
            [4.999, 19.678, 1.0433],
        ];
        for (column, mean, mean_within, uncertainty, within) in
            [(0, 4.999, 1e-12, 0.0032, 5e-5), (1, 19.661, 1e-12, 0.0095, 5e-5), (2, 1.04446, 1e-12, 0.00075, 5e-6)]
        {
            let inputs = json!({"readings": sets.map(|set| set[column])});
            near("readings-summary", &inputs, "mean", mean, mean_within);
            near("readings-summary", &inputs, "standard_uncertainty", uncertainty, within);
        }
        for (part, mean, uncertainty) in [(f64::cos as fn(f64) -> f64, 127.732, 0.071), (f64::sin, 219.847, 0.295)] {
            let readings = sets.map(|[voltage, current, phase]| voltage / (current / 1000.0) * part(phase));
            let inputs = json!({"readings": readings});
            near("readings-summary", &inputs, "mean", mean, 0.0006);
            near("readings-summary", &inputs, "standard_uncertainty", uncertainty, 0.0006);
        }
    }

    // NIST Statistical Reference Datasets, univariate: NumAcc1, NumAcc2, NumAcc3. What is lost on the last comes from the
    // readings themselves, which no double holds exactly.
    #[test]
    fn readings_with_a_long_common_part() {
        certified(&[10_000_001.0, 10_000_003.0, 10_000_002.0], 10_000_002.0, 1.0, 1e-14);
        let series = |start: f64, low: f64, high: f64| {
            let mut readings = vec![start];
            readings.extend([low, high].repeat(500));
            readings
        };
        certified(&series(1.2, 1.1, 1.3), 1.2, 0.1, 1e-13);
        certified(&series(1_000_000.2, 1_000_000.1, 1_000_000.3), 1_000_000.2, 0.1, 1e-9);
    }

    // NIST Statistical Reference Datasets, univariate: Mavro, Michelso.
    #[test]
    fn certified_measurements() {
        certified(&MAVRO, 2.001_856, 0.000_429_123_454_003_053, 1e-12);
        certified(&MICHELSO, 299.852_4, 0.079_010_547_819_051_8, 1e-12);
    }

    const MAVRO: [f64; 50] = [
        2.001_80, 2.001_70, 2.001_80, 2.001_90, 2.001_80, 2.001_70, 2.001_50, 2.001_40, 2.001_50, 2.001_50, 2.001_70,
        2.001_80, 2.001_80, 2.001_90, 2.001_90, 2.002_10, 2.002_00, 2.001_60, 2.001_40, 2.001_30, 2.001_30, 2.001_50,
        2.001_50, 2.001_60, 2.001_50, 2.001_40, 2.001_30, 2.001_40, 2.001_50, 2.001_40, 2.001_50, 2.001_60, 2.001_50,
        2.001_60, 2.001_90, 2.002_00, 2.002_00, 2.002_10, 2.002_20, 2.002_30, 2.002_40, 2.002_50, 2.002_70, 2.002_60,
        2.002_60, 2.002_60, 2.002_70, 2.002_60, 2.002_50, 2.002_40,
    ];

    const MICHELSO: [f64; 100] = [
        299.85, 299.74, 299.90, 300.07, 299.93, 299.85, 299.95, 299.98, 299.98, 299.88, 300.00, 299.98, 299.93, 299.65,
        299.76, 299.81, 300.00, 300.00, 299.96, 299.96, 299.96, 299.94, 299.96, 299.94, 299.88, 299.80, 299.85, 299.88,
        299.90, 299.84, 299.83, 299.79, 299.81, 299.88, 299.88, 299.83, 299.80, 299.79, 299.76, 299.80, 299.88, 299.88,
        299.88, 299.86, 299.72, 299.72, 299.62, 299.86, 299.97, 299.95, 299.88, 299.91, 299.85, 299.87, 299.84, 299.84,
        299.85, 299.84, 299.84, 299.84, 299.89, 299.81, 299.81, 299.82, 299.80, 299.77, 299.76, 299.74, 299.75, 299.76,
        299.91, 299.92, 299.89, 299.86, 299.88, 299.72, 299.84, 299.85, 299.85, 299.78, 299.89, 299.84, 299.78, 299.81,
        299.76, 299.81, 299.79, 299.81, 299.82, 299.85, 299.87, 299.87, 299.81, 299.74, 299.81, 299.94, 299.95, 299.80,
        299.81, 299.87,
    ];
}
