//! Does the indicator show what the machine was jogged?

use crate::calc::{Answer, Calculation, Given, Input, Output, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "indicator-factor",
    version: 1,
    topic: "metrology",
    question: "Does the indicator show what the machine was jogged, and if not, what slip does it point to?",
    formula: "factor = shown/jogged; diagnosis: within 2 % of 1 good, up to 15 % above it reads-high, within 10 % of -1 \
         wrong-way, 10 times-10, 0.1 divided-by-10, 25.4 times-25.4, 1/25.4 divided-by-25.4; else unexplained",
    inputs: &[
        Input::quantity("shown", "mm", "movement that the needle showed, with its sign"),
        Input::quantity("jogged", "mm", "movement of the machine by its display, with its sign").nonzero(),
    ],
    outputs: &[
        Output::quantity("factor", "1", "shown over true"),
        Output::word(
            "diagnosis",
            &[
                "good",
                "reads-high",
                "wrong-way",
                "times-10",
                "divided-by-10",
                "times-25.4",
                "divided-by-25.4",
                "unexplained",
            ],
            "name of the slip",
        ),
    ],
    refusals: &[],
    usual_mistake: "taking a division of 0.001 for one of 0.01",
    validity: "the jog is well inside the indicator's travel, and the machine's display is right",
    source: "ratio of seen to expected; common practice",
    example: r#"{"shown": 0.1, "jogged": 0.1}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    const SLIPS: [(f64, &str); 5] = [
        (-1.0, "wrong-way"),
        (10.0, "times-10"),
        (0.1, "divided-by-10"),
        (25.4, "times-25.4"),
        (1.0 / 25.4, "divided-by-25.4"),
    ];
    let factor = given.number("shown")? / given.number("jogged")?;
    let slip = SLIPS.iter().find(|(ratio, _)| (factor / ratio - 1.0).abs() <= 0.1);
    let diagnosis = match slip {
        _ if (0.98 - 1e-9..=1.02 + 1e-9).contains(&factor) => "good",
        _ if (1.02..=1.15 + 1e-9).contains(&factor) => "reads-high",
        Some((_, name)) => name,
        None => "unexplained",
    };
    Ok(Answer::new().with("factor", factor).with("diagnosis", diagnosis))
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use crate::calc::check::{holds, refuses};

    // Common practice (indicator factor 0.98 to 1.02), and the table of gains and causes of the level.
    #[test]
    fn every_slip_has_its_name() {
        for (shown, jogged, name) in [
            (0.1, 0.1, "good"),
            (0.098, 0.1, "good"),
            (0.106, 0.1, "reads-high"),
            (-0.1, 0.1, "wrong-way"),
            (1.0, 0.1, "times-10"),
            (0.0101, 0.1, "divided-by-10"),
            (-2.54, -0.1, "times-25.4"),
            (0.003_94, 0.1, "divided-by-25.4"),
            (0.07, 0.1, "unexplained"),
        ] {
            let inputs = json!({"shown": shown, "jogged": jogged});
            holds("indicator-factor", &inputs, &json!({"factor": shown / jogged, "diagnosis": name}));
        }
        refuses("indicator-factor", &json!({"shown": 0.1, "jogged": 0}), "jogged");
    }
}
