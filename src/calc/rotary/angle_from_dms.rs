//! What is an angle in degrees, minutes and seconds as decimal degrees, and what if it were typed as a decimal?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "angle-from-dms",
    version: 1,
    topic: "rotary",
    question: "What is an angle in degrees, minutes and seconds as decimal degrees, and what if it were typed as a \
         decimal?",
    formula: "decimal_angle = sign*(degrees + minutes/60 + seconds/3600); if_typed_as_decimal = sign*(degrees + \
         minutes/100 + seconds/10000); typing_error = if_typed_as_decimal - decimal_angle",
    inputs: &[
        Input::count("degrees", "whole degrees").at_least(0.0),
        Input::count("minutes", "whole minutes").at_least(0.0).at_most(59.0),
        Input::quantity("seconds", "arcsec", "seconds").at_least(0.0).below(60.0).or(0.0),
        Input::word("sign", &["plus", "minus"], "sign of the whole angle").or_word("plus"),
    ],
    outputs: &[
        Output::quantity("decimal_angle", "deg", "decimal degrees"),
        Output::quantity("if_typed_as_decimal", "deg", "what the digits mean when typed as a decimal"),
        Output::quantity("typing_error", "deg", "error of that mistake"),
    ],
    refusals: &[],
    usual_mistake: "22 deg 30 min is not 22.30",
    validity: "none",
    source: "definition",
    example: r#"{"degrees": 22, "minutes": 30, "seconds": 18}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    let (whole, minutes, seconds) = (given.number("degrees")?, given.number("minutes")?, given.number("seconds")?);
    let sign = if given.word("sign")? == "plus" { 1.0 } else { -1.0 };
    let decimal_angle = sign * (whole + minutes / 60.0 + seconds / 3600.0);
    let if_typed_as_decimal = sign * (whole + minutes / 100.0 + seconds / 10_000.0);
    Ok(Answer::new()
        .with("decimal_angle", decimal_angle)
        .with("if_typed_as_decimal", if_typed_as_decimal)
        .with("typing_error", if_typed_as_decimal - decimal_angle))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, near, refuses, with};

    // Worked case dms_to_decimal of the project's own set of cases.
    #[test]
    fn minutes_are_sixtieths() {
        let inputs = json!({"degrees": 22, "minutes": 30, "seconds": 18});
        let expected = json!({"decimal_angle": 22.505, "if_typed_as_decimal": 22.3018, "typing_error": -0.2032});
        holds("angle-from-dms", &inputs, &expected);
        let negative = with(&inputs, "sign", json!("minus"));
        let expected = json!({"decimal_angle": -22.505, "if_typed_as_decimal": -22.3018, "typing_error": 0.2032});
        holds("angle-from-dms", &negative, &expected);
        holds("angle-from-dms", &with(&inputs, "seconds", json!("0.3 arcmin")), &json!({"decimal_angle": 22.505}));
    }

    // Walsh, Handbook of Machining and Metalworking Calculations, chapter 4: the 5 in sine bar at 34 deg 25 min stands
    // 2.826 in high.
    #[test]
    fn a_printed_sine_bar_setting_comes_out() {
        let answer = crate::calc::check::answer("angle-from-dms", &json!({"degrees": 34, "minutes": 25}));
        let height = 5.0 * answer["decimal_angle"]["value"].as_f64().unwrap().to_radians().sin();
        assert!((height - 2.826).abs() < 0.0005);
        near("angle-from-dms", &json!({"degrees": 34, "minutes": 25}), "decimal_angle", 34.416_667, 5e-7);
    }

    #[test]
    fn minutes_and_seconds_end_at_sixty() {
        let inputs = json!({"degrees": 22, "minutes": 30, "seconds": 18});
        refuses("angle-from-dms", &with(&inputs, "minutes", json!(60)), "minutes");
        refuses("angle-from-dms", &with(&inputs, "minutes", json!(30.5)), "minutes");
        refuses("angle-from-dms", &with(&inputs, "degrees", json!("22")), "degrees");
        refuses("angle-from-dms", &with(&inputs, "degrees", json!(-22)), "degrees");
        refuses("angle-from-dms", &with(&inputs, "seconds", json!(60)), "seconds");
        refuses("angle-from-dms", &with(&inputs, "sign", json!("+")), "sign");
    }
}
