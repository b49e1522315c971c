//! What is the standard tolerance of a size and grade, from the table and from the formula?

use super::limits_of_size::{standard_tolerance, tolerance_range};
use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "iso-286-tolerance",
    version: 1,
    topic: "press-fit",
    question: "What is the standard tolerance of a size and grade, from the table and from the formula?",
    formula: "table value for the range that holds the size (over .. up to and including); D = \
         sqrt(range_over*range_to) (sqrt(1*3) for the first range); i = 0.45 D^(1/3) + 0.001 D; formula_tolerance = \
         7, 10, 16, 25, 40, 64, 100 times i for grades 5..11, not rounded",
    inputs: &[
        Input::quantity("nominal_size", "mm", "nominal size").above(0.0).at_most(500.0),
        Input::count("grade", "tolerance grade IT5 to IT11").at_least(5.0).at_most(11.0),
    ],
    outputs: &[
        Output::quantity("standard_tolerance", "um", "table value"),
        Output::quantity("range_over", "mm", "lower end of the range (not included)"),
        Output::quantity("range_to", "mm", "upper end of the range (included)"),
        Output::quantity("geometric_mean", "mm", "D of the range"),
        Output::quantity("tolerance_unit", "um", "tolerance unit i"),
        Output::quantity("formula_tolerance", "um", "unrounded value of the formula, for comparison only"),
    ],
    refusals: &[],
    usual_mistake: "the formula is not the table: use the table; a size on a boundary belongs to the LOWER range",
    validity: "sizes over 0 up to and including 500 mm",
    source: "ISO 286-1",
    example: r#"{"nominal_size": 8, "grade": 7}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let size = given.number("nominal_size")?;
    let grade = given.small_count("grade")?;
    let (Some(range), Some(tolerance), Some(units)) =
        (tolerance_range(size), standard_tolerance(size, grade), tolerance_units(grade))
    else {
        return Err(Refused::undeclared("nominal_size"));
    };
    let geometric_mean = (range.over.max(SMALLEST_FOR_FORMULA) * range.to).sqrt();
    let tolerance_unit = 0.45 * geometric_mean.cbrt() + 0.001 * geometric_mean;
    Ok(Answer::new()
        .with("standard_tolerance", tolerance)
        .with("range_over", range.over)
        .with("range_to", range.to)
        .with("geometric_mean", geometric_mean)
        .with("tolerance_unit", tolerance_unit)
        .with("formula_tolerance", units * tolerance_unit))
}

/// The formula takes the first range to begin at 1 mm.
const SMALLEST_FOR_FORMULA: f64 = 1.0;

/// Returns how many tolerance units a grade is wide.
fn tolerance_units(grade: u32) -> Option<f64> {
    [7.0, 10.0, 16.0, 25.0, 40.0, 64.0, 100.0].get(usize::try_from(grade).ok()?.checked_sub(5)?).copied()
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, near, refuses, with};

    // ISO 286-1, table 1 (Narayana, Kannaiah and Reddy, Machine Drawing, table 15.1, p. 213); one size in each range, and
    // each boundary, which belongs to the lower range.
    #[test]
    fn printed_tolerances() {
        for (size, grade, tolerance) in [
            (0.001, 5, 4.0),
            (3.0, 7, 10.0),
            (3.001, 7, 12.0),
            (6.0, 11, 75.0),
            (8.0, 7, 15.0),
            (10.0, 6, 9.0),
            (18.0, 7, 18.0),
            (18.001, 7, 21.0),
            (30.0, 8, 33.0),
            (50.0, 7, 25.0),
            (80.0, 9, 74.0),
            (120.0, 10, 140.0),
            (180.0, 7, 40.0),
            (250.0, 5, 20.0),
            (315.0, 6, 32.0),
            (400.0, 8, 89.0),
            (500.0, 11, 400.0),
        ] {
            let inputs = json!({"nominal_size": size, "grade": grade});
            holds("iso-286-tolerance", &inputs, &json!({"standard_tolerance": tolerance}));
        }
    }

    // ISO 286-1:1988, A.3: i = 0.45 D^(1/3) + 0.001 D, by hand for the range over 6 to 10 mm: D = sqrt 60 = 7.745967,
    // D^(1/3) = 1.978602, i = 0.898117 um, IT7 = 16 i = 14.37 um where the table has 15.
    #[test]
    fn the_formula_is_not_the_table() {
        let inputs = json!({"nominal_size": 8, "grade": 7});
        holds("iso-286-tolerance", &inputs, &json!({"range_over": 6.0, "range_to": 10.0, "standard_tolerance": 15.0}));
        near("iso-286-tolerance", &inputs, "geometric_mean", 7.745_967, 1e-6);
        near("iso-286-tolerance", &inputs, "tolerance_unit", 0.898_117, 1e-6);
        near("iso-286-tolerance", &inputs, "formula_tolerance", 14.37, 0.005);
        let first = json!({"nominal_size": "1 um", "grade": 11.0});
        holds("iso-286-tolerance", &first, &json!({"range_over": 0.0, "geometric_mean": 3.0_f64.sqrt()}));
    }

    #[test]
    fn sizes_and_grades_beyond_the_table_are_refused() {
        let inputs = json!({"nominal_size": 8, "grade": 7});
        for (key, value) in [
            ("nominal_size", json!(0)),
            ("nominal_size", json!(500.001)),
            ("nominal_size", json!("8 deg")),
            ("grade", json!(4)),
            ("grade", json!(12)),
            ("grade", json!(6.5)),
            ("grade", json!("7")),
        ] {
            refuses("iso-286-tolerance", &with(&inputs, key, value), key);
        }
    }
}
