//! What is a length at 20 degC that was measured warm, with a scale that may be warm too?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "thermal-length",
    version: 1,
    topic: "metrology",
    question: "What is a length at 20 degC that was measured warm, with a scale that may be warm too?",
    formula: "length_at_20 = measured_length (1 + scale_expansion (scale_temperature-20))/(1 + part_expansion \
         (part_temperature-20)); length_correction = length_at_20 - measured_length; reading_error = \
         measured_length (part_expansion (part_temperature-20) - scale_expansion (scale_temperature-20))",
    inputs: &[
        Input::quantity("measured_length", "mm", "length as read").above(0.0),
        Input::quantity("part_expansion", "um/(m K)", "expansion coefficient of the part")
            .at_least(0.0)
            .at_most(1000.0),
        Input::quantity("part_temperature", "degC", "temperature of the part").at_least(-273.15).at_most(1000.0),
        Input::quantity(
            "scale_expansion",
            "um/(m K)",
            "expansion coefficient of the scale or gauge; 0 = scale does not move",
        )
        .at_least(0.0)
        .at_most(1000.0)
        .or(0.0),
        Input::quantity("scale_temperature", "degC", "temperature of the scale")
            .at_least(-273.15)
            .at_most(1000.0)
            .or(20.0),
    ],
    outputs: &[
        Output::quantity("length_at_20", "mm", "length at 20 degC"),
        Output::quantity("length_correction", "mm", "to be added to the reading"),
        Output::quantity("reading_error", "mm", "first-order error of the reading, plus = reads long"),
    ],
    refusals: &[],
    usual_mistake: "correcting the part only: the scale grows as well; and the sign of the correction",
    validity: "even temperature, linear expansion",
    source: "ISO 1 reference temperature",
    example: r#"{"measured_length": 80.0125, "part_expansion": 16.0, "part_temperature": 26.5}"#,
    solve,
};
