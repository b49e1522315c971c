//! What is the standard tolerance of a size and grade, from the table and from the formula?

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
