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

fn solve(given: &Given) -> Result<Answer, Refused> {
    let measured_length = given.number("measured_length")?;
    let of_part = growth(given.number("part_expansion")?, given.number("part_temperature")?);
    let of_scale = growth(given.number("scale_expansion")?, given.number("scale_temperature")?);
    Ok(Answer::new()
        .with("length_at_20", measured_length * (1.0 + of_scale) / (1.0 + of_part))
        .with("length_correction", measured_length * (of_scale - of_part) / (1.0 + of_part))
        .with("reading_error", measured_length * (of_part - of_scale)))
}

/// Returns by which share a body is longer than at the reference temperature of ISO 1.
fn growth(expansion: f64, temperature: f64) -> f64 {
    const REFERENCE: f64 = 20.0;
    const MICRO: f64 = 1e-6;
    expansion * MICRO * (temperature - REFERENCE)
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, near, refuses, with};

    // Worked case reference_temperature of the project's own set of cases.
    #[test]
    fn a_warm_part_is_shorter_at_twenty_degrees() {
        let inputs = json!({"measured_length": 80.0125, "part_expansion": 16, "part_temperature": 26.5});
        let expected = json!({"length_at_20": 80.004_179_565_325_2, "length_correction": -0.008_320_434_674_793_821,
            "reading_error": 0.008_321_3});
        holds("thermal-length", &inputs, &expected);
        refuses("thermal-length", &with(&inputs, "measured_length", json!(0)), "measured_length");
        refuses("thermal-length", &with(&inputs, "part_temperature", json!(-273.16)), "part_temperature");
    }

    // ISO 1 and the expansion of JCGM 100 H.1 (11.5e-6): 100 mm of steel grow 5.75 um in 5 K; aluminium of 23.6e-6 on a
    // steel scale reads 6.05 um long; 250 mm of stainless of 17.2e-6 (Callister, table B.6) grow 43 um in 10 K.
    #[test]
    fn figures_of_the_handbooks() {
        let steel = json!({"measured_length": 100, "part_expansion": 11.5, "part_temperature": 25});
        holds("thermal-length", &steel, &json!({"reading_error": 0.005_75}));
        let aluminium = json!({"measured_length": 100, "part_expansion": 23.6, "part_temperature": 25,
            "scale_expansion": 11.5, "scale_temperature": 25});
        holds("thermal-length", &aluminium, &json!({"reading_error": 0.006_05}));
        let stainless = json!({"measured_length": 250, "part_expansion": 17.2, "part_temperature": 30});
        holds("thermal-length", &stainless, &json!({"reading_error": 0.043}));
    }

    // ISO 1: 20 degC are 68 degF; Callister table B.6 prints 13.1e-6 per degF beside 23.6e-6 per degC.
    #[test]
    fn degrees_fahrenheit_and_their_expansion() {
        let inputs =
            json!({"measured_length": 100, "part_expansion": "13.1 uin/(in degF)", "part_temperature": "77 degF"});
        near("thermal-length", &inputs, "reading_error", 0.0118, 0.000_05);
        let at_reference = with(&inputs, "part_temperature", json!("68 degF"));
        holds("thermal-length", &at_reference, &json!({"length_at_20": 100.0, "length_correction": 0.0}));
    }

    // Algebra: part and scale of one material and warmth need no correction.
    #[test]
    fn a_scale_of_the_same_material_grows_along() {
        let inputs = json!({"measured_length": 500, "part_expansion": 11.5, "part_temperature": 35,
            "scale_expansion": 11.5, "scale_temperature": 35});
        holds("thermal-length", &inputs, &json!({"length_at_20": 500.0, "length_correction": 0.0}));
    }
}
