//! Which limits and which interference does a fit such as H7/p6 give at a nominal size?

use super::limits_of_size::{ToleranceClass, hole, shaft};
use crate::calc::{Answer, Calculation, Given, Input, Output, Refusal, Refused};

pub(super) static CALCULATION: Calculation = Calculation {
    id: "iso-286-fit",
    version: 1,
    topic: "press-fit",
    question: "Which limits and which interference does a fit such as H7/p6 give at a nominal size?",
    formula: "hole EI = minus the es of the lower-case letter (0 for H), ES = EI + IT; shaft d,e,f,g,h: es from \
         table, ei = es - IT; k,m,n,p,r,s: ei from table (k is 0 above IT7), es = ei + IT; least_interference = \
         shaft_low - hole_high; greatest_interference = shaft_high - hole_low; fit_kind: greatest <= 0 clearance, \
         least >= 0 interference, else transition",
    inputs: &[
        Input::quantity("nominal_size", "mm", "nominal size").above(0.0).at_most(120.0),
        Input::text("hole_class", "hole tolerance class: D, E, F, G or H with grade 5 to 11, for instance 'H7'"),
        Input::text(
            "shaft_class",
            "shaft tolerance class: d, e, f, g, h, k, m, n, p, r or s with grade 5 to 11, for instance 'g6'",
        ),
    ],
    outputs: &[
        Output::quantity("hole_low", "mm", "smallest hole"),
        Output::quantity("hole_high", "mm", "largest hole"),
        Output::quantity("shaft_low", "mm", "smallest shaft"),
        Output::quantity("shaft_high", "mm", "largest shaft"),
        Output::quantity("least_interference", "mm", "on diameter, minus = clearance"),
        Output::quantity("greatest_interference", "mm", "on diameter, minus = clearance"),
        Output::word("fit_kind", &["clearance", "transition", "interference"], "kind of fit"),
    ],
    refusals: &[
        Refusal::of("hole_class", "not one of the listed classes (letter case counts)"),
        Refusal::of("shaft_class", "not one of the listed classes (letter case counts)"),
    ],
    usual_mistake: "H7/p6 may reach zero interference: bore to a chosen window instead; letter case counts",
    validity: "sizes over 0 up to and including 120 mm",
    source: "ISO 286-1 and ISO 286-2",
    example: r#"{"nominal_size": 8.0, "hole_class": "H7", "shaft_class": "p6"}"#,
    solve,
};

fn solve(given: &Given) -> Result<Answer, Refused> {
    const MICROMETRES: f64 = 1000.0;
    let size = given.number("nominal_size")?;
    let hole_class = class(given, "hole_class", &["D", "E", "F", "G", "H"])?;
    let shaft_class = class(given, "shaft_class", &["d", "e", "f", "g", "h", "k", "m", "n", "p", "r", "s"])?;
    let (Some(hole), Some(shaft)) = (hole(size, hole_class), shaft(size, shaft_class)) else {
        return Err(Refused::undeclared("nominal_size"));
    };
    let (least, greatest) = (shaft.low - hole.high, shaft.high - hole.low);
    Ok(Answer::new()
        .with("hole_low", size + hole.low / MICROMETRES)
        .with("hole_high", size + hole.high / MICROMETRES)
        .with("shaft_low", size + shaft.low / MICROMETRES)
        .with("shaft_high", size + shaft.high / MICROMETRES)
        .with("least_interference", least / MICROMETRES)
        .with("greatest_interference", greatest / MICROMETRES)
        .with("fit_kind", fit_kind(least, greatest)))
}

fn class(given: &Given, key: &str, letters: &[&'static str]) -> Result<ToleranceClass, Refused> {
    let text = given.text(key)?;
    ToleranceClass::read(text, letters).ok_or_else(|| {
        let known = letters.join(", ");
        let reason = format!(
            "{key} is \"{text}\": write one of the letters {known} (small or large as here) and a grade \
             from 5 to 11."
        );
        Refused::new(key, reason)
    })
}

/// Names the kind of fit; limits that just touch are not yet a transition.
fn fit_kind(least: f64, greatest: f64) -> &'static str {
    if greatest <= 0.0 {
        "clearance"
    } else if least >= 0.0 {
        "interference"
    } else {
        "transition"
    }
}

#[cfg(test)]
mod tests {
    use serde_json::{Value, json};

    use crate::calc::check::{holds, refuses, with};

    fn fit(nominal_size: f64, hole_class: &str, shaft_class: &str) -> Value {
        json!({"nominal_size": nominal_size, "hole_class": hole_class, "shaft_class": shaft_class})
    }

    // Worked case fit_8_H7_p6 of the project's own set of cases.
    #[test]
    fn the_fit_of_a_pin() {
        let expected = json!({"hole_low": 8.0, "hole_high": 8.015, "shaft_low": 8.015, "shaft_high": 8.024,
            "least_interference": 0.0, "greatest_interference": 0.024, "fit_kind": "interference"});
        holds("iso-286-fit", &fit(8.0, "H7", "p6"), &expected);
    }

    // ISO 286-2 limits, from printed copies; ANSI B4.2-1978 notes that H7/p6 is a transition fit up to 3 mm. Least and
    // greatest interference in um.
    #[test]
    fn fits_agree_with_printed_limits() {
        for (size, hole, shaft, least, greatest, kind) in [
            (25.0, "H7", "g6", -41.0, -7.0, "clearance"),
            (50.0, "H7", "p6", 1.0, 42.0, "interference"),
            (3.0, "H7", "p6", -4.0, 12.0, "transition"),
            (3.001, "H7", "p6", 0.0, 20.0, "interference"),
            (1.5, "H7", "m6", -8.0, 8.0, "transition"),
            (25.0, "H7", "h6", -34.0, 0.0, "clearance"),
            (25.0, "H7", "k6", -19.0, 15.0, "transition"),
            (25.0, "H7", "n6", -6.0, 28.0, "transition"),
            (25.0, "H7", "s6", 14.0, 48.0, "interference"),
            (12.0, "H8", "f7", -61.0, -16.0, "clearance"),
            (18.0, "H7", "g6", -35.0, -6.0, "clearance"),
            (18.001, "H7", "g6", -41.0, -7.0, "clearance"),
            (30.0, "H7", "p6", 1.0, 35.0, "interference"),
            (30.001, "H7", "p6", 1.0, 42.0, "interference"),
            (100.0, "H7", "r6", 16.0, 73.0, "interference"),
            (16.0, "F8", "h6", -54.0, -16.0, "clearance"),
            (80.0, "H7", "s6", 29.0, 78.0, "interference"),
        ] {
            let expected = json!({"least_interference": least / 1000.0, "greatest_interference": greatest / 1000.0,
                "fit_kind": kind});
            holds("iso-286-fit", &fit(size, hole, shaft), &expected);
        }
    }

    // Narayana, Kannaiah and Reddy, Machine Drawing, p. 225: 100 H7/p6 has 0.059 and 0.002 mm, 50 H7/f7 has clearance
    // 0.025 to 0.075 with a shaft of 49.950 to 49.975 (misprinted there as 49.050 to 49.075).
    #[test]
    fn textbook_fits_and_a_misprint() {
        let press = fit(100.0, "H7", "p6");
        holds("iso-286-fit", &press, &json!({"least_interference": 0.002, "greatest_interference": 0.059}));
        let running = fit(50.0, "H7", "f7");
        holds(
            "iso-286-fit",
            &running,
            &json!({"least_interference": -0.075, "greatest_interference": -0.025,
            "shaft_low": 49.95, "shaft_high": 49.975}),
        );
    }

    #[test]
    fn classes_and_sizes_that_are_not_listed_are_refused() {
        let inputs = fit(8.0, "H7", "p6");
        for hole in ["h7", "K7", "P7", "JS7", "C11", "H4", "H12", "H", "", "H 7", "H7/p6", "hé"] {
            refuses("iso-286-fit", &with(&inputs, "hole_class", json!(hole)), "hole_class");
        }
        for shaft in ["P6", "js6", "c11", "t6", "p12", "p06", "p", "6p"] {
            refuses("iso-286-fit", &with(&inputs, "shaft_class", json!(shaft)), "shaft_class");
        }
        refuses("iso-286-fit", &with(&inputs, "nominal_size", json!(120.001)), "nominal_size");
        refuses("iso-286-fit", &with(&inputs, "nominal_size", json!(0)), "nominal_size");
        refuses("iso-286-fit", &with(&inputs, "hole_class", json!(7)), "hole_class");
    }

    #[test]
    fn every_listed_class_has_limits_at_every_size() {
        for size in [1e-25, 3.0, 6.0, 10.0, 14.0, 18.0, 24.0, 30.0, 40.0, 50.0, 65.0, 80.0, 100.0, 119.0, 120.0] {
            for grade in 5..=11 {
                for (hole, shaft) in "DEFGHHHHHHH".chars().zip("defghkmnprs".chars()) {
                    let inputs = fit(size, &format!("{hole}{grade}"), &format!("{shaft}{grade}"));
                    crate::calc::check::answer("iso-286-fit", &inputs);
                }
            }
        }
    }
}
