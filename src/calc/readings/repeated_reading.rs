//! What is the mean of the repeats of one reading worth, and do they agree?

use super::statistics::{Statistics, range_agrees, range_limit};
use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "repeated-reading",
    version: 1,
    topic: "metrology",
    question: "What is the mean of the repeats of one reading worth, and do they agree?",
    formula: "s = standard_deviation; v = s^2/count, but not less than repeatability^2/count when count < 4 (it alone \
         when count = 1); standard_uncertainty = sqrt(v + display_step^2/12); degrees_of_freedom = \
         standard_uncertainty^4/(v^2/(count-1)), infinite when the repeatability was used; range = largest - smallest; \
         range_limit = W(count)*repeatability + 2 display_step as in repeat-range-limit; agrees = range <= range_limit",
    inputs: &[
        Input::quantities("readings", "mm", "repeats of one reading").least_items(1),
        Input::quantity("display_step", "mm", "smallest step that the instrument shows; 0 = not known")
            .at_least(0.0)
            .or(0.0),
        Input::quantity(
            "repeatability",
            "mm",
            "standard deviation of one reading of the instrument, from the card; 0 = not known",
        )
        .at_least(0.0)
        .or(0.0),
    ],
    outputs: &[
        Output::count("count", "how many readings"),
        Output::quantity("mean", "mm", "mean"),
        Output::quantity("standard_deviation", "mm", "scatter of one reading").null_when("only one reading"),
        Output::quantity("standard_uncertainty", "mm", "standard uncertainty of the mean"),
        Output::degrees_of_freedom(
            "degrees_of_freedom",
            "effective degrees of freedom (Welch-Satterthwaite), or the word 'infinite'",
        ),
        Output::quantity("range", "mm", "largest minus smallest"),
        Output::quantity("range_limit", "mm", "largest range that good repeats have").null_when("only one reading"),
        Output::flag("agrees", "true when the range is inside its limit, or when there is nothing to judge it by"),
    ],
    refusals: &[],
    usual_mistake: "believing the scatter of two or three readings that happen to agree",
    validity: "independent repeats; without repeatability and display step a single reading shows no uncertainty of its \
         own, and 0 is printed",
    source: "JCGM 100 clauses 4.2, 4.3 and G.4; distribution of the range of normal values",
    example: r#"{"readings": [-235.373, -235.375, -235.374], "display_step": 0.001, "repeatability": 0.0008}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let readings = given.numbers("readings")?;
    let (display_step, repeatability) = (given.number("display_step")?, given.number("repeatability")?);
    let statistics = Statistics::of(readings);
    let scatter = Scatter::of(&statistics, repeatability);
    let variance = scatter.variance + display_step.powi(2) / 12.0;
    let limit = (readings.len() > 1).then(|| range_limit(readings.len(), repeatability, display_step));
    let nothing_known = display_step <= 0.0 && repeatability <= 0.0;
    Ok(Answer::new()
        .with("count", readings.len())
        .with("mean", statistics.mean)
        .with("standard_deviation", statistics.standard_deviation())
        .with("standard_uncertainty", variance.sqrt())
        .with("degrees_of_freedom", scatter.effective_degrees_of_freedom(variance))
        .with("range", statistics.range)
        .with("range_limit", limit)
        .with("agrees", nothing_known || limit.is_none_or(|limit| range_agrees(readings, statistics.range, limit))))
}

/// The variance of a mean that comes from scatter, and how well it is known.
struct Scatter {
    variance: f64,
    degrees_of_freedom: f64,
}

impl Scatter {
    /// Few readings can agree by chance: below four of them the instrument's own repeatability is the least.
    fn of(statistics: &Statistics, repeatability: f64) -> Self {
        const ENOUGH: f64 = 4.0;
        let stated = repeatability.powi(2) / statistics.count;
        let stated = Self { variance: stated, degrees_of_freedom: f64::INFINITY };
        let Some(variance) = statistics.variance() else {
            return stated;
        };
        let seen = Self { variance: variance / statistics.count, degrees_of_freedom: statistics.count - 1.0 };
        if statistics.count < ENOUGH && stated.variance > seen.variance { stated } else { seen }
    }

    /// Welch-Satterthwaite with a display step of infinitely many degrees of freedom.
    fn effective_degrees_of_freedom(&self, variance: f64) -> f64 {
        if self.variance <= 0.0 {
            return f64::INFINITY;
        }
        self.degrees_of_freedom * (variance / self.variance).powi(2)
    }
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, near, refuses, with};

    // JCGM 100 (GUM) 4.4.3, table 1: twenty temperatures, mean 100.14, s 1.49, s of the mean 0.33.
    #[test]
    fn twenty_readings_of_the_gum() {
        let readings = json!([
            96.90, 98.18, 98.25, 98.61, 99.03, 99.49, 99.56, 99.74, 99.89, 100.07, 100.33, 100.42, 100.68, 100.95,
            101.11, 101.20, 101.57, 101.84, 102.36, 102.72
        ]);
        let inputs = json!({"readings": readings});
        near("repeated-reading", &inputs, "mean", 100.14, 0.006);
        near("repeated-reading", &inputs, "standard_deviation", 1.49, 0.005);
        near("repeated-reading", &inputs, "standard_uncertainty", 0.33, 0.005);
        holds("repeated-reading", &inputs, &json!({"count": 20, "degrees_of_freedom": 19.0, "agrees": true}));
    }

    // By hand: s = 0.001, s^2/3 = 3.333e-7 above 0.0008^2/3, step^2/12 = 8.333e-8; 2 (5/4)^2 degrees of freedom.
    #[test]
    fn scatter_and_display_step_add_in_squares() {
        let inputs = json!({"readings": [5.001, 5.002, 5.003], "display_step": 0.001, "repeatability": 0.0008});
        let expected = json!({"mean": 5.002, "standard_deviation": 0.001, "degrees_of_freedom": 3.125,
            "standard_uncertainty": (1e-6_f64 / 3.0 + 1e-6 / 12.0).sqrt(), "range": 0.002, "agrees": true});
        holds("repeated-reading", &inputs, &expected);
        holds("repeated-reading", &with(&inputs, "readings", json!([5.001, 5.002, 5.009])), &json!({"agrees": false}));
        refuses("repeated-reading", &with(&inputs, "readings", json!([])), "readings");
        refuses("repeated-reading", &with(&inputs, "display_step", json!(-0.001)), "display_step");
    }

    // JCGM 100 4.3: what the maker states stands in for scatter that too few readings cannot show.
    #[test]
    fn few_readings_are_worth_no_more_than_the_instrument() {
        let inputs = json!({"readings": [5, 5, 5], "display_step": 0.001, "repeatability": 0.0009});
        let uncertainty = (0.0009_f64.powi(2) / 3.0 + 1e-6 / 12.0).sqrt();
        let expected = json!({"standard_uncertainty": uncertainty, "degrees_of_freedom": "infinite", "agrees": true});
        holds("repeated-reading", &inputs, &expected);
        let four = with(&inputs, "readings", json!([5, 5, 5, 5]));
        holds("repeated-reading", &four, &json!({"standard_uncertainty": 0.001 / 12.0_f64.sqrt()}));
        let one = with(&inputs, "readings", json!([5]));
        let expected = json!({"standard_deviation": null, "range_limit": null, "agrees": true, "range": 0.0,
            "standard_uncertainty": (0.0009_f64.powi(2) + 1e-6 / 12.0).sqrt(), "degrees_of_freedom": "infinite"});
        holds("repeated-reading", &one, &expected);
    }
}
